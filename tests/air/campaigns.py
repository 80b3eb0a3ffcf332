# SPDX-License-Identifier: BSD-3-Clause
"""Campaigns made up with a known truth: what an A/B comparison has to find through fading, bias and wrong powers."""

from dataclasses import dataclass

import numpy as np

from ringwright.air.locator import Place
from ringwright.air.reports import Reports

START = 1_767_225_600.0  # 2026-01-01T00:00:00Z


@dataclass(frozen=True, slots=True, kw_only=True)
class Campaign:
    """How a campaign is made; levels in dB, times in seconds. Antenna A is `true_db` better than B."""

    reports: int
    true_db: float
    receivers: int = 40
    slot: float = 600.0
    offsets: float = 8.0
    differs: float = 0.8
    day: float = 8.0
    fading: float = 3.0
    slot_fading: float = 1.0
    noise: float = 2.0
    tail: float = 3.0
    bias: float = 0.3
    wrong: float = 0.05
    wild: int = 0
    floor: float | None = None


def made(campaign: Campaign, rng: np.random.Generator) -> Reports:
    """The reports of a campaign."""
    c = campaign
    every = 120.0
    slots = max(int(c.reports / (c.slot / every * c.receivers * 0.25)), 24)
    sent = np.arange(slots * int(c.slot / every)) * every
    slot = (sent // c.slot).astype(int)
    phase = 2.0 * np.pi * (sent / 86_400.0 + rng.uniform())
    at_slot = 0.5 + c.bias * np.sin(phase[:: int(c.slot / every)])
    is_a = (rng.uniform(size=slots) < at_slot)[slot]
    fading = _fading(len(sent), every, rng=rng) * c.fading + rng.normal(size=slots)[slot] * c.slot_fading
    sky = c.day * np.sin(phase) + fading
    active = rng.dirichlet(np.full(c.receivers, 1.5))
    count = c.reports if c.floor is None else 4 * c.reports
    which, of = rng.integers(len(sent), size=count), rng.choice(c.receivers, size=count, p=active)
    _, once = np.unique(which * c.receivers + of, return_index=True)
    which, of = which[np.sort(once)], of[np.sort(once)]
    own = c.true_db + rng.normal(size=c.receivers) * c.differs
    own[: c.wild] += rng.choice([-15.0, 15.0], size=c.wild)
    # Only some receivers open with the sky: naive averages then also meet another set of receivers.
    level = -15.0 + (rng.normal(size=c.receivers) * c.offsets)[of] + sky[which] + is_a[which] * own[of]
    snr = level + rng.standard_t(c.tail, size=len(of)) * c.noise
    power = np.full(len(of), 5.0)
    is_wrong = rng.uniform(size=len(of)) < c.wrong
    power[is_wrong] *= rng.choice([0.1, 2.0, 10.0], size=int(is_wrong.sum()))
    heard = np.flatnonzero(snr > (-np.inf if c.floor is None else c.floor))[: c.reports]
    which, of, snr, power = which[heard], of[heard], snr[heard], power[heard]
    return reports_of(
        START + sent[which], receiver=of, snr=np.round(snr), power=power, antenna=1 - is_a[which]
    )


def _fading(count: int, every: float, *, rng: np.random.Generator) -> np.ndarray:
    keeps = np.exp(-every / 1800.0)
    noise = rng.normal(size=count) * np.sqrt(1.0 - keeps**2)
    level = np.empty(count)
    level[0] = rng.normal()
    for step in range(1, count):
        level[step] = keeps * level[step - 1] + noise[step]
    return level


def reports_of(
    time: np.ndarray, *, receiver: np.ndarray, snr: np.ndarray, power: np.ndarray, antenna: np.ndarray
) -> Reports:
    """Reports of receivers at no place, on 40 m; antenna 0 is A, 1 is B."""
    count = len(time)
    none, zero = np.full(count, -1, dtype=np.int32), np.zeros(count, dtype=np.int32)
    return Reports(
        time=time,
        frequency=np.full(count, 7.04e6),
        snr=snr.astype(float),
        power=power,
        band=zero + 6,
        receiver=receiver.astype(np.int32),
        place=none,
        mode=none,
        antenna=antenna.astype(np.int32),
        heard_me=np.ones(count, dtype=bool),
        receivers=tuple(f"QX{number:03d}" for number in range(int(receiver.max()) + 1)),
        places=(Place(latitude=0.0, longitude=0.0, uncertainty=1.0),),
        modes=(),
        antennas=("A", "B"),
        own_locator=None,
    )
