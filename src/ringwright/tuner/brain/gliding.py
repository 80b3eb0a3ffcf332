# SPDX-License-Identifier: BSD-3-Clause
"""One glide from below: fast where no dip can be, slow across it, and to its bottom without a rest."""

import math
from dataclasses import replace

from ringwright.tuner.brain.detuning import to_count, to_detuning
from ringwright.tuner.brain.dip import Dip
from ringwright.tuner.brain.driving import set_goal
from ringwright.tuner.brain.evidence import expected_excess, step_cost
from ringwright.tuner.brain.fit import Fit
from ringwright.tuner.brain.rounds import begin_round, way_back
from ringwright.tuner.brain.state import Search
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.messages import Status

SCAN = 2.0
"""Half-widths that one reading may cover where no dip is known."""
UNSEEN = 2.5
"""Half-widths that may be passed before a flank is seen and an order to slow down has come to the drive."""
NEAR = 0.4
"""Half-widths that one reading covers across the dip."""
FLANK = 1.2
"""Half-widths from the centre where slow begins."""
CAUTION = 1.0
"""Standard deviations of the centre by which a glide keeps short of it until that is known well enough."""
LEAST_SPEED = 0.1
"""Half-widths in the time that an order takes."""
BEYOND, PASSED = 1.3, 0.9
"""Half-widths past the centre up to which a glide goes that may pass, and from which it has seen enough."""
CHEAP_RETURN = 0.3
"""Seconds: the way back below is worth more certainty about the centre if it takes no longer."""
MOST_EXCESS = 0.06
"""SWR by which the place of rest may be expected above the dip's bottom."""


def plan(turn: Turn, status: Status) -> None:
    """Where to go on, and how fast."""
    search = turn.state.search
    assert search is not None
    assert search.fit is not None
    if search.dip is None or search.fit is None:
        glide(turn, search, to=search.high, speed=scan_speed(turn))
    elif search.target is not None or not _may_pass(turn):
        go_home(turn, status, search=search, dip=search.dip)
    else:
        _pass(turn, status, search=search, fit=search.fit)


def scan_speed(turn: Turn) -> float:
    """Half-widths a second where no dip is known: none may be passed unseen where the way back is long."""
    contact = turn.state.contact
    fastest = SCAN / contact.period
    return fastest if _may_pass(turn) else min(fastest, UNSEEN / (contact.round_trip + contact.period))


def _pass(turn: Turn, status: Status, *, search: Search, fit: Fit) -> None:
    """Slowly to the far side of the dip, which shows the centre best; then back below."""
    left = fit.centre - to_detuning(turn, search, status.at)
    if left < -PASSED:
        begin_round(turn)
        return
    glide(
        turn, search, to=math.ceil(to_count(turn, search, fit.centre + BEYOND)), speed=_near_speed(turn, left)
    )


def _near_speed(turn: Turn, left: float) -> float:
    """Half-widths a second with `left` of them to the centre: slow across the dip, as fast to it as can be slowed."""
    contact = turn.state.contact
    return max(NEAR / contact.period, (left - FLANK) / (contact.round_trip + contact.period))


def go_home(turn: Turn, status: Status, *, search: Search, dip: Dip) -> None:
    """Up to the centre and no further."""
    assert search.fit is not None
    best = round(dip.centre)
    if status.at > best and expected_excess(dip, status.at) > MOST_EXCESS + step_cost(dip, best):
        begin_round(turn)
        return
    turn.state = replace(turn.state, search=replace(search, target=best))
    contact = turn.state.contact
    lag = contact.round_trip + contact.period
    here = to_detuning(turn, search, status.at)
    sigma, left = search.fit.sigma, search.fit.centre - here
    per_step = to_detuning(turn, search, status.at + 1.0) - here
    if expected_excess(dip, best) <= MOST_EXCESS + step_cost(dip, best):
        speed = max(_near_speed(turn, left), LEAST_SPEED / lag)
        runs_on = status.at + math.ceil(LEAST_SPEED / per_step) if status.is_moving else status.at
        glide(turn, search, to=best if best > status.at else runs_on, speed=speed)
        return
    room = max(left - CAUTION * sigma, 0.4 * sigma)
    speed = min(_near_speed(turn, left), (0.5 * room + 0.03) / lag)
    glide(
        turn, search, to=math.ceil(to_count(turn, search, max(search.fit.centre, here) + BEYOND)), speed=speed
    )


def _may_pass(turn: Turn) -> bool:
    return way_back(turn) < CHEAP_RETURN


def glide(turn: Turn, search: Search, *, to: int, speed: float) -> None:
    """Upwards at a speed in half-widths a second, unless the drive does about that already."""
    ring = turn.state.ring
    steps = to_count(turn, search, 0.5) - to_count(turn, search, -0.5)
    wanted = max(1, round(speed * steps))
    capped = None if wanted >= ring.speed else wanted
    goal = turn.state.goal
    if goal is None or goal.to != ring.within_ends(to) or not _is_like(goal.speed, capped):
        set_goal(turn, to, speed=capped)


def _is_like(one: int | None, other: int | None) -> bool:
    if one is None or other is None:
        return one is other
    return 0.8 < one / other < 1.25
