# SPDX-License-Identifier: BSD-3-Clause
"""A person's own design as the brain is told of it, and as the simulated twin has it: a little other than designed."""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ringwright.antenna.capacitor import range_at_gap, series_impedance
from ringwright.antenna.design import Design
from ringwright.antenna.drive_resolution import turns_per_step
from ringwright.antenna.drive_shaft import windup
from ringwright.antenna.network import FEED, GAP
from ringwright.antenna.prediction import BandPrediction, Prediction
from ringwright.tuner.brain import Band, Ring
from ringwright.tuner.table_law import Law

TUNING_LIMIT = 5.0
"""[W] that a band is given at most whose capacitor's rating is not stated."""
ALONE = 0.01
"""Half of the width, of the frequency, that a single frequency to tune to is given as a band."""
_LOSS_ROWS = 33


def told_ring(design: Design, prediction: Prediction, law: Law) -> Ring:
    """What the brain needs to know of a design with a drive."""
    drive = design.drive
    assert drive is not None  # the law has seen it
    return Ring(
        bands=told_bands(prediction),
        low_end=0,
        high_end=law.last,
        has_end_stop=True,
        steps_per_turn=None,
        slack=math.ceil(slack_of(design)),
        speed=drive.speed * drive.steps_per_turn * drive.microsteps,
    )


def told_bands(prediction: Prediction) -> tuple[Band, ...]:
    """The bands of a design, each with what it takes."""
    return tuple(_told_band(band) for band in prediction.bands)


def slack_of(design: Design) -> float:
    """What backlash and windup together may take up when the drive turns round [steps]."""
    backlash, twist = play_of(design)
    return backlash + 2.0 * twist


def play_of(design: Design) -> tuple[float, float]:
    """Backlash, and the windup that breaks the rotor loose [steps]."""
    drive = design.drive
    assert drive is not None
    per_radian = 1.0 / (2.0 * math.pi * turns_per_step(drive))
    angle, _ = windup(drive, design.capacitor)
    return drive.backlash * per_radian, angle * per_radian


def _told_band(band: BandPrediction) -> Band:
    target, frequency = band.point.target, band.frequency
    low, high = target.low, target.high
    if low >= high:
        low, high = frequency * (1.0 - ALONE), frequency * (1.0 + ALONE)
    best = band.match.swr_min
    coupling = best if band.point.tuned.is_over_coupled(band.match.frequency) else 1.0 / best
    limit = band.limits.power_max
    return Band(
        name=band.band or f"{frequency / 1e6:.4f} MHz",
        low=low,
        high=high,
        power_limit=TUNING_LIMIT if limit is None else limit,
        half_width=band.bandwidth_half_power * (1.0 + coupling) / 2.0,
        best_swr=best,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Off:
    """How a twin differs from its design: in proportion, by a stray capacitance [F], and in its drift by a factor."""

    scale: float
    stray: float
    drift_times: float


class DesignRing:
    """The design's predicted network with the capacitor where the rotor truly stands."""

    def __init__(self, design: Design, prediction: Prediction, law: Law, *, off: Off) -> None:
        self._capacitor, self._bands, self._law, self._off = design.capacitor, prediction.bands, law, off
        self._reference = design.feedline.impedance
        self._drift = law.per_kelvin * off.drift_times
        self._seen_at = lru_cache(maxsize=8)(self._network_at)

    def farads(self, rotor: float) -> float:
        """Across the gap, as the design would have to have it to behave like this ring [F]."""
        place = min(max(rotor, 0.0), float(self._law.last))
        return self._law.farads.at(place) * (1.0 + self._off.scale) + self._off.stray

    def resonance(self, rotor: float, kelvin: float) -> float:
        """Frequency of the least reflection [Hz]."""
        return self._law.frequency_of(self.farads(rotor)) * (1.0 + self._drift * kelvin)

    def reflected_share(self, frequency: float, rotor: float, kelvin: float) -> float:
        """Reflected over forward power at the feed."""
        feed, across, gap, farads, losses = self._seen_at(frequency)
        here = self.farads(rotor) / (1.0 + self._drift * kelvin) ** 2
        loss = float(np.interp(here, farads, losses))
        seen = feed - across**2 / (gap + loss - 1j / (2.0 * math.pi * frequency * here))
        return min(abs((seen - self._reference) / (seen + self._reference)) ** 2, 1.0)

    def place_showing(self, frequency: float, kelvin: float) -> float:
        """Where the rotor stands for this resonance [Hz]: `resonance` the other way round."""
        across = self._law.farads_showing(frequency / (1.0 + self._drift * kelvin))
        return self._law.farads.inverse((across - self._off.stray) / (1.0 + self._off.scale))

    def half_power_steps(self, frequency: float) -> float:
        """Half-power bandwidth of the unloaded ring there [steps]."""
        band = self.band_at(frequency)
        place = self._law.farads.inverse(self._law.farads_showing(frequency))
        per_step = abs(self.resonance(place + 1.0, 0.0) - self.resonance(place, 0.0))
        return band.bandwidth_half_power / per_step

    def band_at(self, frequency: float) -> BandPrediction:
        """The band nearest to a frequency."""
        return min(self._bands, key=lambda band: abs(band.frequency - frequency))

    def _network_at(self, frequency: float) -> tuple[complex, complex, complex, list[float], list[float]]:
        """What does not change while the capacitor turns: impedances [ohm], and losses [ohm] by farads."""
        f = np.array([frequency])
        z = self.band_at(frequency).point.tuned.network.impedance(f)[0]
        low, high = range_at_gap(self._capacitor)
        farads = [float(each) for each in np.geomspace(0.5 * low, 2.0 * high, _LOSS_ROWS)]
        own = [complex(series_impedance(self._capacitor, each, f)[0]) for each in farads]
        leads = own[0].imag + 1.0 / (2.0 * math.pi * frequency * farads[0])
        gap = complex(z[GAP, GAP]) + 1j * leads
        return complex(z[FEED, FEED]), complex(z[FEED, GAP]), gap, farads, [each.real for each in own]
