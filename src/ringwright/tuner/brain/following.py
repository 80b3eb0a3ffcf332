# SPDX-License-Identifier: BSD-3-Clause
"""Keeping a tuned ring tuned while it warms and cools: only when nobody transmits, and by what the table knows."""

from dataclasses import replace

from ringwright.tuner.brain.driving import set_goal_from_below
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.brain.words import Phase, Word
from ringwright.tuner.messages import Status

QUIET = 3.0
"""Seconds without a carrier, after which an over is taken for ended."""
LEAST_DRIFT = 0.1
"""Half-widths that are worth a move."""


def follow(turn: Turn, status: Status) -> None:
    """Move a tuned ring by what its temperature has changed since."""
    state = turn.state
    tuned, temperature = state.tuned, status.temperature_c
    is_quiet = turn.is_fresh and turn.now - state.keyed_at > QUIET
    if not state.is_following or tuned is None or not is_quiet or state.goal is not None:
        return
    if temperature is None or tuned.temperature_c is None or not state.is_sure:
        return
    there = state.curve.position(tuned.frequency, temperature)
    steps = there - state.curve.position(tuned.frequency, tuned.temperature_c)
    width = abs(state.curve.position(tuned.frequency + tuned.band.half_width, temperature) - there)
    to = state.ring.within_ends(tuned.position + steps)
    if abs(steps) < max(1.0, LEAST_DRIFT * width) or to == tuned.position:
        return
    turn.tell(Word.FOLLOWED, ("steps", float(to - tuned.position)))
    there_now = replace(tuned, position=to, temperature_c=temperature)
    turn.state = replace(state, tuned=there_now, invited=None, aim=None)
    turn.enter(Phase.TUNED)
    set_goal_from_below(turn, to)
