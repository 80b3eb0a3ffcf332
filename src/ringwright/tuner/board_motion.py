# SPDX-License-Identifier: BSD-3-Clause
"""Where the motor stands and how it goes where it shall. Plain Python that MicroPython runs, too."""

import math

from ringwright.tuner.board_ramp import Ramp

BRAKE_MS = 50
"""In which a drive that must stop stands, however fast it was."""


class Motion:
    """`at`: the count, `to`: the goal told, `owed`: pulses counted that the caller has not yet been given."""

    def __init__(self, at: int) -> None:
        self.at = at
        self.to: int | None = None
        self.moving = self.braking = False
        self.was_hard = False
        self.owed = 0
        self.way = 1
        self._made = 0
        self._then: tuple[int, int, int] | None = None
        self._ramp = Ramp(0, 0, speed=1, acceleration=None)

    def begin(self, to: int, ms: int, *, speed: int, acceleration) -> None:
        """Go to a count, from rest or on the way elsewhere; a drive with mass slows down before it turns round."""
        left = abs(to - self.at)
        way = 1 if to > self.at else -1
        ramp = self._ramp
        self._then = None
        if not self.moving:
            self._start(way, Ramp(ms, left, speed=speed, acceleration=acceleration))
        elif acceleration is None:
            goes_on = way == self.way and speed == ramp.speed
            start, made = (ramp.start, self._made) if goes_on else (ms, 0)
            self._start(way, Ramp(start, made + left, speed=speed, acceleration=None))
            self._made = made
        else:
            pace = ramp.pace(ms)
            needed = math.ceil(pace * pace / (2.0 * acceleration))
            if way == self.way and needed <= left:
                self._start(way, Ramp(ms, left, speed=speed, acceleration=acceleration, pace=pace))
            else:
                self._start(
                    self.way, Ramp(ms, needed, speed=ramp.speed, acceleration=acceleration, pace=pace)
                )
                self._then = (to, speed, acceleration)
        self.to, self.moving, self.braking = to, True, False

    def _start(self, way: int, ramp: Ramp) -> None:
        self.way, self._ramp, self._made = way, ramp, 0

    def advance(self, ms: int) -> bool:
        """Count the steps due until then; whether the drive came to rest."""
        while self.moving:
            steps = max(0, self._ramp.gone(ms) - self._made)
            self._made += steps
            self.at += self.way * steps
            self.owed += self.way * steps
            if ms < self._ramp.end:
                return False
            if self._then is None or self._then[0] == self.at:
                self.halt()
                return True
            to, speed, acceleration = self._then
            self._then = None
            way = 1 if to > self.at else -1
            self._start(way, Ramp(self._ramp.end, abs(to - self.at), speed=speed, acceleration=acceleration))
        return False

    def brake(self, ms: int, *, acceleration, room: int) -> bool:
        """Forget the goal and stand within BRAKE_MS and so many steps; whether it stands already.

        `was_hard` tells that there was less room than that takes: a motor may have gone on by itself.
        """
        pace = 0.0 if acceleration is None else self._ramp.pace(ms)
        seconds = 0.0 if pace == 0.0 else min(pace / acceleration, BRAKE_MS / 1000.0)
        wanted = int(pace * seconds / 2.0)
        distance = min(wanted, room)
        self.was_hard = distance < wanted
        if distance == 0:
            self.halt()
            return True
        self._start(
            self.way, Ramp(ms, distance, speed=self._ramp.speed, acceleration=pace / seconds, pace=pace)
        )
        self.to, self._then, self.braking = None, None, True
        return False

    def halt(self) -> None:
        """Stand."""
        self.to = self._then = None
        self.moving = self.braking = False

    def interrupted(self, ms: int, *, acceleration) -> bool:
        """No pulses could be made for a while, so the motor stands; begin anew. Whether it was to stop anyway."""
        to, speed, braking = self.to, self._ramp.speed, self.braking
        if self._then is not None:
            speed = self._then[1]
        self.halt()
        if braking or to is None or to == self.at:
            return True
        self.begin(to, ms, speed=speed, acceleration=acceleration)
        return False

    def reach(self) -> int:
        """Where the present ramp ends, which is beyond the goal of a drive that turns round."""
        return self.at + self.way * (self._ramp.distance - self._made)

    def end(self) -> int:
        """When the present ramp ends."""
        return self._ramp.end

    def pace(self, ms: int) -> float:
        """Steps per second now."""
        return self._ramp.pace(ms) if self.moving else 0.0
