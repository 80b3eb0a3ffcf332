# SPDX-License-Identifier: BSD-3-Clause
"""What the brain does and tells, as plain sentences."""

from ringwright.tuner.brain import Phase, State, Tell, Why, Word
from ringwright.tuner.brain.ring import MOST_SWR
from ringwright.tuner.session_way import LONG, duration_words, seconds_left

REASONS = {
    Why.NO_LINK: "there is no word from the drive",
    Why.STOP_HELD: "STOP holds; release it first",
    Why.LOCKED: "it is locked after a suspected arc; look at the capacitor, then clear the lock",
    Why.OUT_OF_BAND: "the frequency lies in none of the design's bands",
    Why.OUT_OF_TRAVEL: "the drive's travel does not reach it",
    Why.KEYED: "there is a carrier; stop transmitting first",
    Why.NOT_TUNED: "the ring is not tuned; tune it first",
    Why.NOT_SURE: "the position is not sure; seek the end stop first",
    Why.OVER_LIMIT: "that is more than the design allows on this band",
    Why.SWR_TOO_HIGH: (
        f"SWR is above {MOST_SWR:g}, the most with which power is raised; stop transmitting, then look at the match"
    ),
    Why.STALE: "the last reading is too old",
    Why.ARC: "an arc is suspected",
    Why.OVER_TUNING_LIMIT: "there is more power than may be there while the drive turns",
    Why.NO_END_STOP: "this drive has no end stop to seek",
    Why.NO_NOISE: "nothing tells how loud the noise is",
    Why.POWER_CUT: "the power went while it was on its way",
    Why.BOARD_DOUBTS: "the board itself is not sure",
    Why.BOARD_DISAGREES: "the board counts another position than was written down",
    Why.LOST_STEPS: "steps were lost",
    Why.ENDS_UNSET: "the board does not know the ends of its travel yet",
    Why.GAVE_UP: "nothing came for too long",
    Why.LONG_WAY: "the drive goes a long way back first",
}


_PHASES = {
    Phase.AWAY: "lost the drive: stopped",
    Phase.TRAVELLING: "going",
    Phase.REFERENCING: "seeking the end stop",
    Phase.LISTENING: "listening for the loudest noise",
    Phase.SEARCHING: "looking for the dip",
    Phase.RETURNING: "coming to the dip from below",
    Phase.CONFIRMING: "reading once more at the dip",
    Phase.AT_POWER: "at power, watching SWR",
    Phase.NUDGING: "nudging",
    Phase.STOPPED: "STOP holds",
    Phase.LOCKED: "locked: an arc is suspected",
}


def phase_words(state: State) -> str:
    """What goes on, in a few words; no power is named where the position is not sure."""
    if state.phase is Phase.RESTING:
        return "at rest" if state.is_sure else "at rest, position not sure"
    if state.phase is Phase.ASKING:
        return f"key {state.ring.tuning_power:.0f} W now"
    if state.phase is Phase.RISING:
        return f"transmit with {state.invited or 0.0:.0f} W now"
    if state.phase is Phase.TUNED:
        if not state.is_sure:
            return "tuned, position not sure yet"
        return "ready" if state.tuned is None else f"ready, {state.tuned.band.power_limit:.0f} W allowed"
    words = _PHASES[state.phase]
    if state.search is not None:
        words = f"{words}, {_megahertz(state.search.frequency)}"
    seconds = seconds_left(state)
    return words if seconds is None or seconds < LONG else f"{words}, {duration_words(seconds)}"


def told_words(told: Tell) -> str:
    """What was told, as a sentence."""
    values = dict(told.values)
    why = values.get("why")
    because = f": {REASONS.get(Why(why), str(why))}" if isinstance(why, str) else ""
    plain = _PLAIN.get(told.word)
    if plain is not None:
        return f"{plain}{because}."
    form = _WITH_VALUES.get(told.word)
    if form is None:
        return f"{told.word.value.capitalize()}{because}."
    numbers = {name: value for name, value in values.items() if isinstance(value, int | float)}
    known = dict.fromkeys(("power", "swr", "carrier", "forward", "limit", "after", "steps"), 0.0) | numbers
    known["kilohertz"] = numbers.get("change", 0.0) / 1e3
    megahertz = _megahertz(numbers.get("frequency", 0.0))
    return form.format(**known, megahertz=megahertz, is_corrected="" if numbers.get("corrected") else "not ")


_PLAIN = {
    Word.LINK_LOST: "Lost the drive; it stops by itself",
    Word.LINK_BACK: "The drive answers",
    Word.BOARD_RESTARTED: "The board has started anew",
    Word.STOPPED: "STOP: the drive stands still",
    Word.RELEASED: "STOP is released",
    Word.REFUSED: "Not done",
    Word.SEARCH_BEGAN: "Looking for the dip",
    Word.NOT_FOUND: "No dip was found; the ring may be out of order, or the table far off",
    Word.WIDENED: "No dip where the table has it; looking further",
    Word.KEY_UP: "Stop transmitting",
    Word.CARRIER_GONE: "The carrier is gone",
    Word.METER_SILENT: "The meter reads nothing though a carrier was asked for; look at its cable",
    Word.AT_POWER: "The power asked for is reached",
    Word.CLEARED: "The lock is cleared",
    Word.POSITION_DOUBTED: "The position is not sure any more",
    Word.REFERENCED: "The end stop was found; the position is sure",
    Word.STUCK: "The drive does not get where it was sent; look at it with the transmitter off",
}


_WITH_VALUES = {
    Word.KEY_LOW: "Key {power:.0f} W on {megahertz} now.",
    Word.RAISE: "Transmit with {power:.0f} W now.",
    Word.TUNED: "Tuned to {megahertz}, SWR {swr:.2f}, {carrier:.1f} s of carrier.",
    Word.ARRIVED: "Standing where the table has {megahertz}.",
    Word.KEYED_TOO_HIGH: "{forward:.0f} W is more than the {limit:.0f} W at which the drive may turn.",
    Word.ARC: "An arc is suspected: SWR jumped to {after:.1f}. Stop transmitting, then look at the capacitor.",
    Word.STEPS_LOST: "The dip stood {steps:.0f} steps from where it should be; {is_corrected}corrected.",
    Word.LOUDEST: "The noise was loudest at {megahertz} by the table.",
    Word.FOLLOWED: "Followed the temperature by {steps:.0f} steps.",
    Word.NUDGED: "Nudged by {kilohertz:+.1f} kHz, {steps:+.0f} steps; stands where the table has {megahertz}.",
}


def _megahertz(frequency: float) -> str:
    return f"{frequency / 1e6:.4f} MHz"
