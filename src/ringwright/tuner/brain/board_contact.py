# SPDX-License-Identifier: BSD-3-Clause
"""The line to the board: what comes in, the heartbeat, silence, and the levels that a board must show."""

from dataclasses import replace

from ringwright.tuner.brain.course import course_after
from ringwright.tuner.brain.turn import SILENCE, Turn
from ringwright.tuner.brain.words import Phase, Why, Word
from ringwright.tuner.messages import (
    HEARTBEAT,
    MOST_STEPS,
    NO_HEARTBEAT,
    Acknowledgement,
    Ends,
    Heartbeat,
    Inhibit,
    Limit,
    Position,
    Status,
    Stop,
)

SAY_AGAIN = 0.25
"""Seconds after which a level that the board does not show is said again, plus a round trip."""
OVERTAKES = 0.1
"""Seconds after a move in which nothing is said that can wait: a newer line that overtakes makes the move void."""
MOST_WAIT = 0.75
"""Seconds without a heartbeat, after which it cannot wait."""
CLOCK_DRIFT = 2e-4
"""Of time: most that two quartz clocks part."""
_SMOOTHING = 0.3

_TRANSMIT_PHASES = frozenset(
    {
        Phase.RESTING, Phase.ASKING, Phase.SEARCHING, Phase.RETURNING, Phase.CONFIRMING, Phase.TUNED, Phase.RISING,
        Phase.AT_POWER, Phase.NUDGING,
    }
)  # fmt: skip
"""Where the contact lets the transmitter transmit; elsewhere the drive turns, or nobody knows what is tuned."""


def take_status(turn: Turn, status: Status) -> bool:
    """Note a status; False if it is a repeat or came after a newer one."""
    state = turn.state
    contact, last = state.contact, state.contact.status
    if last is not None and (status.boots, status.seq) <= (last.boots, last.seq):
        return False
    is_new = last is None or status.boots != last.boots
    lead = turn.now - status.milliseconds / 1000.0
    idle = 0.0 if is_new else turn.now - contact.heard_at
    least = lead if is_new else min(lead, contact.clock_lead + CLOCK_DRIFT * idle)
    period = contact.period
    if last is not None and not is_new:
        gap = (status.milliseconds - last.milliseconds) / 1000.0
        if gap > 0.0:
            period = min(1.05 * period, max(gap, 0.01))
    contact = replace(
        contact,
        status=status,
        seen_at=turn.now - (lead - least),
        heard_at=turn.now,
        clock_lead=least,
        period=period,
        is_limited=contact.is_limited and not is_new,
    )
    turn.state = replace(state, contact=contact, course=course_after(state, status, is_new=is_new))
    if is_new:
        _meet(turn, status, is_restart=last is not None)
    elif _doubts(turn, status):
        doubt(turn, Why.BOARD_DOUBTS)
    return True


def _meet(turn: Turn, status: Status, *, is_restart: bool) -> None:
    """First status of a board that (re)started: compare its count with the journal's."""
    if is_restart:
        turn.tell(Word.BOARD_RESTARTED)
        abandon(turn)
    kept = turn.state.kept
    was_at_rest = kept is not None and kept.to is None and kept.is_sure and turn.state.doubt is None
    if status.is_sure:
        if was_at_rest and kept is not None and kept.at != status.at and kept.boots != status.boots:
            doubt(turn, Why.BOARD_DISAGREES)
        elif turn.state.doubt is Why.POWER_CUT:
            turn.state = replace(
                turn.state, doubt=None
            )  # the board went on counting when this computer did not
    elif was_at_rest and kept is not None and kept.at == status.at and not status.is_moving:
        assert_count(turn, status.at)  # both counts agree, and no move was under way
    else:
        doubt(turn, Why.BOARD_DOUBTS)


def assert_count(turn: Turn, at: int) -> None:
    """Tell the board where it stands, until it says so itself."""
    turn.state = replace(turn.state, asserted=at, course=None, doubt=None)
    _say_count(turn, at)


def _say_count(turn: Turn, at: int) -> None:
    turn.send(Position(at, True))
    turn.state = replace(turn.state, contact=replace(turn.state.contact, set_at=turn.now))


def _doubts(turn: Turn, status: Status) -> bool:
    """Whether the board has come to doubt its count, and nobody is busy with that."""
    state = turn.state
    is_known = state.doubt is not None or state.asserted is not None or state.phase is Phase.REFERENCING
    return not (is_known or status.is_sure)


def take_acknowledgement(turn: Turn, answer: Acknowledgement) -> None:
    """Note what an answer tells."""
    contact = turn.state.contact
    is_unled = not answer.is_done and answer.why == NO_HEARTBEAT
    if is_unled or (answer.answers == contact.beat_seq and not answer.is_done):
        contact = replace(contact, beat_seq=-1, beat_at=None)  # overtaken or lost: at once again
    elif answer.answers == contact.beat_seq and contact.beat_at is not None:
        trip = min(turn.now - contact.beat_at, 1.0)
        contact = replace(
            contact, beat_seq=-1, round_trip=contact.round_trip + _SMOOTHING * (trip - contact.round_trip)
        )
    if answer.answers == contact.limit_seq and answer.is_done:
        contact = replace(contact, is_limited=True)
    if answer.newest is not None and answer.newest >= contact.next_seq:
        contact = replace(contact, next_seq=answer.newest + 1)  # the wall clock was set back since
    turn.state = replace(turn.state, contact=contact)
    goal = turn.state.goal
    is_refused = answer.answers == contact.move_seq and not answer.is_done and not is_unled
    if is_refused and goal is not None:
        turn.state = replace(
            turn.state, goal=replace(goal, sent_at=None)
        )  # overtaken or refused: say it again


def doubt(turn: Turn, why: Why) -> None:
    """From now on the count is not trusted: whatever runs ends, nothing is raised."""
    if turn.state.doubt is None:
        turn.tell(Word.POSITION_DOUBTED, ("why", why))
    turn.state = replace(turn.state, doubt=why, tuned=None, met=None)
    status = turn.status
    if status is not None:
        turn.keep(status.at, None)
    if turn.state.phase in {Phase.TUNED, Phase.RISING, Phase.AT_POWER}:
        if turn.is_keyed or turn.state.invited is not None:
            turn.call_key_up(Why.NOT_SURE)
        turn.rest()


def abandon(turn: Turn) -> None:
    """End whatever runs: no goal, no search, nothing invited."""
    if turn.state.invited is not None:
        turn.call_key_up(Why.GAVE_UP)
    turn.state = replace(
        turn.state, goal=None, search=None, tuned=None, aim=None, pending=None, nudged_at=None
    )
    if turn.state.phase not in {Phase.STOPPED, Phase.LOCKED, Phase.AWAY}:
        turn.rest()


def lose_link(turn: Turn) -> None:
    """The board is gone: it stops by itself; nobody may transmit into a ring of which nothing is known."""
    if turn.state.phase is Phase.AWAY:
        return
    turn.tell(Word.LINK_LOST)
    was_invited = turn.state.invited is not None
    turn.send(Stop())
    abandon(turn)
    if not was_invited and turn.is_keyed:
        turn.call_key_up(Why.NO_LINK)
    turn.enter(Phase.AWAY)


def uphold(turn: Turn) -> None:
    """Heartbeat, silence, and the levels: stop, soft ends, tuning limit, inhibit."""
    contact = turn.state.contact
    if not contact.is_open:
        return
    waited = float("inf") if contact.beat_at is None else turn.now - contact.beat_at
    is_clear = turn.now - contact.moved_at > OVERTAKES or waited > MOST_WAIT
    if waited >= HEARTBEAT - 0.1 and is_clear:
        seq = turn.send(Heartbeat())
        turn.state = replace(turn.state, contact=replace(turn.state.contact, beat_at=turn.now, beat_seq=seq))
    if turn.now - contact.heard_at > SILENCE:
        lose_link(turn)
    elif turn.state.phase is Phase.AWAY:
        turn.tell(Word.LINK_BACK)
        turn.rest()
    status = turn.status
    if status is not None and turn.state.phase is not Phase.AWAY:
        _uphold_limits(turn, status)
        _uphold_inhibit(turn, status)
        if not turn.is_keyed and turn.is_fresh and turn.state.is_barred:
            turn.state = replace(turn.state, is_barred=False)


def ends_wanted(turn: Turn) -> tuple[int, int]:
    """Soft ends that the board must hold; a capacitor without ends may turn as far as numbers go."""
    ring = turn.state.ring
    far = MOST_STEPS // 2
    return (
        -far if ring.low_end is None else ring.low_end,
        far if ring.high_end is None else ring.high_end,
    )


def _uphold_limits(turn: Turn, status: Status) -> None:
    contact = turn.state.contact
    if turn.now - contact.set_at < SAY_AGAIN + contact.round_trip:
        return
    asserted = turn.state.asserted
    if asserted is not None:
        if status.is_sure and status.at == asserted:
            turn.state = replace(turn.state, asserted=None)
        else:
            _say_count(turn, asserted)
        return
    ends = ends_wanted(turn)
    is_saying = False
    if status.ends != ends:
        turn.send(Ends(*ends))
        is_saying = True
    if not contact.is_limited:
        seq = turn.send(Limit(turn.state.ring.tuning_limit))
        turn.state = replace(turn.state, contact=replace(turn.state.contact, limit_seq=seq))
        is_saying = True
    if is_saying:
        turn.state = replace(turn.state, contact=replace(turn.state.contact, set_at=turn.now))


def _uphold_inhibit(turn: Turn, status: Status) -> None:
    contact = turn.state.contact
    is_following = turn.state.phase is Phase.TUNED and turn.state.goal is not None
    is_wanted = turn.state.is_barred or is_following or turn.state.phase not in _TRANSMIT_PHASES
    is_waiting = turn.now - contact.inhibit_at < SAY_AGAIN + contact.round_trip
    if status.is_inhibited == is_wanted or is_waiting or turn.now - contact.moved_at < OVERTAKES:
        return
    turn.send(Inhibit(is_wanted))
    turn.state = replace(turn.state, contact=replace(turn.state.contact, inhibit_at=turn.now))
