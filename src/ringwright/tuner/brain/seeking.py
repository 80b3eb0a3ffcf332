# SPDX-License-Identifier: BSD-3-Clause
"""The search for the dip, status by status."""

from dataclasses import replace

from ringwright.tuner.brain.course import means_a_place
from ringwright.tuner.brain.driving import stand_still
from ringwright.tuner.brain.evidence import add_reading
from ringwright.tuner.brain.gliding import glide, plan, scan_speed
from ringwright.tuner.brain.rounds import give_up
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.brain.words import Phase
from ringwright.tuner.messages import Status

SIGMAS = 3.0
"""How far from where the curve has it the dip is sought first, in the curve's standard deviations."""
BELOW = 1.75
"""The same below it: it is cheaper to come again for one dip in twenty-five than to begin so far off each time."""
LEAST_REACH = 3.0
"""The same at least, half-widths."""
ASK_PATIENCE = 120.0
"""Seconds that the brain waits for a carrier."""


def seek(turn: Turn, status: Status, *, passed: float) -> None:
    """One more status while searching; `passed` [s] since the one before."""
    search = turn.state.search
    assert search is not None
    if not turn.is_keyed:
        wait_for_carrier(turn)
        return
    search = replace(search, carrier=search.carrier + passed)
    turn.state = replace(turn.state, search=search)
    course, goal = turn.state.course, turn.state.goal
    if goal is not None and goal.via is not None:
        return  # it turns round somewhere: the count tells nothing
    if course is not None and turn.is_fresh and means_a_place(course, turn.state.ring, status.over):
        add_reading(turn, status)
        plan(turn, status)
    elif search.dip is not None and search.target is not None:
        plan(turn, status)
    elif turn.state.goal is None and turn.state.phase is Phase.SEARCHING:
        glide(turn, search, to=search.high, speed=scan_speed(turn))  # takes up the slack


def wait_for_carrier(turn: Turn) -> None:
    """No carrier: nothing is learnt, so nothing moves."""
    if turn.state.goal is not None and turn.state.phase is Phase.SEARCHING:
        stand_still(turn)
    if turn.now - turn.state.phase_since > ASK_PATIENCE:
        give_up(turn)
