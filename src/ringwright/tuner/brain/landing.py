# SPDX-License-Identifier: BSD-3-Clause
"""At the bottom of the dip, or where it should be: read, be content or come again, and learn from it."""

import math
from dataclasses import replace

from ringwright.tuner.brain.board_contact import assert_count, doubt
from ringwright.tuner.brain.commands import Learnt
from ringwright.tuner.brain.course import stick
from ringwright.tuner.brain.dip import Dip
from ringwright.tuner.brain.evidence import add_reading, regret
from ringwright.tuner.brain.gliding import MOST_EXCESS, bearable, go_home
from ringwright.tuner.brain.rounds import begin_round, start_over, widen
from ringwright.tuner.brain.seeking import wait_for_carrier
from ringwright.tuner.brain.state import Search, Tuned
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.brain.words import Phase, Why, Word
from ringwright.tuner.messages import Status

BOTTOM_ERROR = 0.02
"""Of reflected over forward power: error of a fit at the bottom that was not read yet."""
ENOUGH_ROUNDS = 3
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


def breaks_loose(turn: Turn, dip: Dip, status: Status) -> bool:
    """Whether a rotor that rests here, below the centre, will slide again before it is there."""
    return dip.centre - status.at > stick(turn.state.ring) + max(1.0, 0.05 * dip.half_width)


def confirm(turn: Turn, status: Status, *, passed: float) -> None:
    """Stands where the dip should be: read, and be content or come again."""
    search = turn.state.search
    assert search is not None
    if not turn.is_keyed:
        wait_for_carrier(turn)
        return
    search = replace(search, carrier=search.carrier + passed)
    turn.state = replace(turn.state, search=search)
    if status.is_moving or status.over[0] != status.over[1] or not turn.is_fresh:
        return
    if search.dip is not None and _contradicts(turn, search.dip, status):
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
    if regret(dip, status.at) <= bearable(search):
        succeed(turn, status)
    elif breaks_loose(turn, dip, status):
        turn.enter(Phase.SEARCHING)
        go_home(turn, status, search=search, dip=dip)
    elif search.confirmations >= 2:
        here = regret(replace(dip, centre_sigma=0.0), status.at)
        if here <= MOST_EXCESS and search.rounds >= ENOUGH_ROUNDS:
            succeed(turn, status)
        else:
            begin_round(turn)


def _contradicts(turn: Turn, dip: Dip, status: Status) -> bool:
    """Whether the reading at rest is not of the place that all before it tell: steps were lost, or it turned back."""
    noise = turn.state.ring.reading_noise
    got = min(status.reflected_power / max(status.forward_power, 1e-9), 1.0)
    x = (abs(status.at - dip.centre) + 2.5 * dip.centre_sigma) / dip.half_width
    most = max(dip.floor - dip.depth / (1.0 + x * x), 0.0)
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
