# SPDX-License-Identifier: BSD-3-Clause
"""Getting the drive where it is wanted, and never when it must not move."""

from dataclasses import replace

from ringwright.tuner.brain.board_contact import SAY_AGAIN, doubt, ends_wanted
from ringwright.tuner.brain.course import run_up
from ringwright.tuner.brain.state import Goal
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.brain.words import Phase, Why, Word
from ringwright.tuner.messages import Move, Status, Stop

PATIENCE = 5.0
"""Seconds without a step after which a drive that may move and has a goal is stuck."""
TWICE = 2
"""Times that an order to move is sent: one of fifty is lost on the way, and the sooner of two counts."""
MOVE_AGAIN = 0.08
"""Seconds after which an order to move that the board does not show is said again, plus a round trip."""


def may_move(turn: Turn) -> bool:
    """Whether a step may be asked for now: the one place where this is decided."""
    state, status = turn.state, turn.status
    return (
        status is not None
        and turn.is_fresh
        and status.forward_power <= state.ring.tuning_limit
        and not state.is_stopped
        and state.lock is None
        and state.phase is not Phase.AWAY
        and state.contact.is_open
        and state.asserted is None
        and state.contact.is_limited
        and status.ends == ends_wanted(turn)
    )


def set_goal(turn: Turn, to: int, *, speed: int | None = None) -> None:
    """Go straight to a place, without a rest if on the way."""
    goal = turn.state.goal
    to = turn.state.ring.within_ends(to)
    if goal is not None and goal.via is None and goal.to == to and goal.speed == speed:
        return
    turn.state = replace(turn.state, goal=Goal(via=None, to=to, speed=speed, since=turn.now))


def set_goal_from_below(turn: Turn, to: int, *, below: int | None = None) -> None:
    """Go to a place so that the slack is taken up there, and already at `below` if that is given."""
    state, status = turn.state, turn.status
    assert status is not None
    ring = state.ring
    to = ring.within_ends(to)
    below = ring.within_ends((to if below is None else min(below, to)) - run_up(ring))
    via = None if status.at <= below else below
    turn.state = replace(state, goal=Goal(via=via, to=to, since=turn.now))


def stand_still(turn: Turn) -> None:
    """Forget the goal and stop, now and as long as the board still moves."""
    turn.state = replace(turn.state, goal=None)
    status, contact = turn.status, turn.state.contact
    if status is not None and (status.is_moving or contact.stop_at < contact.heard_at - SAY_AGAIN):
        say_stop(turn)


def say_stop(turn: Turn) -> None:
    """Send STOP."""
    turn.send(Stop())
    turn.state = replace(turn.state, contact=replace(turn.state.contact, stop_at=turn.now))


def drive(turn: Turn) -> bool:
    """Bring board and goal together; True once, when the goal is reached."""
    goal, status = turn.state.goal, turn.status
    if status is None or turn.state.phase is Phase.AWAY:
        return False
    if goal is None:
        _expect_rest(turn, status)
        return False
    is_there = not status.is_moving and status.to is None
    if is_there and status.at == goal.to and goal.via is None:
        turn.state = replace(turn.state, goal=None)
        turn.keep(status.at, None)
        return True
    if is_there and status.at == goal.via:
        turn.state = replace(turn.state, goal=replace(goal, via=None, sent_at=None))
    if may_move(turn):
        _go_on(turn, status)
    elif status.is_moving:
        _halt(turn)
    return False


def _go_on(turn: Turn, status: Status) -> None:
    """Say where to go, unless the board is on its way there."""
    if _has_given_up(turn, status):
        return
    goal = turn.state.goal
    assert goal is not None
    leg = goal.to if goal.via is None else goal.via
    waited = float("inf") if goal.sent_at is None else turn.now - goal.sent_at
    is_heard = status.to == leg or waited <= MOVE_AGAIN + turn.state.contact.round_trip
    if goal.sent_at is not None and is_heard:
        return
    if turn.state.kept is None or turn.state.kept.to is None:
        turn.keep(status.at, leg)
    order = Move(leg, None if goal.via is not None else goal.speed)
    seq = [turn.send(order) for _ in range(TWICE)][-1]
    contact = replace(turn.state.contact, moved_at=turn.now, move_seq=seq)
    turn.state = replace(turn.state, contact=contact, goal=replace(goal, sent_at=turn.now))


def _halt(turn: Turn) -> None:
    """Something forbids to move: stop, keep the goal for when it does not."""
    contact = turn.state.contact
    if turn.now - contact.stop_at > SAY_AGAIN:
        say_stop(turn)
    if turn.state.goal is not None:
        turn.state = replace(turn.state, goal=replace(turn.state.goal, sent_at=None, since=turn.now))


def _has_given_up(turn: Turn, status: Status) -> bool:
    goal = turn.state.goal
    assert goal is not None
    if goal.last_at != status.at:
        turn.state = replace(turn.state, goal=replace(goal, last_at=status.at, since=turn.now))
        return False
    if turn.now - goal.since <= PATIENCE:
        return False
    turn.tell(Word.STUCK)
    stand_still(turn)
    if turn.state.invited is not None:
        turn.call_key_up(Why.GAVE_UP)
    doubt(turn, Why.LOST_STEPS)
    turn.state = replace(turn.state, search=None, pending=None)
    turn.rest()
    return True


def _expect_rest(turn: Turn, status: Status) -> None:
    """Without a goal the drive stands; a board that still moves is told so again and again."""
    if turn.state.phase is Phase.REFERENCING:
        return
    if status.is_moving:
        if turn.now - turn.state.contact.stop_at > SAY_AGAIN + turn.state.contact.round_trip:
            say_stop(turn)
    elif turn.state.kept is None or turn.state.kept.to is not None or turn.state.kept.at != status.at:
        turn.keep(status.at, None)
