# SPDX-License-Identifier: BSD-3-Clause
"""What a person may ask for, and what becomes of it."""

from dataclasses import replace

from ringwright.tuner.brain import events
from ringwright.tuner.brain.board_contact import SAY_AGAIN, abandon, ends_wanted
from ringwright.tuner.brain.course import stick
from ringwright.tuner.brain.driving import say_stop, set_goal, set_goal_from_below, stand_still
from ringwright.tuner.brain.nudging import jog, let_go, nudge
from ringwright.tuner.brain.power import begin_rise
from ringwright.tuner.brain.ring import Band, Ring
from ringwright.tuner.brain.seeking import BELOW, LEAST_REACH, SIGMAS
from ringwright.tuner.brain.state import Search
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.brain.words import Phase, Why, Word
from ringwright.tuner.messages import Position, Reference, Status

SEEK_SLACK = 1.2
"""Times the travel in which an end stop is met or never; the board itself goes 1.1 times the travel."""
LISTENED = 1.5
"""Half-widths to which an ear or a level meter finds the band by its noise; common practice, no source."""
LISTEN_SPEED = 4.0
"""Half-widths a second: slow enough for an ear."""


def ask(turn: Turn, asked: events.Ask) -> None:
    """Do what a person asks for, or say why not."""
    match asked:
        case events.PressStop():
            _press_stop(turn)
        case events.Release():
            _release(turn)
        case events.ClearLock():
            _clear_lock(turn)
        case events.Follow(is_on):
            turn.state = replace(turn.state, is_following=is_on)
        case events.LoudestNow():
            _note_loudest(turn)
        case events.NudgeOver():
            let_go(turn)
        case _:
            why = _hindrance(turn)
            if why is not None:
                turn.refuse(why)
            else:
                _errand(turn, asked)


def _release(turn: Turn) -> None:
    if turn.state.is_stopped:
        turn.state = replace(turn.state, is_stopped=False)
        turn.tell(Word.RELEASED)
        if turn.state.phase is Phase.STOPPED:
            turn.rest()


def _clear_lock(turn: Turn) -> None:
    if turn.state.lock is not None:
        turn.state = replace(turn.state, lock=None)
        turn.tell(Word.CLEARED)
        if turn.state.phase is Phase.LOCKED:
            turn.rest()


def _hindrance(turn: Turn) -> Why | None:
    """What forbids any errand."""
    state = turn.state
    if state.is_stopped:
        return Why.STOP_HELD
    if state.lock is not None:
        return Why.LOCKED
    if state.phase is Phase.AWAY or turn.status is None:
        return Why.NO_LINK
    if not turn.is_fresh:
        return Why.STALE
    return None


def _errand(turn: Turn, asked: events.Ask) -> None:
    match asked:
        case events.Tune() | events.GoTo() | events.Listen():
            _go_somewhere(turn, asked)
        case events.Nudge(change):
            nudge(turn, change)
        case events.Jog(to, speed):
            jog(turn, to, speed)
        case events.Rise(power):
            begin_rise(turn, power)
        case events.FindReference():
            if turn.state.ring.has_end_stop:
                begin_reference(turn, None)
            else:
                turn.refuse(Why.NO_END_STOP)


def _press_stop(turn: Turn) -> None:
    if not turn.state.is_stopped:
        turn.tell(Word.STOPPED)
    abandon(turn)
    turn.state = replace(turn.state, is_stopped=True)
    stand_still(turn)
    if turn.state.phase not in {Phase.AWAY, Phase.LOCKED}:
        turn.enter(Phase.STOPPED)


def begin_reference(turn: Turn, pending: events.Tune | events.GoTo | None) -> None:
    """Seek the end stop, then do what waits for it."""
    status = turn.status
    assert status is not None
    abandon(turn)
    if status.forward_power > turn.state.ring.tuning_limit:
        turn.refuse(Why.KEYED)
        return
    turn.state = replace(turn.state, pending=pending, referencing_at=None)
    turn.enter(Phase.REFERENCING)


def _go_somewhere(turn: Turn, asked: events.Tune | events.GoTo | events.Listen) -> None:
    state, status = turn.state, turn.status
    assert status is not None
    band = state.ring.band_of(asked.frequency)
    if band is None:
        turn.refuse(Why.OUT_OF_BAND)
        return
    if status.forward_power > state.ring.tuning_limit:
        turn.refuse(Why.KEYED)
        return
    if not state.is_sure and state.ring.has_end_stop:
        begin_reference(turn, asked if not isinstance(asked, events.Listen) else None)
        return
    if not state.is_sure and not isinstance(asked, events.Tune):
        turn.refuse(Why.NOT_SURE)  # without an end stop only the dip itself tells where the drive is
        return
    search = _search_for(turn, band, asked.frequency)
    if search is None:
        turn.refuse(Why.OUT_OF_TRAVEL)
        return
    abandon(turn)
    turn.state = replace(turn.state, search=search)
    match asked:
        case events.Tune():
            set_goal_from_below(turn, search.low - stick(state.ring))
            turn.enter(Phase.TRAVELLING)
        case events.GoTo():
            turn.state = replace(turn.state, search=replace(search, target=round(search.expected)))
            set_goal_from_below(turn, round(search.expected))
            turn.enter(Phase.TRAVELLING)
        case events.Listen():
            turn.state = replace(turn.state, loudest=None, loudness=None)
            set_goal_from_below(turn, search.low - stick(state.ring))
            turn.enter(Phase.LISTENING)


def _search_for(turn: Turn, band: Band, frequency: float) -> Search | None:
    """The window in which the dip is sought; None where the travel does not reach it."""
    state, status = turn.state, turn.status
    assert status is not None
    curve, ring = state.curve, state.ring
    temperature = status.temperature_c
    expected = curve.position(frequency, temperature)
    offset = 0
    if ring.steps_per_turn is not None:
        offset = ring.steps_per_turn * round((status.at - expected) / ring.steps_per_turn)
        expected += offset
    sigma = max(curve.sigma(frequency), 1.0)
    half_width = abs(
        curve.position(frequency + 0.5 * band.half_width, temperature)
        - curve.position(frequency - 0.5 * band.half_width, temperature)
    )
    if not state.is_sure:
        sigma = max(sigma, 0.25 * ring.speed, 20.0 * half_width)
    if state.loudest is not None and state.loudest[0] == frequency:
        expected, sigma = float(state.loudest[1]), min(sigma, LISTENED * half_width)
    if round(expected) != ring.within_ends(expected):
        return None
    reach = max(SIGMAS * sigma, LEAST_REACH * half_width)
    below = max(BELOW * sigma, LEAST_REACH * half_width)
    return Search(
        frequency=frequency,
        band=band,
        low=ring.within_ends(expected - below),
        high=ring.within_ends(expected + reach),
        expected=expected,
        sigma=sigma,
        turn_offset=offset,
        temperature_c=temperature,
    )


def _note_loudest(turn: Turn) -> None:
    search, status = turn.state.search, turn.status
    if turn.state.phase is not Phase.LISTENING or search is None or status is None:
        turn.refuse(Why.NOT_TUNED)
        return
    turn.state = replace(turn.state, loudest=(search.frequency, status.at))
    finish_listening(turn)


def finish_listening(turn: Turn) -> None:
    """Stop and say where the noise was loudest."""
    loudest = turn.state.loudest
    stand_still(turn)
    if loudest is None:
        turn.refuse(Why.NO_NOISE)
    else:
        turn.tell(Word.LOUDEST, ("frequency", loudest[0]), ("position", float(loudest[1])))
    turn.state = replace(turn.state, search=None)
    turn.rest()


def listen(turn: Turn) -> None:
    """One more status on the slow way past where the band should be."""
    state, status = turn.state, turn.status
    assert status is not None
    assert state.search is not None
    level = status.noise_db
    course = state.course
    is_engaged = course is not None and status.over[0] >= course.engaged_from
    if level is not None and is_engaged and (state.loudness is None or level > state.loudness):
        place = round((status.over[0] + status.over[1]) / 2)
        turn.state = replace(state, loudness=level, loudest=(state.search.frequency, place))


def start_listening(turn: Turn, search: Search) -> None:
    """Turn slowly upwards."""
    curve, at = turn.state.curve, search.expected - search.turn_offset
    hertz = abs(curve.frequency(at + 1.0, search.temperature_c) - curve.frequency(at, search.temperature_c))
    speed = max(1, round(LISTEN_SPEED * search.band.half_width / max(hertz, 1e-9)))
    set_goal(turn, search.high, speed=min(speed, round(turn.state.ring.speed)))


def reference(turn: Turn) -> None:
    """Seek the end stop: first the board must doubt its count, then it must be sure again."""
    state, status = turn.state, turn.status
    assert status is not None
    if status.forward_power > state.ring.tuning_limit or not turn.is_fresh:
        _end_reference(turn)
        turn.refuse(Why.KEYED if turn.is_fresh else Why.STALE)
    elif turn.now - state.phase_since > _longest_reference(state.ring):
        _end_reference(turn)
        turn.tell(Word.STUCK)
    elif state.referencing_at is None or not status.is_moving:
        _go_on_referencing(turn, status)


def _go_on_referencing(turn: Turn, status: Status) -> None:
    state = turn.state
    if state.referencing_at is not None and status.is_sure:
        _has_reference(turn, status)
        return
    if turn.now - state.contact.set_at < SAY_AGAIN + state.contact.round_trip:
        return
    if not state.contact.is_limited or status.ends != ends_wanted(turn):
        return
    turn.state = replace(state, contact=replace(state.contact, set_at=turn.now))
    if status.is_moving:
        say_stop(turn)
    elif status.is_sure:
        turn.send(Position(status.at, False))
    else:
        turn.keep(status.at, state.ring.low_end)
        turn.send(Reference())
        turn.state = replace(turn.state, referencing_at=turn.now, course=None)


def _has_reference(turn: Turn, status: Status) -> None:
    pending = turn.state.pending
    turn.state = replace(
        turn.state,
        doubt=None,
        referencing_at=None,
        pending=None,
        course=None,
        is_from_stop=True,
        is_proved=True,
    )
    turn.keep(status.at, None)
    turn.tell(Word.REFERENCED)
    turn.rest()
    if pending is not None:
        _go_somewhere(turn, pending)


def _end_reference(turn: Turn) -> None:
    stand_still(turn)
    turn.state = replace(
        turn.state, referencing_at=None, pending=None, doubt=turn.state.doubt or Why.BOARD_DOUBTS
    )
    turn.rest()


def _longest_reference(ring: Ring) -> float:
    """Seconds in which the end stop is met or never."""
    travel = 0 if ring.low_end is None or ring.high_end is None else ring.high_end - ring.low_end
    pace = ring.speed / 2.0 if ring.seek_speed is None else ring.seek_speed
    return SEEK_SLACK * travel / pace + 10.0
