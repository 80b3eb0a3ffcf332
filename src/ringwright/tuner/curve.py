# SPDX-License-Identifier: BSD-3-Clause
"""What frequency belongs to what position of the drive, as the brain sees it."""

from typing import Protocol


class TuningCurve(Protocol):
    """Resonant frequency [Hz] against the drive's count of steps, strictly monotone, at a temperature [deg C].

    Counts are those of a drive that came to them from below, from smaller counts. A temperature of None: none was
    measured. A capacitor without end stops repeats: there the curve holds from 0 to half of `Ring.steps_per_turn`.
    """

    def frequency(self, position: float, temperature_c: float | None) -> float:
        """Frequency [Hz] at a position; beyond its ends the curve goes on straight."""
        ...

    def position(self, frequency: float, temperature_c: float | None) -> float:
        """Position [steps] for a frequency; beyond its ends the curve goes on straight."""
        ...

    def sigma(self, frequency: float) -> float:
        """Standard deviation [steps] of `position` there, with all that may have changed since."""
        ...
