# SPDX-License-Identifier: BSD-3-Clause
"""Time as it is handed to everything in the tuner."""

import time
from typing import Protocol


class Clock(Protocol):
    """Seconds that only grow, and the wall clock's milliseconds for what must order itself over restarts."""

    def now(self) -> float:
        """Seconds from an arbitrary beginning; never goes back."""
        ...

    def wall_milliseconds(self) -> int:
        """Milliseconds since 1970, as the wall clock has it."""
        ...


class SystemClock:
    """The computer's own clocks."""

    def now(self) -> float:
        return time.monotonic()

    def wall_milliseconds(self) -> int:
        return time.time_ns() // 1_000_000


class SetClock:
    """A clock that a simulation moves."""

    def __init__(self, now: float = 0.0, *, wall_milliseconds: int = 0) -> None:
        self._now, self._wall_start = now, wall_milliseconds - round(1000.0 * now)

    def now(self) -> float:
        return self._now

    def wall_milliseconds(self) -> int:
        return self._wall_start + round(1000.0 * self._now)

    def advance_to(self, now: float) -> None:
        """Let it be `now`; time already past is refused."""
        if now < self._now:
            raise ValueError(f"a clock at {self._now} s cannot go back to {now} s")
        self._now = now


class QuickClock(SetClock):
    """A clock that a simulation moves as fast as it can; what is written down has the date of the computer."""

    def wall_milliseconds(self) -> int:
        return SystemClock().wall_milliseconds()
