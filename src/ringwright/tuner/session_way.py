# SPDX-License-Identifier: BSD-3-Clause
"""How long the drive is on its way yet, and a word of it where that is long."""

import itertools
from collections.abc import Callable

from ringwright.tuner.brain import Phase, State

LONG = 5.0
"""Seconds from which on a way is worth a word."""
_LONG_WAYS = {Phase.TRAVELLING, Phase.LISTENING}


def seconds_left(state: State) -> float | None:
    """Seconds to the goal at the drive's own speed, without its ramps; None where there is no goal."""
    goal, status = state.goal, state.contact.status
    if goal is None or status is None:
        return None
    speed = state.ring.speed if goal.speed is None else min(float(goal.speed), state.ring.speed)
    legs = (status.at, goal.to) if goal.via is None else (status.at, goal.via, goal.to)
    return sum(abs(end - start) for start, end in itertools.pairwise(legs)) / speed


def duration_words(seconds: float) -> str:
    """As one says it: "about 40 s", "about 2 min"."""
    if seconds < 90.0:
        return f"about {max(5, 5 * round(seconds / 5.0))} s"
    return f"about {round(seconds / 60.0)} min"


class Ways:
    """Tells `note` of each long way once, at its beginning."""

    def __init__(self, *, note: Callable[[str], None]) -> None:
        self._note = note
        self._told: tuple[float, int] | None = None

    def look(self, state: State) -> None:
        """Tell what is to be told now."""
        goal, search, seconds = state.goal, state.search, seconds_left(state)
        if state.phase not in _LONG_WAYS or goal is None or search is None or seconds is None:
            self._told = None
            return
        way = (search.frequency, goal.to)
        if way != self._told and seconds >= LONG:
            self._told = way
            self._note(f"Going to {search.frequency / 1e6:.4f} MHz: {duration_words(seconds)}.")
