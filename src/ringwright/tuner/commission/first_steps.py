# SPDX-License-Identifier: BSD-3-Clause
"""Without power: the board, the direction, the ends."""

from collections.abc import Generator
from dataclasses import replace

from ringwright.antenna.drive_resolution import turns_per_step
from ringwright.tuner.brain import FindReference
from ringwright.tuner.commission.findings import Findings
from ringwright.tuner.commission.hands import KEYED, Hands, NotSeenError, Question, Step, Wait
from ringwright.tuner.session_way import duration_words

SHORT_MOVE = 0.125
"""Turns of the capacitor's shaft: enough to be seen, little enough to harm nothing."""
MOVE_TIME = 0.3
"""Seconds that the short move takes at most."""
LISTEN = 1.0
"""Seconds for which an idle board is listened to."""
REPEATS = 20
SWITCH_REPEATS = 0.5 / 360.0
"""Steps, and turns of the capacitor's shaft, to the greater of which an end stop's switch closes at the same place; own
assumption for a plain lever switch."""


def find_board(hands: Hands, found: Findings) -> Step:
    """It answers, reads nothing, stands; its settings fit the design."""
    yield from hands.meet()
    yield from hands.wait(
        lambda: hands.is_ready,
        seconds=15.0,
        otherwise="The board does not come to rest and take its soft ends; look whether it turns by itself.",
    )
    yield from hands.rest(LISTEN)
    if hands.forward > KEYED:
        raise NotSeenError(
            f"The meter reads {hands.forward:.1f} W; transmitter off. If it is off, the detector's zero is wrong."
        )
    yield from hands.ask_settings()
    settings = hands.settings
    assert settings is not None
    if settings.get("travel", found.travel) != found.travel:
        yield from hands.set("travel", found.travel, otherwise="Update its firmware.")
    return replace(found, speed=_pace(hands, "speed"), seek_speed=_pace(hands, "seek_speed"))


def _pace(hands: Hands, key: str) -> int | None:
    """Steps a second, as the board is set; None where it does not say."""
    pace = (hands.settings or {}).get(key)
    return pace if isinstance(pace, int) and pace > 0 else None


def turn_right_way(hands: Hands, found: Findings) -> Step:
    """A short move, seen by a person; the board turns round if it went the other way."""
    while True:
        answer = yield Question(
            words="Is the transmitter off, nobody's hand at the drive, and the capacitor in sight?",
            choices=("yes", "not yet"),
        )
        if answer != "yes":
            continue
        is_up = yield from _short_move(hands, found)
        answer = yield Question(
            words=f"Which way did the capacitor go? It should have gone to {'more' if is_up else 'less'} capacitance.",
            choices=("that way", "the other way", "it did not move", "again"),
        )
        if answer == "that way":
            return found
        if answer == "it did not move":
            raise NotSeenError(
                "The motor makes steps and nothing turns; look at its supply, its coils and the coupling."
            )
        if answer == "the other way":
            was = bool((hands.settings or {}).get("reversed", False))
            yield from hands.set(
                "reversed", not was, otherwise="Swap the two wires of one of the motor's coils, supply off."
            )


def _short_move(hands: Hands, found: Findings) -> Generator[Question | None, str, bool]:
    """Whether it went up."""
    status = hands.status
    assert status is not None
    drive = hands.session.parts.design.drive
    assert drive is not None
    low, high = hands.ring.low_end or 0, hands.ring.high_end or found.travel
    length = max(
        1, round(min(SHORT_MOVE / turns_per_step(drive), MOVE_TIME * hands.ring.speed, (high - low) / 4))
    )
    is_up = status.at + length <= high
    to = max(low, status.at + (length if is_up else -length))
    yield from hands.jog(
        to, otherwise="The board does not make its steps; look whether STOP or power holds it."
    )
    return is_up


def find_ends(hands: Hands, found: Findings) -> Step:
    """To the end stop, to the high end, back, and to the end stop again."""
    low, high = hands.ring.low_end or 0, hands.ring.high_end or found.travel
    seconds = _search_and_travel(hands, low, high)
    while True:
        answer = yield Question(
            words=(
                f"Transmitter off, nobody near? All of it takes {duration_words(seconds)}; press STOP at once if "
                "the capacitor comes near a stop of its own at the high end."
            ),
            choices=("yes", "not yet"),
        )
        if answer == "yes":
            break
    yield from _reference(hands)
    yield from hands.jog(high, otherwise="The drive did not get to its high end; look at it.")
    answer = yield Question(
        words="It is at the high end of its travel. Is the capacitor still clear of its own stop?",
        choices=("yes", "no"),
    )
    if answer == "no":
        raise NotSeenError(
            "The capacitor has less travel than the design says: correct [capacitor] travel there, and begin anew."
        )
    yield from hands.jog(low, otherwise="The drive did not come back to its low end; look at it.")
    yield from hands.rest(0.3)
    status = hands.status
    assert status is not None
    if status.low_stop:
        raise NotSeenError(
            "The end stop closed too early on the way back: steps were lost on the way up, or the high end is a hard "
            "stop. Look at the motor's current, the speed, and the travel."
        )
    yield from _reference(hands)
    return replace(found, low_end=low, high_end=high)


def _search_and_travel(hands: Hands, low: int, high: int) -> float:
    """Seconds to the end stop from here, to the high end and back."""
    status = hands.status
    below = 0 if status is None else max(status.at - low, 0)
    return below / _seek_speed(hands) + 2.0 * (high - low) / hands.ring.speed


def _seek_speed(hands: Hands) -> float:
    """Steps a second towards the end stop; the drive's own where the board does not say."""
    return hands.ring.speed if hands.ring.seek_speed is None else hands.ring.seek_speed


def _reference(hands: Hands) -> Wait:
    """Seek the end stop; where the count was known, the switch must close where it did before."""
    before = hands.status
    assert before is not None
    hands.readings = []
    travel = (hands.ring.high_end or 0) - (hands.ring.low_end or 0)
    yield from hands.do(
        FindReference(),
        good="referenced",
        seconds=4.0 * travel / min(hands.ring.speed, _seek_speed(hands)) + 60.0,
        otherwise="No end stop was met; look at its switch and the motor's direction.",
    )
    readings, hands.readings = hands.readings, None
    status = hands.status
    assert status is not None
    lowest = min((each.at for each in readings), default=status.at)
    drive = hands.session.parts.design.drive
    assert drive is not None
    if before.is_sure and lowest < status.at - max(REPEATS, round(SWITCH_REPEATS / turns_per_step(drive))):
        raise NotSeenError(
            f"The end stop closed {status.at - lowest} steps late: steps were lost on the way down. Look at the "
            "motor's current and the speed."
        )
