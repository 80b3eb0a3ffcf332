# SPDX-License-Identifier: BSD-3-Clause
"""With a carrier of a few watts: the play, the meter, the table."""

import math
from collections.abc import Sequence
from dataclasses import replace

from ringwright.tuner.brain import Band, Tune
from ringwright.tuner.commission.findings import Findings
from ringwright.tuner.commission.hands import KEYED, Hands, NotSeenError, Question, Step, Wait
from ringwright.tuner.messages import Status

REACH = 6.0
"""Half-widths on either side of the dip that a slow pass goes."""
PACE = 2.0
"""Half-widths a second of a slow pass: ten readings and more across the dip."""
LEAST_DEPTH = 0.15
"""Of reflected over forward power, between the dip's bottom and its sides: less is no dip."""
MOST_PLAY = 0.1
"""Of the travel, above which something is loose."""
FRICTION = 1.43
"""Backlash and twice the windup of a shaft that breaks loose, over the difference that is met in motion, at most: in
motion friction leaves some 0.7 of the windup (common practice, no source), and 2 / 1.4 = 1.43."""
TUNE_PATIENCE = 240.0
READ = 1.5
"""Seconds over which the meter's readings are averaged."""
AGREES = 0.1
"""Of the watts that the trusted meter shows, by which the board's may be off where it cannot be calibrated; common
practice, no source: what two good meters differ by."""


def measure_play(hands: Hands, found: Findings) -> Step:
    """By RF or by hand, as the person likes."""
    answer = yield Question(
        words="How is the play measured? By RF with 4 W on a clear frequency, or by hand at the drive.",
        choices=("by RF", "by hand"),
    )
    play = yield from (_by_rf if answer == "by RF" else _by_hand)(hands)
    if play > MOST_PLAY * found.travel:
        raise NotSeenError(
            f"A play of {play:.0f} steps is far too much: something is loose between motor and capacitor."
        )
    return replace(found, slack=math.ceil(FRICTION * max(play, 0.0)) + 2)


def _by_rf(hands: Hands):  # type: ignore[no-untyped-def]
    band = hands.ring.bands[0]
    frequency = (band.low + band.high) / 2.0
    yield from _tuned(hands, frequency)
    yield from hands.unkey()
    yield from hands.wait(lambda: hands.is_ready, seconds=20.0, otherwise="The drive does not come to rest.")
    status = hands.status
    assert status is not None
    width = _half_width(hands, band, frequency)
    reach = math.ceil(REACH * width) + 2 * hands.ring.slack
    low, high = (hands.ring.within_ends(status.at + way) for way in (-reach, reach))
    pace = max(1, round(PACE * width))
    lost = "The drive did not get through; look at it."
    yield from hands.jog(low, otherwise=lost)
    yield from hands.key(hands.ring.tuning_power, frequency)
    centres = []
    for to in (high, low):
        hands.readings = []
        yield from hands.jog(to, speed=pace, otherwise=lost)
        centres.append(dip_centre(hands.readings))
        hands.readings = None
    yield from hands.unkey()
    up, down = centres
    if up - down < -0.25 * width:
        raise NotSeenError(
            f"Going down the dip came {down - up:.0f} steps too early, which no play does: steps are lost; look at the "
            "motor's current and speed."
        )
    return up - down


def dip_centre(readings: Sequence[Status]) -> float:
    """Where the dip lies among readings of one slow pass [steps]: the centre of what is not reflected.

    Raises
    ------
    NotSeenError
        If there is no dip, or its middle was not passed.
    """
    places = [
        ((each.over[0] + each.over[1]) / 2.0, min(each.reflected_power / each.forward_power, 1.0))
        for each in readings
        if each.forward_power > KEYED and each.over[0] != each.over[1]
    ]
    if len(places) < 10:
        raise NotSeenError(
            "There was no carrier all the way; key it again, and keep it on until you are told."
        )
    shares = sorted(share for _, share in places)
    bottom, side = shares[0], shares[-1]
    if side - bottom < LEAST_DEPTH:
        raise NotSeenError("No dip was met on the way; look at the feed, and whether the capacitor turns.")
    half = (bottom + side) / 2.0
    deep = [(place, half - share) for place, share in places if share < half]
    ends = (places[0][0], places[-1][0])
    if not min(ends) < min(deep)[0] <= max(deep)[0] < max(ends):
        raise NotSeenError("The dip lies at the end of the pass, not within; do the step again.")
    return sum(place * depth for place, depth in deep) / sum(depth for _, depth in deep)


def _half_width(hands: Hands, band: Band, frequency: float) -> float:
    """Of the dip [steps]."""
    curve = hands.session.curve
    return max(
        1.0,
        abs(
            curve.position(frequency + band.half_width / 2.0)
            - curve.position(frequency - band.half_width / 2.0)
        ),
    )


def _by_hand(hands: Hands):  # type: ignore[no-untyped-def]
    yield Question(
        words="Transmitter off. Put a mark on the capacitor's shaft; you will say when it begins to follow. Ready?",
        choices=("yes",),
    )
    status = hands.status
    assert status is not None
    step = max(1, hands.ring.slack // 8)
    lost = "The drive did not make its steps; look at it."
    top = hands.ring.within_ends(status.at + 4 * hands.ring.slack + 8 * step)
    yield from hands.jog(top, otherwise=lost)
    start = hands.ring.within_ends(top)
    for count in range(1, 100):
        to = hands.ring.within_ends(start - count * step)
        yield from hands.jog(to, otherwise=lost)
        answer = yield Question(words="Does the mark move now?", choices=("no", "yes"))
        if answer == "yes":
            return float(start - to)
    raise NotSeenError("The capacitor did not follow at all; look at the coupling.")


def calibrate_meter(hands: Hands, found: Findings) -> Step:
    """What a trusted meter shows, beside what the board reads."""
    frequency = (hands.ring.bands[0].low + hands.ring.bands[0].high) / 2.0
    yield from _tuned(hands, frequency)
    yield from hands.key(hands.ring.tuning_power, frequency)
    yield from hands.rest(1.0)
    hands.readings = []
    yield from hands.rest(READ)
    readings, hands.readings = hands.readings, None
    answer = yield Question(
        words=f"{_reading_words(hands, readings)}How many watts does the meter that you trust show now?",
        unit="W",
    )
    yield from hands.unkey()
    watts = float(answer)
    keyed = [each for each in readings if each.forward_power > KEYED]
    if not keyed or not 0.5 <= watts <= hands.ring.tuning_limit * 1.25:
        raise NotSeenError(
            f"A carrier from 0.5 W to {hands.ring.tuning_limit:.0f} W is needed, on until the watts are typed; do the "
            "step again."
        )
    read = sum(each.forward_power for each in keyed) / len(keyed)
    millivolts = [each.forward_mv for each in keyed if each.forward_mv is not None]
    if not millivolts:
        if abs(read - watts) > AGREES * watts:
            raise NotSeenError(
                f"The board reads {read:.1f} W where your meter shows {watts:.1f} W, "
                f"{100.0 * abs(read / watts - 1.0):.0f} % apart, and this board cannot be calibrated; look at its "
                "coupler, and whether your meter shows forward power of the same carrier."
            )
        return found
    point = [[round(sum(millivolts) / len(millivolts), 2), watts]]
    yield from hands.rest(0.5)
    # Both ways of the coupler are alike, so that one point serves both.
    for key in ("forward_points", "reflected_points"):
        yield from hands.set(key, point, otherwise="Update its firmware.")
    return replace(found, meter=watts / read)


def _reading_words(hands: Hands, readings: Sequence[Status] | None) -> str:
    """What the board reads; and the simulated transmitter's own meter, which nobody else can see."""
    read = [each.forward_power for each in readings or () if each.forward_power > KEYED]
    words = f"The board reads {sum(read) / len(read):.1f} W. " if read else ""
    twin = hands.session.parts.twin
    if twin is not None:
        words += f"The simulated transmitter's own meter shows {twin.shown_forward:.1f} W. "
    return words


def learn_table(hands: Hands, found: Findings) -> Step:
    """Two frequencies of each band."""
    for band in hands.ring.bands:
        for share in (0.2, 0.8):
            yield from _tuned(hands, band.low + share * (band.high - band.low))
            yield from hands.unkey()
    return found


def _tuned(hands: Hands, frequency: float) -> Wait:
    yield from hands.do(
        Tune(frequency),
        good="tuned",
        seconds=TUNE_PATIENCE,
        otherwise=f"No dip was found for {frequency / 1e6:.4f} MHz; look at feed, meter and the design's capacitor.",
    )
