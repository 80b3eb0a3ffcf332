# SPDX-License-Identifier: BSD-3-Clause
"""How the ring warms while it is driven, and cools after."""

import math


class Warmth:
    """One body that warms by `rise` [K/W] of accepted power with a time constant [s]."""

    def __init__(self, rise: float, time_constant: float) -> None:
        self._rise, self._time_constant = rise, time_constant
        self.kelvin = 0.0

    def advance(self, seconds: float, watts: float) -> None:
        """Let time pass at constant power; exact for any length of time."""
        if watts == 0.0 and self.kelvin == 0.0:
            return
        final = self._rise * watts
        self.kelvin = final + (self.kelvin - final) * math.exp(-seconds / self._time_constant)
