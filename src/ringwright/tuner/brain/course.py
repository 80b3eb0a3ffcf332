# SPDX-License-Identifier: BSD-3-Clause
"""Backlash, windup and sticking: which counts say where the rotor is.

Only a drive that comes from below and has taken up its slack has a count that always means the same place. When it
rests, friction holds the rotor; going on, the shaft winds up by a part of its windup before the rotor follows with a
jerk.
"""

import math
from dataclasses import dataclass

from ringwright.tuner.brain.dip import POINTS
from ringwright.tuner.brain.ring import Ring
from ringwright.tuner.brain.state import Course, State
from ringwright.tuner.messages import Status

STICKS = 0.17
"""Of the slack: most that the motor turns after a rest before the rotor follows. Friction in motion is about 0.7 of
that at rest (common practice, no source), and the slack holds the windup twice, once for each way."""
TAKEN_UP = 1.02
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
    length = status.over[1] - status.over[0]
    low = min(status.over[0], status.over[1], status.at)
    if course is None or is_new or last is None:
        return Course(engaged_from=status.at + run_up(ring), was_moving=status.is_moving, length=length)
    engaged_from, rested_at = course.engaged_from, course.rested_at
    if status.at < last.at or status.over[1] < status.over[0]:
        engaged_from, rested_at = low + run_up(ring), None
    elif not status.is_moving and course.was_moving and status.at >= engaged_from:
        if rested_at is None or status.at >= rested_at + stick(ring):
            rested_at = status.at
    elif status.is_moving and rested_at is not None and status.over[0] >= rested_at + stick(ring):
        rested_at = None
    return Course(
        engaged_from=engaged_from,
        rested_at=rested_at,
        was_moving=status.is_moving,
        length=length,
        before=course.length,
    )


def means_a_place(course: Course, ring: Ring, over: tuple[int, int]) -> bool:
    """Whether the counts between which a reading was taken say where the rotor was."""
    start, end = over
    if start < course.engaged_from or end < start:
        return False
    rested = course.rested_at
    return rested is None or start == end == rested or start >= rested + stick(ring)


MICROSTEP, COARSE = 0.15, 0.28
"""Steps: error of a place of rest, from uneven microsteps, and of one on the way, as a count changes by whole steps."""
EVEN, UNEVEN = 0.02, 0.07
"""Of a stretch: error of its mean place, where the speed was even and where it changed."""
_EVEN = (5.0 / 18.0, 4.0 / 9.0, 5.0 / 18.0, 0.0)


@dataclass(frozen=True, slots=True)
class Stay:
    """Shares of a reading's time spent about each of the points, and the standard deviation of its place [steps]."""

    shares: tuple[float, float, float, float]
    blur: float


def stay_of(course: Course, *, is_moving: bool, full: float) -> Stay | None:
    """Where a reading's time was spent; None where that cannot be told.

    A drive that comes to rest in a reading spends the rest of it at the end; one that is slowed, more time in the part
    after. `full`: steps that it goes in one reading at the speed it was last told.
    """
    length, before = course.length, course.before
    if length == 0:
        return Stay((0.0, 0.0, 0.0, 1.0), MICROSTEP)
    if before <= 0:
        return None  # it began to move somewhere in this reading
    if not is_moving:
        turning = min(length / before, 1.0)
        shares = (turning * _EVEN[0], turning * _EVEN[1], turning * _EVEN[2], 1.0 - turning)
        return Stay(shares, math.hypot(COARSE, UNEVEN * length))
    if abs(length - before) <= max(1.0, 0.05 * before):
        return Stay(_EVEN, math.hypot(COARSE, EVEN * length))
    slower = before - full if abs(before - full) >= 1.0 else 1.0
    at_first = min(max((length - full) / slower, 0.0), 1.0)  # of the time
    change = at_first * before / length  # of the way
    density = [1.0 / before if point < change else 1.0 / max(full, 1.0) for point in POINTS[:3]]
    weights = [share * dense for share, dense in zip(_EVEN, density, strict=False)]
    total = sum(weights)
    shares = (weights[0] / total, weights[1] / total, weights[2] / total, 0.0)
    return Stay(shares, math.hypot(COARSE, UNEVEN * length))


def even_stay(length: int) -> Stay:
    """A reading of which only its stretch is known."""
    return Stay(_EVEN, math.hypot(COARSE, UNEVEN * length))
