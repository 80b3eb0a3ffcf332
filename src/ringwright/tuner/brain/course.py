# SPDX-License-Identifier: BSD-3-Clause
"""Backlash, windup and sticking: which counts say where the rotor is.

Only a drive that comes from below and has taken up its slack has a count that always means the same place. When it
rests, friction holds the rotor; going on, the shaft winds up by a part of its windup before the rotor follows with a
jerk.
"""

import math

from ringwright.tuner.brain.ring import Ring
from ringwright.tuner.brain.state import Course, State
from ringwright.tuner.messages import Status

STICKS = 0.35
"""Of the slack: most that the motor turns after a rest before the rotor follows. Friction in motion is about 0.7 of
that at rest (common practice, no source), the rest is margin."""
TAKEN_UP = 1.15
"""Times the slack that is gone below a place, so that the slack is taken up there for certain."""


def run_up(ring: Ring) -> int:
    """Steps below a place from which the drive must come."""
    return math.ceil(TAKEN_UP * ring.slack) + 2


def stick(ring: Ring) -> int:
    """Steps after a rest in which a count means nothing."""
    return math.ceil(STICKS * ring.slack)


def course_after(state: State, status: Status, *, is_new: bool) -> Course:
    """The course with one more status."""
    ring, course, last = state.ring, state.course, state.contact.status
    low = min(status.over[0], status.over[1], status.at)
    if course is None or is_new or last is None:
        return Course(engaged_from=status.at + run_up(ring), was_moving=status.is_moving)
    engaged_from, rested_at = course.engaged_from, course.rested_at
    if status.at < last.at or status.over[1] < status.over[0]:
        engaged_from, rested_at = low + run_up(ring), None
    elif not status.is_moving and course.was_moving and status.at >= engaged_from:
        if rested_at is None or status.at >= rested_at + stick(ring):
            rested_at = status.at
    elif status.is_moving and rested_at is not None and status.over[0] >= rested_at + stick(ring):
        rested_at = None
    return Course(engaged_from=engaged_from, rested_at=rested_at, was_moving=status.is_moving)


def means_a_place(course: Course, ring: Ring, over: tuple[int, int]) -> bool:
    """Whether the counts between which a reading was taken say where the rotor was."""
    start, end = over
    if start < course.engaged_from or end < start:
        return False
    rested = course.rested_at
    return rested is None or start == end == rested or start >= rested + stick(ring)
