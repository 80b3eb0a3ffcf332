# SPDX-License-Identifier: BSD-3-Clause
"""How far a motor has come on its way: speed up, cruise, slow down to rest. Plain Python that MicroPython runs, too.

A closed form of time, so that the pulses made do not depend on how often one looks.
"""

import math


class Ramp:
    """One motion over `distance` steps from `start` [ms] on, coming to rest at its end.

    `pace`: speed at the start, `speed`: most [steps/s]; `acceleration` [steps/s^2], None for a motor that follows at
    once. Too little way to slow down in is slowed down in harder.
    """

    def __init__(self, start: int, distance: int, *, speed: int, acceleration, pace: float = 0.0) -> None:
        self.start, self.distance, self.speed = start, distance, speed
        self._pulls = acceleration
        if acceleration is None:
            self.end = start - (-distance * 1000 // speed)
            return
        pull = float(acceleration)
        if pace * pace > 2.0 * pull * distance:
            pull = pace * pace / (2.0 * max(distance, 1))
        top = min(float(speed), math.sqrt(pull * distance + pace * pace / 2.0))
        if distance == 0:
            top = pace = 0.0
        self._pull, self._pace, self._top = pull, pace, top
        self._changing = abs(top - pace) / pull
        self._changed = self._changing * (top + pace) / 2.0
        self._braking = top / pull
        cruised = max(0.0, distance - self._changed - top * self._braking / 2.0)
        self._cruising = cruised / top if top > 0.0 else 0.0
        self._lasts = self._changing + self._cruising + self._braking
        self.end = start + math.ceil(1000.0 * self._lasts)

    def gone(self, ms: int) -> int:
        """Whole steps made until then."""
        if ms >= self.end:
            return self.distance
        if ms <= self.start:
            return 0
        if self._pulls is None:
            return (ms - self.start) * self.speed // 1000
        seconds = (ms - self.start) / 1000.0
        if seconds < self._changing:
            steps = seconds * (self._pace + self.pace(ms)) / 2.0
        elif seconds < self._changing + self._cruising:
            steps = self._changed + self._top * (seconds - self._changing)
        else:
            left = self._lasts - seconds
            steps = self.distance - self._pull * left * left / 2.0
        return min(max(0, int(steps)), self.distance)

    def pace(self, ms: int) -> float:
        """Steps per second at that moment."""
        if ms >= self.end:
            return 0.0
        if self._pulls is None:
            return float(self.speed)
        seconds = max(0, ms - self.start) / 1000.0
        if seconds < self._changing:
            way = self._pull if self._top > self._pace else -self._pull
            return self._pace + way * seconds
        if seconds < self._changing + self._cruising:
            return self._top
        return self._pull * (self._lasts - seconds)
