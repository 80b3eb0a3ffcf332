# SPDX-License-Identifier: BSD-3-Clause
"""From below, again: the ways of a search that begin anew, and its end without a dip."""

import math
from dataclasses import replace

from ringwright.tuner.brain.board_contact import doubt
from ringwright.tuner.brain.course import run_up, stick
from ringwright.tuner.brain.detuning import to_count
from ringwright.tuner.brain.dip import Dip
from ringwright.tuner.brain.driving import set_goal_from_below, stand_still
from ringwright.tuner.brain.evidence import bearable, regret
from ringwright.tuner.brain.state import Search
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.brain.words import Phase, Why, Word

APPROACH = 1.8
"""Half-widths below the centre where the last way up begins."""
ASIDE = 0.15
"""Half-widths aside of the best place at which to rest for comparison, where a step is not more; own choice."""
LONG_RETURN = 0.7
"""Seconds from which it is worth the operator's while to let go and key again."""
MOST_ROUNDS = 6
MOST_WIDENED = 2


def way_back(turn: Turn) -> float:
    """Seconds from here to below and up again."""
    ring = turn.state.ring
    return 2.0 * run_up(ring) / ring.speed + turn.state.contact.round_trip


def begin_round(turn: Turn) -> None:
    """Back below, then up to the centre without a rest; if that takes long, the carrier rests meanwhile."""
    search = turn.state.search
    assert search is not None
    dip = search.dip
    assert dip is not None
    if search.rounds >= MOST_ROUNDS:
        give_up(turn)
        return
    is_long = way_back(turn) > LONG_RETURN
    aside = 0 if is_long or search.has_compared else _aside(search, dip)
    search = replace(search, aside=aside, has_compared=search.has_compared or aside != 0)
    best = aim(search, dip)
    search = replace(search, rounds=search.rounds + 1, target=None if is_long else best, confirmations=0)
    turn.state = replace(turn.state, search=search)
    approach = _approach(turn, search, dip)
    if is_long:
        turn.call_key_up(Why.LONG_WAY)
        set_goal_from_below(turn, approach - stick(turn.state.ring))
    else:
        set_goal_from_below(turn, best, below=min(approach, best))
    turn.enter(Phase.RETURNING)


def aim(search: Search, dip: Dip) -> int:
    """Where to rest next: the best whole step, or for once a little aside."""
    return round(dip.centre) + search.aside


def _aside(search: Search, dip: Dip) -> int:
    """Steps to the other side of the centre, if the best place was rested at already: more of the same tells nothing.

    Near the bottom little comes back and is read with a small error, so that two places of rest tell the centre best.
    """
    best = round(dip.centre)
    if not any(reading.start == reading.end == best for reading in search.readings):
        return 0
    steps = max(1, round(ASIDE * dip.half_width))
    return -steps if dip.centre < best else steps


def aim_anew(turn: Turn) -> None:
    """On the way back below: what was read before the turn and came late tells better where to."""
    search, goal = turn.state.search, turn.state.goal
    if search is None or search.dip is None or goal is None or goal.via is None:
        return
    ring, best = turn.state.ring, aim(search, search.dip)
    approach = _approach(turn, search, search.dip)
    to = ring.within_ends(approach - stick(ring)) if search.target is None else ring.within_ends(best)
    via = ring.within_ends(min(approach, to) - run_up(ring))
    is_elsewhere = abs(via - goal.via) > 1
    if is_elsewhere or to != goal.to:
        target = None if search.target is None else best
        sent_at = None if is_elsewhere else goal.sent_at
        goal = replace(goal, via=via if is_elsewhere else goal.via, to=to, sent_at=sent_at)
        turn.state = replace(turn.state, search=replace(search, target=target), goal=goal)


def _approach(turn: Turn, search: Search, dip: Dip) -> int:
    """Where the last way up begins: at the place itself if it is known, else so that its flank is read again."""
    best = round(dip.centre)
    if regret(dip, best) <= bearable(search):
        return best
    assert search.fit is not None
    return math.floor(to_count(turn, search, search.fit.centre - APPROACH))


def start_over(turn: Turn) -> None:
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
    go_below(turn)


def widen(turn: Turn) -> None:
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
    go_below(turn)


def go_below(turn: Turn) -> None:
    search = turn.state.search
    assert search is not None
    turn.state = replace(turn.state, search=replace(search, target=None))
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
    turn.rest()
