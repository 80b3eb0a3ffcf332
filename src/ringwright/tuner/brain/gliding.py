# SPDX-License-Identifier: BSD-3-Clause
"""One glide from below: evenly through the dip at first, slowly to its bottom without a rest once it is known."""

import math
from dataclasses import replace

from ringwright.tuner.brain.course import stick
from ringwright.tuner.brain.detuning import to_count, to_detuning
from ringwright.tuner.brain.dip import Dip
from ringwright.tuner.brain.driving import set_goal
from ringwright.tuner.brain.evidence import bearable, regret
from ringwright.tuner.brain.rounds import aim, begin_round
from ringwright.tuner.brain.state import Goal, Search
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.messages import Status

SCAN, USUAL_PERIOD = 0.9, 0.06
"""Half-widths that one reading covers where no dip is known, if readings come so many seconds apart. Where they come
slower it covers more, by the root: time then costs more than what a shorter stretch would tell."""
PASS_BY = 1.0
"""Half-widths beyond the centre where a first glide has seen enough of the far flank."""
AT_ONCE = 0.7
"""Half-widths that a drive may go in the time an order takes, to be stopped in the dip on the way up. A quicker one
goes through, and is back sooner than it could have been slowed."""
ENOUGH_FREE = 0.9
"""Of the stretch where a rotor sticks after a rest: there nothing is read, and nothing need be slow."""
NEAR = 0.4
"""Half-widths that one reading covers across the dip."""
FLANK = 1.2
"""Half-widths from the centre where slow begins."""
CAUTION = 1.0
"""Standard deviations of the centre by which a glide keeps short of it until that is known well enough."""
LEAST_SPEED = 0.1
"""Half-widths in the time that an order takes."""
WELL_KNOWN, PASSED = 0.05, 0.5
"""Half-widths: standard deviation of a centre known well, and how far beyond it nothing more is to be learnt."""
BEYOND, LEAST_BEYOND = 1.2, 0.1
"""Standard deviations, and half-widths, past the centre of the goal of a glide that is not yet sure: it must not rest
on the way."""


def plan(turn: Turn, status: Status) -> None:
    """Where to go on, and how fast."""
    search = turn.state.search
    assert search is not None
    if search.dip is None or search.fit is None:
        glide(turn, search, to=search.high, speed=scan_speed(turn))
    elif search.rounds > 1 or not _is_quick(turn, search):
        go_home(turn, status, search=search, dip=search.dip)
    elif to_detuning(turn, search, status.at) > search.fit.centre + PASS_BY:
        begin_round(turn)
    else:
        glide(turn, search, to=search.high, speed=scan_speed(turn))


def _lag(turn: Turn) -> float:
    """Seconds until an order shows in a reading."""
    return turn.state.contact.round_trip + turn.state.contact.period


def _half_width(turn: Turn, search: Search) -> float:
    """Steps of a half-width."""
    return to_count(turn, search, 0.5) - to_count(turn, search, -0.5)


def _is_quick(turn: Turn, search: Search) -> bool:
    return turn.state.ring.speed * _lag(turn) > AT_ONCE * _half_width(turn, search)


def scan_speed(turn: Turn) -> float:
    """Half-widths a second where no dip is known, slow enough that its flanks are read on the way."""
    course, status, ring = turn.state.course, turn.status, turn.state.ring
    if course is not None and course.rested_at is not None and status is not None:
        free = course.rested_at + ENOUGH_FREE * stick(ring)
        if status.at + ring.speed * _lag(turn) < free:
            return math.inf
    period = turn.state.contact.period
    return SCAN * math.sqrt(period / USUAL_PERIOD) / period


def _near_speed(turn: Turn, left: float) -> float:
    """Half-widths a second with `left` of them to the centre: slow across the dip, as fast to it as can be slowed."""
    return max(NEAR / turn.state.contact.period, (left - FLANK) / _lag(turn))


def go_home(turn: Turn, status: Status, *, search: Search, dip: Dip) -> None:
    """Up to the centre and no further."""
    assert search.fit is not None
    best = aim(search, dip)
    here = to_detuning(turn, search, status.at)
    sigma, left = search.fit.sigma, search.fit.centre - here
    if status.at > best and regret(dip, status.at) > bearable(search):
        if sigma < WELL_KNOWN or left < -PASSED or not status.is_moving:
            begin_round(turn)
        return  # a little further: the far side shows the centre best
    turn.state = replace(turn.state, search=replace(search, target=best))
    lag = _lag(turn)
    per_step = to_detuning(turn, search, status.at + 1.0) - here
    if search.aside or regret(dip, best) <= bearable(search):
        speed = (
            math.inf
            if best - status.at > 0 and search.rounds > 1
            else max(_near_speed(turn, left), LEAST_SPEED / lag)
        )
        runs_on = status.at + math.ceil(LEAST_SPEED / per_step) if status.is_moving else status.at
        glide(turn, search, to=best if best > status.at else runs_on, speed=speed)
        return
    room = max(left - CAUTION * sigma, 0.4 * sigma)
    speed = min(_near_speed(turn, left), (0.5 * room + 0.03) / lag)
    if not status.is_moving and search.rounds > 1:
        glide(turn, search, to=max(best, status.at + 1), speed=math.inf)  # what rests here has been read
        return
    beyond = max(left, 0.0) + max(BEYOND * sigma, LEAST_BEYOND)
    glide(turn, search, to=math.ceil(to_count(turn, search, here + beyond)), speed=speed)


def see_far_flank(turn: Turn, search: Search) -> None:
    """Slowly on past the centre, which is known too badly to come to it again."""
    assert search.fit is not None
    to = math.ceil(to_count(turn, search, search.fit.centre + PASS_BY))
    glide(turn, search, to=to, speed=NEAR / turn.state.contact.period)


def glide(turn: Turn, search: Search, *, to: int, speed: float) -> None:
    """Upwards at a speed in half-widths a second, unless the drive does about that already."""
    ring = turn.state.ring
    steps = _half_width(turn, search)
    capped = None if speed * steps >= ring.speed else max(1, round(speed * steps))
    goal, status = turn.state.goal, turn.status
    if goal is not None and status is not None and (status.is_moving or goal.sent_at is not None):
        to = _on_the_way(turn, to, status=status, goal=goal)
    if goal is None or goal.to != ring.within_ends(to) or not _is_like(goal.speed, capped):
        set_goal(turn, to, speed=capped)


def _on_the_way(turn: Turn, to: int, *, status: Status, goal: Goal) -> int:
    """Where a drive under way to a goal can be sent instead, so that it neither turns back nor sticks.

    One that may have come to rest at the goal before the order comes would leave its rotor there, were it sent on by
    less than it sticks.
    """
    by_then = _passed_by_then(turn, status, goal)
    if to < goal.to:
        return min(max(to, by_then), goal.to)
    is_short = to - goal.to <= stick(turn.state.ring)
    return goal.to if is_short and by_then >= goal.to else to


def _passed_by_then(turn: Turn, status: Status, goal: Goal) -> int:
    """The count that the drive may have reached when an order comes to it; told to stop before, it would turn back."""
    speed = turn.state.ring.speed if goal.speed is None else min(goal.speed, turn.state.ring.speed)
    return status.at + math.ceil(speed * _lag(turn))


def _is_like(one: int | None, other: int | None) -> bool:
    if one is None or other is None:
        return one is other
    return 0.8 < one / other < 1.25
