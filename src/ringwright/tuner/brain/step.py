# SPDX-License-Identifier: BSD-3-Clause
"""The brain's one function: what happened, in; what to do, out."""

from dataclasses import replace

from ringwright.tuner.brain import events
from ringwright.tuner.brain.board_contact import lose_link, take_acknowledgement, take_status, uphold
from ringwright.tuner.brain.commands import Command
from ringwright.tuner.brain.driving import drive, say_stop
from ringwright.tuner.brain.errands import (
    ask,
    finish_listening,
    listen,
    reference,
    start_listening,
)
from ringwright.tuner.brain.following import follow
from ringwright.tuner.brain.landing import confirm, glide_ended
from ringwright.tuner.brain.nudging import go_on_nudging, nudge_arrived
from ringwright.tuner.brain.power import watch_power
from ringwright.tuner.brain.rounds import give_up
from ringwright.tuner.brain.seeking import (
    ASK_PATIENCE,
    seek,
    seek_late,
)
from ringwright.tuner.brain.state import State
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.brain.words import Phase, Why, Word
from ringwright.tuner.messages import Status

_SEARCH_PHASES = frozenset({Phase.SEARCHING, Phase.RETURNING, Phase.CONFIRMING})


def step(state: State, event: events.Event, now: float) -> tuple[State, tuple[Command, ...]]:
    """The next state and what to do, in order. `now` [s] never goes back."""
    turn = Turn(state, now)
    match event:
        case events.StatusSeen(status):
            _see(turn, status)
        case events.AcknowledgementSeen(answer):
            take_acknowledgement(turn, answer)
        case events.LinkLost():
            lose_link(turn)
            turn.state = replace(turn.state, contact=replace(turn.state.contact, is_open=False))
        case events.LinkFound():
            turn.state = replace(turn.state, contact=replace(turn.state.contact, is_open=True, beat_at=None))
        case events.CurveLearnt(curve):
            turn.state = replace(turn.state, curve=curve)
        case events.Asked(asked):
            ask(turn, asked)
        case events.Tick():
            pass
    uphold(turn)
    _uphold_stop(turn)
    _let_time_pass(turn)
    if drive(turn):
        _arrive(turn)
        drive(turn)
    return turn.state, tuple(turn.commands)


def _see(turn: Turn, status: Status) -> None:
    before = turn.state.contact.status
    if not take_status(turn, status):
        if turn.state.phase in _SEARCH_PHASES:
            seek_late(turn, status)
        return
    is_same = before is not None and before.boots == status.boots
    passed = (status.milliseconds - before.milliseconds) / 1000.0 if is_same and before is not None else 0.0
    was_keyed = is_same and before is not None and turn.shows_carrier(before)
    if turn.is_keyed:
        turn.state = replace(turn.state, keyed_at=turn.now)
    watch_power(turn, status)
    _bar_high_power(turn, status)
    match turn.state.phase:
        case Phase.ASKING if turn.is_keyed and turn.is_fresh and turn.state.invited is not None:
            turn.tell(Word.SEARCH_BEGAN)
            turn.enter(Phase.SEARCHING)
            seek(turn, status, passed=0.0, is_whole=False)
        case Phase.SEARCHING | Phase.RETURNING:
            seek(turn, status, passed=min(passed, 0.5), is_whole=was_keyed)
        case Phase.CONFIRMING:
            confirm(turn, status, passed=min(passed, 0.5), is_whole=was_keyed)
        case Phase.LISTENING:
            listen(turn)
        case Phase.REFERENCING:
            reference(turn)
        case Phase.TUNED | Phase.AT_POWER:
            follow(turn, status)
        case _:
            pass


def _bar_high_power(turn: Turn, status: Status) -> None:
    """Power above the tuning limit while the drive moves or waits to: call the operator off."""
    state = turn.state
    is_busy = state.goal is not None or state.phase in _SEARCH_PHASES | {Phase.ASKING} or status.is_moving
    if status.forward_power <= state.ring.tuning_limit or not is_busy or state.is_barred:
        return
    turn.tell(Word.KEYED_TOO_HIGH, ("forward", status.forward_power), ("limit", state.ring.tuning_limit))
    turn.call_key_up(Why.OVER_TUNING_LIMIT)
    if status.is_moving:
        say_stop(turn)


def _uphold_stop(turn: Turn) -> None:
    """STOP and the lock are levels: while one holds, a board that moves is told to stop, again and again."""
    status = turn.status
    is_held = turn.state.is_stopped or turn.state.lock is not None
    if is_held and turn.state.goal is not None:
        turn.state = replace(turn.state, goal=None)
    if is_held and status is not None and status.is_moving and turn.now - turn.state.contact.stop_at > 0.1:
        say_stop(turn)


def _let_time_pass(turn: Turn) -> None:
    """What happens by waiting."""
    state = turn.state
    waited = turn.now - state.phase_since
    if state.phase is Phase.NUDGING:
        go_on_nudging(turn)
    elif state.phase is Phase.ASKING and waited > ASK_PATIENCE:
        give_up(turn)
    elif _wants_carrier(state):
        _invite_to_search(turn)


def _wants_carrier(state: State) -> bool:
    """Whether a tuning carrier is needed, and none was asked for."""
    if state.invited is not None or state.is_barred or state.search is None:
        return False
    is_on_last_way = state.phase is Phase.RETURNING and state.search.target is not None
    return is_on_last_way or state.phase in {Phase.ASKING, Phase.SEARCHING, Phase.CONFIRMING}


def _invite_to_search(turn: Turn) -> None:
    """Ask for the tuning carrier, with a fresh reading at hand only."""
    if not turn.is_fresh or turn.state.is_stopped or turn.state.lock is not None:
        return
    power = turn.state.ring.tuning_power
    turn.invite(power)
    search = turn.state.search
    where = () if search is None else (("frequency", search.frequency),)
    turn.tell(Word.KEY_LOW, ("power", power), *where)


def _arrive(turn: Turn) -> None:
    """A goal was reached."""
    state, status = turn.state, turn.status
    assert status is not None
    search = state.search
    match state.phase:
        case Phase.TRAVELLING if search is not None and search.target is None:
            turn.enter(Phase.ASKING)
            _invite_to_search(turn)
        case Phase.TRAVELLING:
            assert search is not None
            turn.tell(Word.ARRIVED, ("frequency", search.frequency), ("position", float(status.at)))
            turn.state = replace(state, search=None)
            turn.rest()
        case Phase.SEARCHING:
            glide_ended(turn, status)
        case Phase.RETURNING if search is not None and search.target is not None:
            glide_ended(turn, status)
        case Phase.RETURNING:
            turn.enter(Phase.ASKING)
        case Phase.LISTENING:
            _listen_on(turn)
        case Phase.NUDGING:
            nudge_arrived(turn)
        case _:
            pass


def _listen_on(turn: Turn) -> None:
    search, status = turn.state.search, turn.status
    assert search is not None
    assert status is not None
    if status.at >= search.high:
        finish_listening(turn)
    else:
        start_listening(turn, search)
