# SPDX-License-Identifier: BSD-3-Clause
"""The dip in reflected power as the ring passes through resonance, and one reading of it."""

import math
from dataclasses import dataclass

POINTS = (0.5 - 0.5 * math.sqrt(0.6), 0.5, 0.5 + 0.5 * math.sqrt(0.6), 1.0)
"""Where a stretch is looked at: the three points of Gauss's rule, and its end, where a drive may have rested."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One reading that counts as evidence, a mean over a stretch of the travel.

    `start` and `end` are counts of steps where the averaging began and ended, equal where the drive stood; `detunings`
    the same two places by the tuning curve, in expected half-widths from the frequency sought, growing with the count;
    `shares`: parts of the time spent about POINTS of the stretch. `blur`: standard deviation of the place, in the same
    half-widths. `forward`, `reflected`: powers [W] as read; `at` the
    time [s], `taken` the board's [ms], the same in a line that came twice.
    """

    start: int
    end: int
    detunings: tuple[float, float]
    shares: tuple[float, float, float, float]
    blur: float
    forward: float
    reflected: float
    at: float
    taken: int

    @property
    def reflection(self) -> float:
        """Reflected over forward power, as read."""
        return min(self.reflected / self.forward, 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Dip:
    """Reflected over forward power: `floor` - `depth` / (1 + x^2), x = (position - centre) / half_width.

    Positions and lengths in steps, near the centre; `centre_sigma` is the standard deviation of the centre. `promised`:
    reflected over forward power at the bottom by the design; about a deep one the SWR rises most steeply.
    """

    centre: float
    centre_sigma: float
    half_width: float
    floor: float
    depth: float
    promised: float = 1.0

    def reflection(self, position: float) -> float:
        """Reflected over forward power, at rest at a position."""
        x = (position - self.centre) / self.half_width
        return min(max(self.floor - self.depth / (1.0 + x * x), 0.0), 1.0)

    def swr(self, position: float) -> float:
        """SWR at a position; infinite where all is reflected."""
        return swr_of(self.reflection(position))


def swr_of(reflection: float) -> float:
    """SWR for a ratio of reflected to forward power; infinite from 1 on."""
    if reflection >= 1.0:
        return math.inf
    size = math.sqrt(max(reflection, 0.0))
    return (1.0 + size) / (1.0 - size)
