# SPDX-License-Identifier: BSD-3-Clause
"""At the bottom of the dip, or where it should be: read, be content or come again, and learn from it."""

import math
from dataclasses import dataclass, replace

from ringwright.tuner.brain.board_contact import assert_count, doubt
from ringwright.tuner.brain.commands import Learnt
from ringwright.tuner.brain.course import stick
from ringwright.tuner.brain.dip import POINTS, Dip
from ringwright.tuner.brain.evidence import MOST_EXCESS, add_reading, bearable, regret
from ringwright.tuner.brain.gliding import go_home, see_far_flank
from ringwright.tuner.brain.rounds import begin_round, start_over, widen
from ringwright.tuner.brain.seeking import wait_for_carrier
from ringwright.tuner.brain.state import Search, Tuned
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.brain.words import Phase, Why, Word
from ringwright.tuner.messages import Status

BOTTOM_ERROR = 0.02
"""Of reflected over forward power: error of a fit at the bottom that was not read yet."""
LOST_SIGMAS = 4.0
"""Standard deviations of the table from which a dip elsewhere means lost steps, whatever was known before."""
AGREES = 0.7
"""Half-widths to which a dip is where the table has it."""
APART = 3.0
"""Half-widths from which a frequency is another: at the same one the table was there a moment ago."""
UNSURE = 0.1
"""Half-widths: standard deviation of a centre of which one more look at the same place tells nothing."""
MOSTLY = 0.5
"""Of a reading's time at rest, for it to tell of the place of rest."""
AT_REST = (0.0, 0.0, 0.0, 1.0)
ENOUGH_ROUNDS = 5
"""After so many a place that seems best is taken, though it is not known for certain."""


def glide_ended(turn: Turn, status: Status) -> None:
    """The drive came to the end of a glide and rests."""
    search = turn.state.search
    assert search is not None
    if search.dip is None:
        widen(turn)
    elif breaks_loose(turn, search.dip, status):
        turn.enter(Phase.SEARCHING)
        go_home(turn, status, search=search, dip=search.dip)
    else:
        turn.enter(Phase.CONFIRMING)
        _judge_arrival(turn, status)


def _judge_arrival(turn: Turn, status: Status) -> None:
    """The reading in which the drive came to rest is enough, if it stood for most of it."""
    search = turn.state.search
    assert search is not None
    last = search.readings[-1] if search.readings else None
    if search.dip is None or last is None or not (turn.is_keyed and turn.is_fresh):
        return
    if last.taken != status.milliseconds or last.end != status.at or last.shares[3] < MOSTLY:
        return
    is_good = regret(search.dip, status.at) <= bearable(search)
    if is_good and not _contradicts(turn, search.dip, status, shares=last.shares):
        succeed(turn, status)


def breaks_loose(turn: Turn, dip: Dip, status: Status) -> bool:
    """Whether a rotor that rests here, below the centre, will slide again before it is there."""
    return dip.centre - status.at > stick(turn.state.ring) + max(1.0, 0.05 * dip.half_width)


def confirm(turn: Turn, status: Status, *, passed: float, is_whole: bool) -> None:
    """Stands where the dip should be: read, and be content or come again. `is_whole`: see `seek`."""
    search = turn.state.search
    assert search is not None
    if not turn.is_keyed:
        wait_for_carrier(turn)
        return
    search = replace(search, carrier=search.carrier + passed)
    turn.state = replace(turn.state, search=search)
    if status.is_moving or status.over[0] != status.over[1] or not (turn.is_fresh and is_whole):
        return
    if search.dip is not None and _contradicts(turn, search.dip, status, shares=AT_REST):
        if search.contradictions:
            start_over(turn)
        else:
            turn.state = replace(turn.state, search=replace(search, contradictions=1))
            begin_round(turn)
        return
    turn.state = replace(turn.state, search=replace(search, confirmations=search.confirmations + 1))
    add_reading(turn, status)
    search = turn.state.search
    assert search is not None
    if search.dip is None:
        start_over(turn)
    else:
        _judge(turn, status, search=search, dip=search.dip)


def _judge(turn: Turn, status: Status, *, search: Search, dip: Dip) -> None:
    """Content if no other place can be expected to be much better, or none could be told to be."""
    search = replace(search, aside=0)
    turn.state = replace(turn.state, search=search)
    if regret(dip, status.at) <= bearable(search):
        succeed(turn, status)
    elif breaks_loose(turn, dip, status):
        turn.enter(Phase.SEARCHING)
        go_home(turn, status, search=search, dip=dip)
    elif search.confirmations >= 2:
        here = regret(replace(dip, centre_sigma=0.0), status.at)
        if dip.centre_sigma > UNSURE * dip.half_width:
            turn.enter(Phase.SEARCHING)
            see_far_flank(turn, search)
        elif here <= MOST_EXCESS and search.rounds >= ENOUGH_ROUNDS:
            succeed(turn, status)
        else:
            begin_round(turn)


def _contradicts(turn: Turn, dip: Dip, status: Status, *, shares: tuple[float, ...]) -> bool:
    """Whether a reading is not of the place that all before it tell: steps were lost, or the drive turned back.

    `shares`: parts of its time spent about POINTS of its stretch.
    """
    noise = turn.state.ring.reading_noise
    got = min(status.reflected_power / max(status.forward_power, 1e-9), 1.0)
    start, end = status.over
    most = 0.0
    for share, point in zip(shares, POINTS, strict=True):
        place = start + point * (end - start)
        x = (abs(place - dip.centre) + 2.5 * dip.centre_sigma) / dip.half_width
        most += share * max(dip.floor - dip.depth / (1.0 + x * x), 0.0)
    return got > most * (1.0 + 6.0 * noise) + BOTTOM_ERROR


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
        ("readings", float(search.used)),
        ("carrier", search.carrier),
    )
    lesson = _lesson(turn, search, search.dip)
    if lesson is None:
        return
    turn.commands.append(
        Learnt(
            frequency=search.frequency,
            position=search.dip.centre - lesson.shift - search.turn_offset,
            sigma=search.dip.centre_sigma,
            temperature_c=status.temperature_c,
            swr=swr,
            readings=search.used,
            carrier=search.carrier,
            overrules=lesson.overrules,
        )
    )


@dataclass(frozen=True, slots=True)
class _Lesson:
    """What a dip teaches: `shift` [steps] by which the count was put right first, `overrules` whether for certain."""

    shift: float = 0.0
    overrules: bool = False


def _lesson(turn: Turn, search: Search, dip: Dip) -> _Lesson | None:
    """None where steps were lost and only a reference helps.

    A dip that is not where the table has it may mean a table that is off or steps that were lost. A count that an end
    stop has made sure, or that was carried on from there, is never moved: the soft ends would move with it. The dip
    teaches the table, and the count is not called proved before the end stop is found again. Farther off than the
    table can be, steps were lost, unless the count comes fresh from the end stop: then the table is wrong.
    """
    state = turn.state
    off = dip.centre - search.expected
    spread = math.hypot(state.curve.sigma(search.frequency), dip.centre_sigma)
    agrees = abs(off) <= AGREES * dip.half_width
    is_beyond = not agrees and abs(off) > LOST_SIGMAS * spread
    if not state.ring.has_end_stop:
        return _Lesson(shift=_put_right(turn, search, off=off, agrees=agrees, is_beyond=is_beyond))
    if not state.is_sure:
        return None
    if is_beyond and not state.is_from_stop:
        turn.tell(Word.STEPS_LOST, ("steps", off), ("corrected", 0.0))
        doubt(turn, Why.LOST_STEPS)
        return None
    turn.state = replace(state, is_from_stop=False, is_proved=state.is_proved and agrees)
    if state.is_proved and not agrees:
        assert state.tuned is not None
        turn.keep(state.tuned.position, None)  # a program that is killed now must not call it proved later
    return _Lesson(overrules=is_beyond)


def _put_right(turn: Turn, search: Search, *, off: float, agrees: bool, is_beyond: bool) -> float:
    """Steps by which the count of a capacitor without an end stop was put right: there the dip is the reference.

    If a dip was met at another frequency before, the count is known and the table learns.
    """
    state = turn.state
    is_elsewhere = (
        state.met is not None and abs(search.frequency - state.met) > APART * search.band.half_width
    )
    is_known = is_elsewhere and state.is_sure and not is_beyond
    turn.state = replace(state, met=search.frequency)
    if is_known or (state.is_sure and agrees):
        return 0.0
    tuned = state.tuned
    assert tuned is not None
    at = round(tuned.position - off)
    turn.tell(Word.STEPS_LOST, ("steps", off), ("corrected", 1.0))
    assert_count(turn, at)
    turn.state = replace(turn.state, tuned=replace(tuned, position=at))
    turn.keep(at, None)
    return off
