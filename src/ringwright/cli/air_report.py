# SPDX-License-Identifier: BSD-3-Clause
"""What reports say, for people."""

from collections import Counter
from collections.abc import Iterator, Sequence

from ringwright.air.comparison import Comparison
from ringwright.air.history import CAN, CANNOT, History
from ringwright.air.null_fit import NullFit
from ringwright.air.reports import Reading
from ringwright.air.summary import BandSummary
from ringwright.air.verdict import more, verdict
from ringwright.antenna.directions import Null
from ringwright.cli.air_answer import Answer
from ringwright.cli.terminal import Terminal

_LISTED = 10
"""Rejected rows told one by one; all of them stand in the JSON document."""


def air_report(answer: Answer, bands: Sequence[BandSummary], terminal: Terminal) -> Iterator[str]:
    """Line by line."""
    reading, rejected = answer.reading, len(answer.reading.rejected)
    yield terminal.strong(f"{reading.read} rows read, {len(reading.reports)} kept, {rejected} rejected")
    if bands:
        yield f"  {'band':<7}{'reports':>9}{'median':>12}{'farthest':>12}{'SNR':>8}"
    for band in bands:
        yield (
            f"  {band.band:<7}{band.count:>9}{_kilometres(band.distance_median):>12}"
            f"{_kilometres(band.distance_max):>12}{_decibels(band.snr_median):>8}"
        )
    if bands and answer.locator is None:
        yield terminal.wrapped(
            "Distances need your own place: give it with --locator.", first="  ", rest="  "
        )
    if answer.comparison is not None:
        yield ""
        yield from _comparison(answer.comparison, answer, terminal)
    if answer.null is not None:
        yield ""
        yield from _null(answer.null, answer.predicted_nulls, terminal)
    if answer.history is not None:
        yield ""
        yield from _history(answer.history, terminal)
    if rejected:
        yield ""
        yield from _rejected(reading, terminal)


def _comparison(comparison: Comparison, answer: Answer, terminal: Terminal) -> Iterator[str]:
    yield terminal.wrapped(verdict(comparison))
    yield terminal.wrapped(more(comparison))
    if comparison.left_out:
        yield terminal.wrapped(
            f"{comparison.left_out} pairs lay at the receivers' floor, where a weak antenna is heard only by luck, and "
            f"are left out."
        )
    if not comparison.heard_me:
        yield terminal.wrapped("This is of stations heard, noise included, not of being heard.")
    for told in answer.fairness or ():
        yield terminal.wrapped(told, first="! ")
    promise = answer.expected
    if promise is not None:
        met = {True: "The two agree.", False: "The two do not agree.", None: ""}[promise.is_met]
        yield terminal.wrapped(
            f"The designs promise {promise.difference:+.1f} dB ({promise.low:+.1f} to {promise.high:+.1f} with the "
            f"height of the layer) at the {promise.elevation_low:.0f} to {promise.elevation_high:.0f} degrees that "
            f"half of these paths take. {met}"
        )


def _null(null: NullFit, predicted: Sequence[tuple[str, Null]], terminal: Terminal) -> Iterator[str]:
    opposite = (null.bearing + 180.0) % 360.0
    where = "from where --turned says the plane lies" if null.is_turned else "from the plane"
    yield terminal.wrapped(
        f"The null lies {null.bearing:.0f} degrees ({null.bearing_low:.0f} to {null.bearing_high:.0f}) and "
        f"{opposite:.0f} degrees {where}, {null.depth:.0f} dB deep ({null.depth_low:.0f} to {null.depth_high:.0f}), "
        f"from {null.reports} reports of {null.receivers} receivers."
    )
    for band, each in predicted:
        yield terminal.wrapped(
            f"predicted on {band}: true bearing {each.bearing_deg:.0f} degrees, {each.depth_db:.0f} dB deep at a "
            f"take-off angle of 20 degrees",
            first="  ",
            rest="    ",
        )


def _history(history: History, terminal: Terminal) -> Iterator[str]:
    found = history.found
    if found is None:
        yield terminal.wrapped(
            f"{history.days_before} days before and {history.days_after} after with {history.pairs} pairs are too few "
            f"to tell the antenna from the sky."
        )
    else:
        yield terminal.wrapped(
            f"Since then the same receivers hear you {found.value:+.1f} dB ({found.low:+.1f} to {found.high:+.1f} with "
            f"95 % confidence, from {history.pairs} pairs)."
        )
    yield terminal.wrapped(f"{CAN} {CANNOT}")


def _rejected(reading: Reading, terminal: Terminal) -> Iterator[str]:
    yield terminal.strong("rejected rows")
    for each in reading.rejected[:_LISTED]:
        yield terminal.wrapped(
            f"row {each.row} ({each.file}:{each.line}): {each.reason}", first="  ", rest="    "
        )
    rest = reading.rejected[_LISTED:]
    if rest:
        files = Counter(each.file for each in rest)
        where = ", ".join(f"{count} in {name}" for name, count in files.items())
        yield terminal.wrapped(
            f"and {len(rest)} more ({where}); --json lists them all", first="  ", rest="    "
        )


def _kilometres(metres: float | None) -> str:
    return "-" if metres is None else f"{metres / 1e3:.0f} km"


def _decibels(value: float | None) -> str:
    return "-" if value is None else f"{value:+.0f} dB"
