# SPDX-License-Identifier: BSD-3-Clause
"""Readings become evidence: where each was taken, and what the fit makes of all of them."""

import math
from dataclasses import replace

from ringwright.tuner.brain.choosing import chosen, is_seen
from ringwright.tuner.brain.course import MICROSTEP, even_stay, stay_of
from ringwright.tuner.brain.detuning import prior_of, to_count, to_detuning
from ringwright.tuner.brain.dip import Dip, Reading
from ringwright.tuner.brain.fit import Fit, fit_dip
from ringwright.tuner.brain.state import Search
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.messages import Status

MOST_ALIKE = 3
"""Readings at one place that count: more only hide what no reading shows, such as the diodes' law."""
RISK = 1.35
"""Standard deviations by which the centre may be elsewhere."""
MOST_EXCESS = 0.08
"""SWR by which the place of rest may stand above the dip's bottom in the first round; a tenth more in each next."""


def add_reading(turn: Turn, status: Status, *, is_late: bool = False) -> None:
    """One more reading, unless it came twice. `is_late`: overtaken by newer ones; how the drive moved is not known."""
    search = turn.state.search
    assert search is not None
    start, end = status.over
    alike = [reading for reading in search.readings if (reading.start, reading.end) == (start, end)]
    if len(alike) >= MOST_ALIKE or any(reading.taken == status.milliseconds for reading in alike):
        return
    prior = prior_of(turn, search)
    goal, ring, course = turn.state.goal, turn.state.ring, turn.state.course
    assert course is not None
    speed = ring.speed if goal is None or goal.speed is None else min(goal.speed, ring.speed)
    stay = (
        even_stay(end - start)
        if is_late
        else stay_of(course, is_moving=status.is_moving, full=speed * turn.state.contact.period)
    )
    if stay is None:
        return
    reading = Reading(
        start=start,
        end=end,
        shares=stay.shares,
        blur=stay.blur * prior.step,
        detunings=(to_detuning(turn, search, start), to_detuning(turn, search, end)),
        forward=status.forward_power,
        reflected=status.reflected_power,
        at=turn.state.contact.seen_at,
        taken=status.milliseconds,
    )
    readings = (*search.readings, reading)
    used = chosen(readings, search.fit)
    fit = fit_dip(used, prior)
    turn.state = replace(
        turn.state,
        search=replace(search, readings=readings, used=len(used), fit=fit, dip=_dip(turn, search, fit)),
    )


def _dip(turn: Turn, search: Search, fit: Fit) -> Dip | None:
    """The fit in steps, None while no dip is seen."""
    if not is_seen(fit):
        return None
    centre = to_count(turn, search, fit.centre)
    steps = to_count(turn, search, fit.centre + 0.5) - to_count(turn, search, fit.centre - 0.5)
    return Dip(
        centre=centre,
        centre_sigma=fit.sigma * steps,
        half_width=fit.width * steps,
        floor=fit.floor,
        depth=fit.depth,
        promised=prior_of(turn, search).bottom,
    )


def regret(dip: Dip, count: int) -> float:
    """SWR by which a count may be worse than the best whole step, the centre being uncertain."""
    spread = RISK * math.hypot(dip.centre_sigma, MICROSTEP)  # nor does a count say exactly where it rests
    return max(_regret_for(dip, count, dip.centre + shift) for shift in (-spread, 0.0, spread))


def _regret_for(dip: Dip, count: int, centre: float) -> float:
    sure = replace(dip, centre=centre, depth=max(dip.depth, dip.floor - dip.promised))
    return max(sure.swr(count) - sure.swr(round(centre)), 0.0)


def bearable(search: Search) -> float:
    """SWR that is not worth another round."""
    return MOST_EXCESS * (0.9 + 0.1 * search.rounds)
