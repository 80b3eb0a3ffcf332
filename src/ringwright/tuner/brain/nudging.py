# SPDX-License-Identifier: BSD-3-Clause
"""Nudges: a tap goes as far as its label says and stands; a held button goes as far again from time to time."""

from dataclasses import replace

from ringwright.tuner.brain.board_contact import abandon
from ringwright.tuner.brain.driving import may_move, set_goal, set_goal_from_below, stand_still
from ringwright.tuner.brain.state import Nudging
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.brain.words import Phase, Why, Word

NUDGE_PATIENCE = 0.5
"""Seconds after the last word of a held nudge button at which the drive stands still."""
AGAIN = 0.5
"""Seconds from the beginning of one way to that of the next while the button is held."""
TO_ITS_END = 3.0
"""Seconds in which a way that was begun may go to its end after the button is let go."""
REST_PATIENCE = 5.0
"""Seconds in which a drive that was told to stand comes to rest, or never."""


def nudge(turn: Turn, change: float) -> None:
    """The button is down, or is said to be down still."""
    if not _begin(turn):
        return
    state, status = turn.state, turn.status
    assert status is not None
    under_way = state.nudging
    if under_way is not None and under_way.is_held and under_way.change == change:
        return
    start = status.at if under_way is None else under_way.start
    turn.state = replace(state, nudging=Nudging(start=start, change=change, stepped_at=turn.now))
    _go_further(turn)


def jog(turn: Turn, to: int, speed: int | None) -> None:
    """Go straight to a count as long as this is said again."""
    if _begin(turn):
        turn.state = replace(turn.state, nudging=None)
        set_goal(turn, to, speed=speed)


def let_go(turn: Turn) -> None:
    """The button is up."""
    state = turn.state
    if state.phase is not Phase.NUDGING:
        return
    if state.nudging is None or state.goal is None:
        _stand(turn)
    else:
        turn.state = replace(state, nudging=replace(state.nudging, is_held=False), nudged_at=turn.now)


def go_on_nudging(turn: Turn) -> None:
    """Time went on: as far again, or an end where nobody says any more that the button is down."""
    state, status = turn.state, turn.status
    nudging = state.nudging
    waited = float("inf") if state.nudged_at is None else turn.now - state.nudged_at
    is_held = nudging is None or nudging.is_held
    if nudging is not None and nudging.is_over:
        if status is None or not status.is_moving or waited > REST_PATIENCE:
            _tell_and_rest(turn)
    elif waited > (NUDGE_PATIENCE if is_held else TO_ITS_END) or not (is_held or may_move(turn)):
        _stand(turn)
    elif nudging is not None and is_held and state.goal is None and turn.now - nudging.stepped_at >= AGAIN:
        turn.state = replace(state, nudging=replace(nudging, stepped_at=turn.now))
        _go_further(turn)


def nudge_arrived(turn: Turn) -> None:
    """The drive has gone as far as it was to go."""
    nudging = turn.state.nudging
    if nudging is not None and not nudging.is_held:
        _stand(turn)


def _begin(turn: Turn) -> bool:
    """Whether the drive may move as long as a button is held."""
    state, status = turn.state, turn.status
    assert status is not None
    if status.forward_power > state.ring.tuning_limit:
        turn.refuse(Why.KEYED)
        return False
    if state.phase is not Phase.NUDGING:
        if state.phase not in {Phase.RESTING, Phase.TUNED}:
            abandon(turn)
        turn.state = replace(turn.state, nudging=None)
        turn.enter(Phase.NUDGING)
    turn.state = replace(turn.state, tuned=None, nudged_at=turn.now)
    return True


def _go_further(turn: Turn) -> None:
    """Once more by what the label says, from where the drive is wanted, at least one step; coming from below."""
    state, status = turn.state, turn.status
    assert status is not None
    assert state.nudging is not None
    start = status.at if state.goal is None else state.goal.to
    offset = _turns_below(turn, start)
    here = state.curve.frequency(start - offset, status.temperature_c)
    to = state.curve.position(here + state.nudging.change, status.temperature_c) + offset
    target = state.ring.within_ends(to)
    if target == start and round(to) == start:
        target = state.ring.within_ends(start + (1 if to > start else -1))
    if target != start:
        set_goal_from_below(turn, target)
    else:
        turn.refuse(Why.OUT_OF_TRAVEL)
        turn.state = replace(turn.state, nudging=replace(state.nudging, stepped_at=float("inf")))


def _turns_below(turn: Turn, count: int) -> int:
    """Whole turns, in steps, by which a count lies above the curve's, for a capacitor that turns round and round."""
    turns = turn.state.ring.steps_per_turn
    return 0 if turns is None else turns * (count // turns)


def _stand(turn: Turn) -> None:
    """Stop; what became of it is told when the drive stands."""
    state, status = turn.state, turn.status
    stand_still(turn)
    if state.nudging is None or status is None:
        turn.state = replace(turn.state, nudged_at=None)
        turn.rest()
        return
    turn.state = replace(turn.state, nudging=replace(state.nudging, is_over=True), nudged_at=turn.now)
    if not status.is_moving:
        _tell_and_rest(turn)


def _tell_and_rest(turn: Turn) -> None:
    state, status = turn.state, turn.status
    nudging = state.nudging
    assert nudging is not None
    if status is not None and status.at != nudging.start:
        offset = _turns_below(turn, status.at)
        here, before = (
            state.curve.frequency(at - offset, status.temperature_c) for at in (status.at, nudging.start)
        )
        change = ("change", here - before)
        turn.tell(Word.NUDGED, change, ("steps", float(status.at - nudging.start)), ("frequency", here))
    turn.state = replace(state, nudging=None, nudged_at=None)
    turn.rest()
