# SPDX-License-Identifier: BSD-3-Clause
"""What the brain knows of a ring before it is switched on: bands, limits, travel, the drive's slack."""

import math
from dataclasses import dataclass

from ringwright.errors import OutOfRangeError

MOST_SWR = 2.0
"""SWR above which power is not raised: transmitters begin to fold back above; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """One band of the design.

    `half_width` is the detuning [Hz] at which half of the dip's depth is left, half of the loaded half-power bandwidth
    (for a ring matched to its line: the half-power bandwidth f0/Q0 of the ring alone). `best_swr` is the SWR that the
    design promises at the dip's bottom, `power_limit` the most power [W] it may be given here.
    """

    name: str
    low: float
    high: float
    power_limit: float
    half_width: float
    best_swr: float

    def __post_init__(self) -> None:
        for name in ("low", "high", "power_limit", "half_width"):
            _expect_positive(self, name)
        if self.low >= self.high:
            raise OutOfRangeError(
                f"band {self.name}: low ({self.low} Hz) must be below high ({self.high} Hz)"
            )
        if not (math.isfinite(self.best_swr) and self.best_swr >= 1.0):
            raise OutOfRangeError(
                f"band {self.name}: best_swr must be finite and at least 1, got {self.best_swr}"
            )

    def holds(self, frequency: float) -> bool:
        """Whether a frequency [Hz] lies in the band, its edges included."""
        return self.low <= frequency <= self.high


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """A ring and its drive, as far as tuning needs them. Counts and lengths in steps of the drive.

    `low_end`, `high_end`: soft ends, never passed; a capacitor without end stops (`steps_per_turn` given) may have them
    None. `has_end_stop`: the board can seek a reference at the low end. `slack`: most that backlash and windup together
    may take up when the drive turns round. `speed` [steps/s]: the drive's own; `seek_speed` that towards the end stop,
    None where the board has not said it: then half of that. `tuning_power` [W] is the carrier asked for, `tuning_limit`
    [W] the forward power above which nothing moves. `reading_noise`: standard deviation of one reading of the
    reflectometer, relative to it. `most_swr`: SWR above which power is not raised.
    """

    bands: tuple[Band, ...]
    low_end: int | None
    high_end: int | None
    has_end_stop: bool
    steps_per_turn: int | None
    slack: int
    speed: float
    seek_speed: float | None = None
    tuning_power: float = 4.0  # leaves room for a meter that reads a quarter too much
    tuning_limit: float = 5.0  # common practice, no source: what a transmitter's own tuning carrier gives
    reading_noise: float = 0.035
    most_swr: float = MOST_SWR

    def __post_init__(self) -> None:
        for name in ("speed", "tuning_power", "tuning_limit", "reading_noise"):
            _expect_positive(self, name)
        if not self.bands:
            raise OutOfRangeError("a ring to tune needs at least one band")
        if self.tuning_power >= self.tuning_limit:
            raise OutOfRangeError(
                f"tuning_power ({self.tuning_power} W) must be below tuning_limit ({self.tuning_limit} W)"
            )
        if not (math.isfinite(self.most_swr) and self.most_swr > 1.0):
            raise OutOfRangeError(f"most_swr must be finite and above 1, got {self.most_swr}")
        if self.slack < 0:
            raise OutOfRangeError(f"slack must not be negative, got {self.slack} steps")
        self._expect_travel()

    def _expect_travel(self) -> None:
        if self.steps_per_turn is None:
            if self.low_end is None or self.high_end is None:
                raise OutOfRangeError("low_end and high_end must be given where the capacitor has end stops")
        elif self.steps_per_turn < 2:
            raise OutOfRangeError(f"steps_per_turn must be at least 2, got {self.steps_per_turn}")
        if self.low_end is not None and self.high_end is not None and self.low_end >= self.high_end:
            raise OutOfRangeError(f"low_end ({self.low_end}) must be below high_end ({self.high_end})")
        if self.has_end_stop and self.low_end is None:
            raise OutOfRangeError("a drive with an end stop needs its low_end")

    def band_of(self, frequency: float) -> Band | None:
        """The band that a frequency [Hz] lies in."""
        return next((band for band in self.bands if band.holds(frequency)), None)

    def within_ends(self, position: float) -> int:
        """The whole step nearest to a position that lies between the soft ends."""
        step = round(position)
        if self.low_end is not None:
            step = max(step, self.low_end)
        if self.high_end is not None:
            step = min(step, self.high_end)
        return step


def _expect_positive(value: Band | Ring, name: str) -> None:
    number = getattr(value, name)
    if not (math.isfinite(number) and number > 0.0):
        raise OutOfRangeError(f"{name} must be finite and above 0, got {number}")
