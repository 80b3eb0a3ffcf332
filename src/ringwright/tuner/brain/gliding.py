# SPDX-License-Identifier: BSD-3-Clause
"""One glide from below: fast where no dip can be, slow across it, and to its bottom without a rest."""

import math
from dataclasses import replace

from ringwright.tuner.brain.detuning import to_count, to_detuning
from ringwright.tuner.brain.dip import Dip
from ringwright.tuner.brain.driving import set_goal
from ringwright.tuner.brain.evidence import bearable, regret
from ringwright.tuner.brain.rounds import begin_round
from ringwright.tuner.brain.state import Goal, Search
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.messages import Status

SCAN = 2.0
"""Half-widths that one reading may cover where no dip is known."""
UNSEEN = 2.5
"""Half-widths that may be passed before a flank is seen and an order to slow down has come to the drive."""
NEAR = 0.4
"""Half-widths that one reading covers across the dip."""
HINT, HINTED = 1.0, 0.5
"""Difference of log-likelihoods at which a dip may be near, and half-widths that may then be passed unseen."""
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
    else:
        go_home(turn, status, search=search, dip=search.dip)


def scan_speed(turn: Turn) -> float:
    """Half-widths a second where no dip is known, so that the drive can be slowed between a flank and the bottom."""
    contact = turn.state.contact
    lag = contact.round_trip + contact.period
    fastest = min(SCAN / contact.period, UNSEEN / lag)
    search, status = turn.state.search, turn.status
    fit = None if search is None else search.fit
    if search is None or status is None or fit is None or fit.excess < HINT:
        return fastest
    room = fit.centre - 1.5 * fit.sigma - to_detuning(turn, search, status.at)
    return min(fastest, (max(room, 0.0) + HINTED) / lag)


def _near_speed(turn: Turn, left: float) -> float:
    """Half-widths a second with `left` of them to the centre: slow across the dip, as fast to it as can be slowed."""
    contact = turn.state.contact
    return max(NEAR / contact.period, (left - FLANK) / (contact.round_trip + contact.period))


def go_home(turn: Turn, status: Status, *, search: Search, dip: Dip) -> None:
    """Up to the centre and no further."""
    assert search.fit is not None
    best = round(dip.centre)
    here = to_detuning(turn, search, status.at)
    sigma, left = search.fit.sigma, search.fit.centre - here
    if status.at > best and regret(dip, status.at) > bearable(search):
        if sigma < WELL_KNOWN or left < -PASSED or not status.is_moving:
            begin_round(turn)
        return  # a little further: the far side shows the centre best
    turn.state = replace(turn.state, search=replace(search, target=best))
    contact = turn.state.contact
    lag = contact.round_trip + contact.period
    per_step = to_detuning(turn, search, status.at + 1.0) - here
    if regret(dip, best) <= bearable(search):
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
    beyond = max(left, 0.0) + max(BEYOND * sigma, LEAST_BEYOND)
    glide(turn, search, to=math.ceil(to_count(turn, search, here + beyond)), speed=speed)


def glide(turn: Turn, search: Search, *, to: int, speed: float) -> None:
    """Upwards at a speed in half-widths a second, unless the drive does about that already."""
    ring = turn.state.ring
    steps = to_count(turn, search, 0.5) - to_count(turn, search, -0.5)
    capped = None if speed * steps >= ring.speed else max(1, round(speed * steps))
    goal, status = turn.state.goal, turn.status
    if goal is not None and status is not None and status.is_moving and to < goal.to:
        to = min(max(to, _passed_by_then(turn, status, goal)), goal.to)
    if goal is None or goal.to != ring.within_ends(to) or not _is_like(goal.speed, capped):
        set_goal(turn, to, speed=capped)


def _passed_by_then(turn: Turn, status: Status, goal: Goal) -> int:
    """The count that the drive may have reached when an order comes to it; told to stop before, it would turn back."""
    contact = turn.state.contact
    speed = turn.state.ring.speed if goal.speed is None else min(goal.speed, turn.state.ring.speed)
    return status.at + math.ceil(speed * (contact.round_trip + contact.period))


def _is_like(one: int | None, other: int | None) -> bool:
    if one is None or other is None:
        return one is other
    return 0.8 < one / other < 1.25
