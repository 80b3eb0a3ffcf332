# SPDX-License-Identifier: BSD-3-Clause
"""The search for the dip: one glide from below, slower where the dip may be near, then to its bottom without a rest."""

import math
from dataclasses import replace

from ringwright.tuner.brain.board_contact import assert_count, doubt
from ringwright.tuner.brain.commands import Learnt
from ringwright.tuner.brain.course import means_a_place, run_up, stick
from ringwright.tuner.brain.dip import Dip, Reading, swr_of
from ringwright.tuner.brain.driving import set_goal, set_goal_from_below, stand_still
from ringwright.tuner.brain.fit import Fit, Prior, fit_dip
from ringwright.tuner.brain.state import Search, Tuned
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.brain.words import Phase, Why, Word
from ringwright.tuner.messages import Status

SIGMAS = 3.0
"""How far from where the curve has it the dip is sought first, in the curve's standard deviations."""
LEAST_REACH = 3.0
"""The same at least, half-widths."""
SCAN = 2.0
"""Half-widths that one reading may cover where no dip is known."""
NEAR = 0.35
"""The same across the dip."""
BEYOND = 1.3
"""Half-widths past the centre up to which a glide goes that may pass: its far side shows the centre best."""
CHEAP_RETURN = 0.6
"""Seconds: the way back below is worth more certainty about the centre if it takes no longer."""
SEEN_EXCESS = 8.0
SEEN_SIGMA = 1.2
"""A dip is seen when it explains the readings e^8 times better than none, to about a half-width."""
MOST_EXCESS = 0.05
"""SWR by which the place of rest may be expected above the dip's bottom."""
MOST_ROUNDS = 5
MOST_WIDENED = 2
ASK_PATIENCE = 120.0
"""Seconds that the brain waits for a carrier."""


def to_detuning(turn: Turn, search: Search, count: float) -> float:
    """Detuning at a count by the curve, in half-widths, growing with the count."""
    curve = turn.state.curve
    found = curve.frequency(count - search.turn_offset, search.temperature_c) - search.frequency
    return _way(turn, search) * found / search.band.half_width


def to_count(turn: Turn, search: Search, detuning: float) -> float:
    """The count that has a detuning."""
    frequency = search.frequency + _way(turn, search) * detuning * search.band.half_width
    return turn.state.curve.position(frequency, search.temperature_c) + search.turn_offset


def _way(turn: Turn, search: Search) -> float:
    curve, place = turn.state.curve, search.expected - search.turn_offset
    up = curve.frequency(place + 1.0, search.temperature_c) > curve.frequency(place, search.temperature_c)
    return 1.0 if up else -1.0


def prior_of(turn: Turn, search: Search) -> Prior:
    """What is believed of this dip before any reading."""
    step = (
        to_detuning(turn, search, search.expected + 5.0) - to_detuning(turn, search, search.expected)
    ) / 5.0
    best = ((search.band.best_swr - 1.0) / (search.band.best_swr + 1.0)) ** 2
    return Prior(
        centre=to_detuning(turn, search, search.expected),
        sigma=max(search.sigma * step, 0.05),
        low=to_detuning(turn, search, search.low),
        high=to_detuning(turn, search, search.high),
        depth=0.98 - best,
        noise=turn.state.ring.reading_noise,
        step=step,
    )


def seek(turn: Turn, status: Status, *, passed: float) -> None:
    """One more status while searching; `passed` [s] since the one before."""
    search = turn.state.search
    assert search is not None
    if not turn.is_keyed:
        _wait_for_carrier(turn)
        return
    search = replace(search, carrier=search.carrier + passed)
    turn.state = replace(turn.state, search=search)
    course = turn.state.course
    if course is not None and turn.is_fresh and means_a_place(course, turn.state.ring, status.over):
        _add(turn, status)
        _plan(turn, status)
    elif turn.state.goal is None and turn.state.phase is Phase.SEARCHING:
        _glide(turn, search, to=search.high, reading=SCAN, room=None)  # takes up the slack


def _add(turn: Turn, status: Status) -> None:
    search = turn.state.search
    assert search is not None
    start, end = status.over
    reading = Reading(
        start=start,
        end=end,
        detunings=(to_detuning(turn, search, start), to_detuning(turn, search, end)),
        forward=status.forward_power,
        reflected=status.reflected_power,
        at=turn.state.contact.seen_at,
    )
    readings = (*search.readings, reading)
    prior = prior_of(turn, search)
    fit = fit_dip(readings, prior)
    turn.state = replace(
        turn.state,
        search=replace(search, readings=readings, fit=fit, dip=_dip(turn, search, fit)),
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
    )


def is_seen(fit: Fit) -> bool:
    """Whether a dip was seen, and about where."""
    return fit.excess > SEEN_EXCESS and fit.sigma < SEEN_SIGMA


def expected_excess(dip: Dip, count: int) -> float:
    """SWR by which a count is expected above the dip's bottom, the uncertainty of the centre included."""
    x2 = ((count - dip.centre) ** 2 + dip.centre_sigma**2) / dip.half_width**2
    bottom = max(dip.floor - dip.depth, 0.0)
    return swr_of(min(dip.floor - dip.depth / (1.0 + x2), 0.999)) - swr_of(bottom)


def _plan(turn: Turn, status: Status) -> None:
    """Where to go on, and how fast."""
    search = turn.state.search
    assert search is not None
    assert search.fit is not None
    if turn.state.phase is Phase.RETURNING:
        _correct_course(turn, search, status)
        return
    if search.dip is None:
        _glide(turn, search, to=search.high, reading=SCAN, room=None)
        return
    centre = round(search.dip.centre)
    here = to_detuning(turn, search, status.at)
    left = search.fit.centre - here
    if _may_pass(turn):
        if left < -0.8 * BEYOND or search.fit.sigma < 0.02:
            _finish(turn)
        else:
            to = to_count(turn, search, search.fit.centre + BEYOND)
            near = NEAR if left < 1.5 + 2.0 * search.fit.sigma else SCAN
            _glide(turn, search, to=math.ceil(to), reading=near, room=None)
        return
    if status.at > centre + 1 and left < -3.0 * search.fit.sigma - 0.05:
        _finish(turn)
        return
    _glide(turn, search, to=centre, reading=NEAR, room=max(left, 0.0))


def _correct_course(turn: Turn, search: Search, status: Status) -> None:
    """On the last way up, readings still tell better where to rest."""
    goal = turn.state.goal
    if search.target is None or search.dip is None or goal is None or goal.via is not None:
        return
    best = round(search.dip.centre)
    if status.is_moving and best != goal.to and best > status.at:
        set_goal(turn, best, speed=goal.speed)
        turn.state = replace(turn.state, search=replace(search, target=best))


def _may_pass(turn: Turn) -> bool:
    ring = turn.state.ring
    return 2.0 * run_up(ring) / ring.speed + turn.state.contact.round_trip < CHEAP_RETURN


def _glide(turn: Turn, search: Search, *, to: int, reading: float, room: float | None) -> None:
    """Go on upwards so that a reading covers no more than `reading` half-widths, and `room` is not passed unseen."""
    contact, ring = turn.state.contact, turn.state.ring
    status = turn.status
    assert status is not None
    steps = to_count(turn, search, 0.5) - to_count(turn, search, -0.5)
    speed = reading / contact.period
    lag = contact.round_trip + contact.period
    if room is not None:
        speed = min(speed, (0.6 * room + 0.1) / lag)
    elif search.dip is None and not _may_pass(turn):
        speed = min(speed, 2.5 / lag)
    wanted = max(1, round(speed * steps))
    capped = None if wanted >= ring.speed else wanted
    goal = turn.state.goal
    if goal is not None and goal.via is None and goal.to == to and _is_like(goal.speed, capped):
        return
    set_goal(turn, max(to, status.at), speed=capped)


def _is_like(one: int | None, other: int | None) -> bool:
    if one is None or other is None:
        return one is other
    return 0.8 < one / other < 1.25


def begin_round(turn: Turn, to: int) -> None:
    """Back below, then up to `to` without a rest."""
    search = turn.state.search
    assert search is not None
    turn.state = replace(
        turn.state, search=replace(search, rounds=search.rounds + 1, target=to, confirmations=0)
    )
    set_goal_from_below(turn, to)
    turn.enter(Phase.RETURNING)


def _finish(turn: Turn) -> None:
    search = turn.state.search
    assert search is not None
    assert search.dip is not None
    if search.rounds > MOST_ROUNDS:
        give_up(turn)
        return
    begin_round(turn, round(search.dip.centre))


def glide_ended(turn: Turn, status: Status) -> None:
    """The drive came to the end of a glide and rests."""
    search = turn.state.search
    assert search is not None
    if search.dip is None:
        _widen(turn)
    elif abs(status.at - round(search.dip.centre)) <= 1:
        turn.enter(Phase.CONFIRMING)
    else:
        _finish(turn)


def confirm(turn: Turn, status: Status, *, passed: float) -> None:
    """Stands where the dip should be: read, and be content or come again."""
    search = turn.state.search
    assert search is not None
    if not turn.is_keyed:
        _wait_for_carrier(turn)
        return
    if status.is_moving or status.over[0] != status.over[1] or not turn.is_fresh:
        return
    search = replace(search, carrier=search.carrier + passed, confirmations=search.confirmations + 1)
    turn.state = replace(turn.state, search=search)
    before = search.dip
    _add(turn, status)
    search = turn.state.search
    assert search is not None
    dip = search.dip
    if dip is None or (before is not None and _contradicts(turn, before, status)):
        _start_over(turn)
        return
    best = round(dip.centre)
    if expected_excess(dip, status.at) <= MOST_EXCESS + _quantum(dip, best):
        succeed(turn, status)
    elif search.confirmations >= 2:
        _finish(turn)


def _quantum(dip: Dip, best: int) -> float:
    """SWR that the nearest whole step costs whatever is done."""
    sure = replace(dip, centre_sigma=0.0)
    return max(expected_excess(sure, best), 0.0)


def _contradicts(turn: Turn, dip: Dip, status: Status) -> bool:
    """Whether the reading at rest cannot be at the place that all before it tell: steps were lost on the way."""
    noise = turn.state.ring.reading_noise
    got = min(status.reflected_power / max(status.forward_power, 1e-9), 1.0)
    x = (abs(status.at - dip.centre) + 3.0 * dip.centre_sigma) / dip.half_width
    most = dip.floor - dip.depth / (1.0 + x * x)
    return got > most * (1.0 + 6.0 * noise) + 0.1


def _start_over(turn: Turn) -> None:
    """The readings do not belong together: forget them and look anew, wider."""
    search = turn.state.search
    assert search is not None
    if search.rounds > MOST_ROUNDS:
        give_up(turn)
        return
    turn.state = replace(
        turn.state,
        search=replace(search, readings=(), fit=None, dip=None, rounds=search.rounds + 1, target=None),
    )
    _go_below(turn)


def _widen(turn: Turn) -> None:
    """No dip between low and high: once more, over twice as much."""
    search = turn.state.search
    assert search is not None
    reach = search.high - search.low
    low = turn.state.ring.within_ends(search.low - reach / 2.0)
    high = turn.state.ring.within_ends(search.high + reach / 2.0)
    if search.widened >= MOST_WIDENED or (low == search.low and high == search.high):
        give_up(turn)
        return
    turn.tell(Word.WIDENED, ("from", float(low)), ("to", float(high)))
    turn.state = replace(
        turn.state,
        search=replace(
            search,
            low=low,
            high=high,
            sigma=2.0 * search.sigma,
            widened=search.widened + 1,
            readings=(),
            fit=None,
        ),
    )
    _go_below(turn)


def _go_below(turn: Turn) -> None:
    search = turn.state.search
    assert search is not None
    set_goal_from_below(turn, search.low - stick(turn.state.ring))
    turn.enter(Phase.RETURNING)


def give_up(turn: Turn) -> None:
    """No dip: say so, and trust neither count nor table until something better is known."""
    search = turn.state.search
    assert search is not None
    turn.tell(Word.NOT_FOUND, ("from", float(search.low)), ("to", float(search.high)))
    stand_still(turn)
    turn.call_key_up(Why.GAVE_UP)
    turn.state = replace(turn.state, search=None)
    doubt(turn, Why.GAVE_UP)
    turn.enter(Phase.RESTING)


def succeed(turn: Turn, status: Status) -> None:
    """The dip is met."""
    state, search = turn.state, turn.state.search
    assert search is not None
    assert search.dip is not None
    turn.state = replace(
        state,
        tuned=Tuned(
            frequency=search.frequency,
            band=search.band,
            position=status.at,
            swr=search.dip.swr(status.at),
            temperature_c=status.temperature_c,
        ),
        goal=None,
    )
    turn.enter(Phase.TUNED)
    swr = search.dip.swr(status.at)
    turn.tell(
        Word.TUNED,
        ("frequency", search.frequency),
        ("position", float(status.at)),
        ("swr", swr),
        ("readings", float(len(search.readings))),
        ("carrier", search.carrier),
    )
    if _is_where_expected(turn, search, search.dip):
        turn.commands.append(
            Learnt(
                frequency=search.frequency,
                position=search.dip.centre - search.turn_offset,
                sigma=search.dip.centre_sigma,
                temperature_c=status.temperature_c,
                swr=swr,
                readings=len(search.readings),
                carrier=search.carrier,
            )
        )


def _is_where_expected(turn: Turn, search: Search, dip: Dip) -> bool:
    """Whether the dip stands where the curve has it; if not, steps were lost, and that is told, never hidden."""
    off = dip.centre - search.expected
    bound = 4.0 * math.hypot(turn.state.curve.sigma(search.frequency), dip.centre_sigma)
    if turn.state.doubt is not None and not turn.state.ring.has_end_stop:
        tuned = turn.state.tuned
        assert tuned is not None
        at = round(tuned.position - off)
        turn.tell(Word.STEPS_LOST, ("steps", off), ("corrected", 1.0))
        assert_count(turn, at)
        turn.state = replace(turn.state, tuned=replace(tuned, position=at))
        turn.keep(at, None)
        turn.tell(Word.REFERENCED)
        return False
    if abs(off) <= bound:
        return True
    turn.tell(Word.STEPS_LOST, ("steps", off), ("corrected", 0.0))
    doubt(turn, Why.LOST_STEPS)
    return False


def _wait_for_carrier(turn: Turn) -> None:
    """No carrier: nothing is learnt, so nothing moves."""
    if turn.state.goal is not None and turn.state.phase is Phase.SEARCHING:
        stand_still(turn)
    if turn.now - turn.state.phase_since > ASK_PATIENCE:
        give_up(turn)
