# SPDX-License-Identifier: BSD-3-Clause
"""What a session shows and tells, as plain documents: one JSON object each, no NaN, `null` for what is not there."""

import math
from typing import Any

from ringwright.tuner.brain import Dip, Phase, Search, State, Tell, swr_of
from ringwright.tuner.session_control import Control
from ringwright.tuner.session_way import seconds_left
from ringwright.tuner.session_words import phase_words, told_words
from ringwright.tuner.table import TableCurve

SCHEMA = "ringwright.tune/1"
KEYED = 0.1
"""Watts of forward power above which a reading shows a carrier."""
BOARD_STOPS = 2.0
"""Seconds after the last word in which a board without a heartbeat stands: 1.5 s, and what braking takes."""
MOST_DRAWN = 240
"""Readings of one search that a picture gets."""
_MOVING = {
    Phase.TRAVELLING,
    Phase.REFERENCING,
    Phase.LISTENING,
    Phase.SEARCHING,
    Phase.RETURNING,
    Phase.NUDGING,
}


def is_moving(state: State, *, silent: float = 0.0) -> bool:
    """Whether the drive turns, or is about to. A board that was silent for so many seconds [s] has stopped itself."""
    status = state.contact.status
    has_stopped_itself = state.phase is Phase.AWAY and silent > BOARD_STOPS
    return state.phase in _MOVING or (status is not None and status.is_moving and not has_stopped_itself)


def state_document(state: State, curve: TableCurve, *, now: float, at: float) -> dict[str, Any]:
    """How things stand `now` by the clock, which is `at` seconds after the session began."""
    status = state.contact.status
    step = None if status is None else status.at
    warmth = None if status is None else status.temperature_c
    here = None if step is None else curve.frequency(step, warmth)
    band = None if here is None else state.ring.band_of(here)
    return {
        "type": "state",
        "at_s": at,
        "phase": state.phase.value,
        "words": phase_words(state),
        "link": state.phase is not Phase.AWAY,
        "sure": state.is_sure,
        "proved": state.is_sure and state.is_proved,
        "moving": is_moving(state, silent=now - state.contact.heard_at),
        "stopped": state.is_stopped,
        "locked": None if state.lock is None else state.lock.value,
        "following": state.is_following,
        "position_steps": step,
        "to_steps": None if state.goal is None else state.goal.to,
        "way_s": _way(state),
        "frequency_hz": here,
        "target_hz": _target(state),
        "band": None if band is None else band.name,
        "swr": _swr(state),
        "forward_w": None if status is None else status.forward_power,
        "temperature_degc": warmth,
        "noise_db": None if status is None else status.noise_db,
        "invited_w": state.invited,
        "limit_w": None if state.tuned is None else state.tuned.band.power_limit,
        "reading_age_s": _age(state, now),
    }


def search_document(search: Search, *, moved: float) -> dict[str, Any]:
    """The readings of a search, and the dip that was fitted to them; the count has since been put right by `moved`."""
    readings = search.readings[-MOST_DRAWN:]
    return {
        "type": "search",
        "frequency_hz": search.frequency,
        "low_steps": search.low + moved,
        "high_steps": search.high + moved,
        "expected_steps": search.expected + moved,
        "sigma_steps": search.sigma,
        "readings": [
            [(each.start + each.end) / 2.0 + moved, finite_swr(each.reflection)] for each in readings
        ],
        "dip": None if search.dip is None else _dip(search.dip, moved),
        "carrier_s": round(search.carrier, 2),
    }


def control_document(control: Control) -> dict[str, Any]:
    """Who holds control, and how many look on."""
    return {
        "type": "control",
        "holder": control.holder,
        "holder_name": control.holder_name,
        "viewers": len(control.seen),
    }


def told_document(told: Tell, *, at: float) -> dict[str, Any]:
    """Something that the brain told, so many seconds after the session began."""
    return {
        "type": "told",
        "at_s": at,
        "word": told.word.value,
        "words": told_words(told),
        "values": {name: _finite(value) for name, value in told.values},
    }


def finite_swr(reflection: float) -> float | None:
    """SWR; None where all comes back."""
    swr = swr_of(reflection)
    return swr if math.isfinite(swr) else None


def _dip(dip: Dip, moved: float) -> dict[str, float]:
    return {
        "centre_steps": dip.centre + moved,
        "centre_sigma_steps": dip.centre_sigma,
        "half_width_steps": dip.half_width,
        "floor": dip.floor,
        "depth": dip.depth,
    }


def _finite(value: float | str) -> float | str | None:
    return value if isinstance(value, str) or math.isfinite(value) else None


def _target(state: State) -> float | None:
    if state.search is not None:
        return state.search.frequency
    return None if state.tuned is None else state.tuned.frequency


def _swr(state: State) -> float | None:
    """As read while there is a carrier, else as it was read at the dip where the drive stands."""
    status, tuned = state.contact.status, state.tuned
    if status is not None and status.forward_power > KEYED:
        return finite_swr(min(status.reflected_power / status.forward_power, 1.0))
    return tuned.swr if tuned is not None and status is not None and status.at == tuned.position else None


def _way(state: State) -> float | None:
    seconds = seconds_left(state)
    return None if seconds is None else round(seconds, 1)


def _age(state: State, now: float) -> float | None:
    age = now - state.contact.seen_at
    return round(max(age, 0.0), 3) if math.isfinite(age) else None
