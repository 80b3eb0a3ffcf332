# SPDX-License-Identifier: BSD-3-Clause
"""The reflectometer at the board: what it makes of the power that passes it."""

import random
from dataclasses import dataclass

FOLDS_ABOVE_SHARE = 0.25
"""Reflected share at SWR 3, beyond which transmitters fold back; common practice, no source."""


def folded_forward(power: float, reflected_share: float) -> float:
    """Forward power [W] of a transmitter set to `power`, which lets no more come back than at SWR 3."""
    return power * min(1.0, FOLDS_ABOVE_SHARE / max(reflected_share, 1e-12))


def diode_reading(power: float, knee: float) -> float:
    """What a diode detector reads of a power [W] that is right far above `knee` [W].

    Its output voltage goes with the square of a small input voltage and follows a large one: the reading goes with
    the square of a small power. The square-law region and its end are textbook (D. M. Pozar, Microwave Engineering,
    sec. 11.3, from memory); the smooth way between is ours.
    """
    return power * power / (power + knee) if power > 0.0 else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterFacts:
    """`period`: a reading takes and averages over it [s]; `noise`: relative standard deviation; `offset` [W]."""

    period: float
    noise: float
    knee: float
    offset: float


class Meter:
    """Averages forward and reflected power over its period."""

    def __init__(self, facts: MeterFacts, rng: random.Random) -> None:
        self.facts, self._rng = facts, rng
        self.is_dead = False
        self._forward = self._reflected = self._seconds = 0.0

    def pass_time(self, seconds: float, forward: float, reflected: float) -> None:
        """Let power [W] pass for a while."""
        self._forward += forward * seconds
        self._reflected += reflected * seconds
        self._seconds += seconds

    def take(self) -> tuple[float, float]:
        """Forward and reflected power [W] as read since the last reading; a new one begins."""
        seconds = max(self._seconds, 1e-9)
        means = self._forward / seconds, self._reflected / seconds
        self._forward = self._reflected = self._seconds = 0.0
        if self.is_dead:
            return 0.0, 0.0
        return self._read(means[0]), self._read(means[1])

    def _read(self, power: float) -> float:
        facts = self.facts
        read = diode_reading(power, facts.knee) * (1.0 + self._rng.gauss(0.0, facts.noise))
        return max(0.0, read + facts.offset * (1.0 + self._rng.gauss(0.0, 0.2)))
