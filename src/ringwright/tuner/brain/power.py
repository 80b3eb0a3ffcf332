# SPDX-License-Identifier: BSD-3-Clause
"""Power on a tuned ring: invited step by step, watched at each, and called back when the SWR jumps."""

from dataclasses import replace

from ringwright.tuner.brain.dip import swr_of
from ringwright.tuner.brain.driving import stand_still
from ringwright.tuner.brain.state import Tuned, Watch
from ringwright.tuner.brain.turn import Turn
from ringwright.tuner.brain.words import Phase, Why, Word
from ringwright.tuner.messages import Status

STEPS = (5.0, 30.0)
"""Watts on the way to the power asked for; common practice, no source."""
GOOD_READINGS = 3
"""At one power, before the next is invited."""
LEAST_LOOK = 1.0
"""Seconds of them: what warms or arcs does so in a while. Own choice."""
LEAST_SHARE = 0.4
"""Of the power invited, that must be seen before a reading tells of that power."""
TOO_MUCH = 1.25
"""Times the band's limit at which a reading is not the meter's error any more."""
ARC_JUMP = 0.15
"""Rise of reflected over forward power between readings that nothing slow can do."""
ARC_LEAST_POWER = 8.0
"""Watts; below, a jump is a nuisance and no arc."""
RISE_PATIENCE = 60.0
_SMOOTHING = 0.3


def is_ready(turn: Turn, tuned: Tuned) -> Why | None:
    """What forbids to invite power now: the one place where this is decided. None if nothing does."""
    state, status = turn.state, turn.status
    if state.phase is Phase.AWAY or status is None:
        return Why.NO_LINK
    is_elsewhere = status.is_moving or state.goal is not None or status.at != tuned.position
    hindrances = (
        (state.is_stopped, Why.STOP_HELD),
        (state.lock is not None, Why.LOCKED),
        (not turn.is_fresh, Why.STALE),
        (not state.is_sure, Why.NOT_SURE),
        (is_elsewhere, Why.NOT_TUNED),
        (tuned.swr > state.ring.most_swr, Why.SWR_TOO_HIGH),
        (turn.is_keyed and _swr(status) > state.ring.most_swr, Why.SWR_TOO_HIGH),
    )
    return next((why for holds, why in hindrances if holds), None)


def begin_rise(turn: Turn, power: float) -> None:
    """Invite the first step towards a power."""
    tuned = turn.state.tuned
    if tuned is None or turn.state.phase not in {Phase.TUNED, Phase.RISING, Phase.AT_POWER}:
        turn.refuse(Why.NOT_TUNED)
        return
    if not 0.0 < power <= tuned.band.power_limit:
        turn.refuse(Why.OVER_LIMIT)
        return
    why = is_ready(turn, tuned)
    if why is not None:
        turn.refuse(why)
        return
    turn.state = replace(turn.state, aim=power)
    _invite(turn, min(STEPS[0], power))
    turn.enter(Phase.RISING)


def _invite(turn: Turn, power: float) -> None:
    turn.state = replace(turn.state, watch=replace(turn.state.watch, good=0))
    turn.invite(power)
    turn.tell(Word.RAISE, ("power", power))


def watch_power(turn: Turn, status: Status) -> None:
    """One more status: arcs in any phase, the rise in its own."""
    if not turn.is_keyed or not turn.is_fresh:
        if turn.state.watch != Watch():
            turn.state = replace(turn.state, watch=Watch())
        return
    reflection = min(status.reflected_power / status.forward_power, 1.0)
    if _is_arc(turn, status, reflection):
        _lock(turn, status, reflection)
        return
    before = turn.state.watch.reflection
    smooth = reflection if before is None else before + _SMOOTHING * (reflection - before)
    turn.state = replace(turn.state, watch=replace(turn.state.watch, reflection=smooth))
    _watch_limits(turn, status)
    if turn.state.phase is Phase.RISING:
        _go_on_rising(turn, status)


def _is_arc(turn: Turn, status: Status, reflection: float) -> bool:
    before = turn.state.watch.reflection
    return (
        before is not None
        and not status.is_moving
        and turn.state.lock is None
        and status.forward_power > max(ARC_LEAST_POWER, turn.state.ring.tuning_limit)
        and reflection > before + ARC_JUMP
        and swr_of(reflection) > 1.5 * swr_of(before)
    )


def _lock(turn: Turn, status: Status, reflection: float) -> None:
    before = turn.state.watch.reflection
    assert before is not None
    turn.call_key_up(Why.ARC)
    turn.tell(
        Word.ARC,
        ("before", swr_of(before)),
        ("after", swr_of(min(reflection, 0.998))),
        ("forward", status.forward_power),
    )
    stand_still(turn)
    turn.state = replace(turn.state, lock=Why.ARC, tuned=None, search=None, pending=None, watch=Watch())
    turn.enter(Phase.LOCKED)


def _watch_limits(turn: Turn, status: Status) -> None:
    """More than the band may have, or a ring that drifted away under power: call the operator off."""
    state = turn.state
    if (
        state.is_barred
        or state.tuned is None
        or state.phase not in {Phase.TUNED, Phase.RISING, Phase.AT_POWER}
    ):
        return
    if status.forward_power > TOO_MUCH * state.tuned.band.power_limit:
        turn.call_key_up(Why.OVER_LIMIT)
        turn.enter(Phase.TUNED)
    elif (
        status.forward_power > TOO_MUCH * state.ring.tuning_limit and _swr(status) > 1.5 * state.ring.most_swr
    ):
        turn.call_key_up(Why.SWR_TOO_HIGH)
        turn.enter(Phase.TUNED)


def _go_on_rising(turn: Turn, status: Status) -> None:
    state = turn.state
    tuned, invited, aim = state.tuned, state.invited, state.aim
    if tuned is None or invited is None or aim is None:
        if tuned is None:
            turn.rest()
        else:
            turn.enter(Phase.TUNED)
        return
    if _swr(status) > state.ring.most_swr:
        turn.call_key_up(Why.SWR_TOO_HIGH)
        turn.enter(Phase.TUNED)
        return
    if status.forward_power < LEAST_SHARE * invited:
        return
    good = state.watch.good + 1
    since = turn.now if good == 1 else state.watch.since
    turn.state = replace(state, watch=replace(state.watch, good=good, since=since))
    if good < GOOD_READINGS or turn.now - since < LEAST_LOOK:
        return
    if invited >= aim:
        turn.tell(Word.AT_POWER, ("power", invited))
        turn.enter(Phase.AT_POWER)
        return
    why = is_ready(turn, tuned)
    if why is None:
        _invite(turn, min(min((step for step in STEPS if step > invited), default=aim), aim))
    else:
        turn.call_key_up(why)
        turn.enter(Phase.TUNED)


def _swr(status: Status) -> float:
    return swr_of(min(status.reflected_power / max(status.forward_power, 1e-9), 1.0))
