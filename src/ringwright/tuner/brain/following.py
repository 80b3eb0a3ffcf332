# SPDX-License-Identifier: BSD-3-Clause
"""Keeping a tuned ring tuned while it warms and cools: only when nobody transmits, and by what the table knows."""

from dataclasses import replace

from ringwright.tuner.brain.driving import set_goal_from_below
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.brain.words import Word
from ringwright.tuner.messages import Status

LEAST_DRIFT = 0.1
"""Half-widths that are worth a move."""


def follow(turn: Turn, status: Status) -> None:
    """Move a tuned ring by what its temperature has changed since."""
    state = turn.state
    tuned, temperature = state.tuned, status.temperature_c
    if (
        not state.is_following
        or tuned is None
        or turn.is_keyed
        or not turn.is_fresh
        or state.goal is not None
    ):
        return
    if temperature is None or tuned.temperature_c is None or not state.is_sure or state.invited is not None:
        return
    there = state.curve.position(tuned.frequency, temperature)
    steps = there - state.curve.position(tuned.frequency, tuned.temperature_c)
    width = abs(state.curve.position(tuned.frequency + tuned.band.half_width, temperature) - there)
    to = state.ring.within_ends(tuned.position + steps)
    if abs(steps) < max(1.0, LEAST_DRIFT * width) or to == tuned.position:
        return
    turn.tell(Word.FOLLOWED, ("steps", float(to - tuned.position)))
    turn.state = replace(state, tuned=replace(tuned, position=to, temperature_c=temperature))
    set_goal_from_below(turn, to)
