# SPDX-License-Identifier: BSD-3-Clause
"""The search for the dip, status by status."""

from dataclasses import replace

from ringwright.tuner.brain.course import means_a_place
from ringwright.tuner.brain.driving import stand_still
from ringwright.tuner.brain.evidence import add_reading
from ringwright.tuner.brain.gliding import glide, plan, scan_speed
from ringwright.tuner.brain.rounds import aim_anew, give_up
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.brain.words import Phase
from ringwright.tuner.messages import STALE, Status

SIGMAS = 2.0
"""How far from where the curve has it the dip is sought first, in the curve's standard deviations."""
BELOW = 1.3
"""The same below it: it is cheaper to come again for one dip in eight than to begin so far off each time."""
LEAST_REACH = 3.0
"""The same at least, half-widths."""
ASK_PATIENCE = 120.0
"""Seconds that the brain waits for a carrier."""


def seek(turn: Turn, status: Status, *, passed: float, is_whole: bool) -> None:
    """One more status while searching; `passed` [s] since the one before.

    `is_whole`: that one showed a carrier, too. Power of which a part of the reading's time had none is too little for
    diodes, and tells a wrong ratio.
    """
    search = turn.state.search
    assert search is not None
    if not turn.is_keyed:
        wait_for_carrier(turn)
        return
    search = replace(search, carrier=search.carrier + passed)
    turn.state = replace(turn.state, search=search)
    goal, is_returning = turn.state.goal, _is_returning(turn)
    is_evidence = is_whole and turn.is_fresh and _means_a_place(turn, status)
    if is_evidence:
        add_reading(turn, status)
    if is_returning:
        aim_anew(turn)
    elif is_evidence or (search.dip is not None and (search.target is not None or goal is None)):
        plan(turn, status)
    elif search.dip is None and turn.state.phase is Phase.SEARCHING:
        glide(turn, search, to=search.high, speed=scan_speed(turn))  # takes up the slack


def seek_late(turn: Turn, status: Status) -> None:
    """A status that newer ones overtook: where it was read is known all the same."""
    search, last = turn.state.search, turn.status
    assert search is not None
    assert last is not None
    is_recent = status.boots == last.boots and last.milliseconds - status.milliseconds <= 1000.0 * STALE
    if is_recent and search.readings and turn.shows_carrier(status) and status.over[0] < status.over[1]:
        if _means_a_place(turn, status):
            add_reading(turn, status, is_late=True)
        if _is_returning(turn):
            aim_anew(turn)


def _is_returning(turn: Turn) -> bool:
    goal = turn.state.goal
    return goal is not None and goal.via is not None


def _means_a_place(turn: Turn, status: Status) -> bool:
    course = turn.state.course
    return course is not None and means_a_place(course, turn.state.ring, status.over)


def wait_for_carrier(turn: Turn) -> None:
    """No carrier: nothing is learnt, so nothing moves."""
    if turn.state.goal is not None and turn.state.phase is Phase.SEARCHING:
        stand_still(turn)
    if turn.now - turn.state.phase_since > ASK_PATIENCE:
        give_up(turn)
