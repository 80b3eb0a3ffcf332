# SPDX-License-Identifier: BSD-3-Clause
"""What reports say, for people."""

from collections import Counter
from collections.abc import Iterator, Sequence

from ringwright.air.comparison import Comparison
from ringwright.air.null_fit import NullFit
from ringwright.air.reports import Reading
from ringwright.air.sentences import (
    comparison_notes,
    history_words,
    null_words,
    pattern_limits,
    predicted_null_words,
    promise_words,
)
from ringwright.air.summary import LIGHT_WORDS, LIGHTS, BandSummary, LightTable
from ringwright.air.verdict import more, verdict
from ringwright.antenna.directions import Null
from ringwright.cli.air_answer import Answer
from ringwright.cli.terminal import Terminal

_LISTED = 10
"""Rejected rows told one by one; all of them stand in the JSON document."""
_NOTHING = (
    "There is no report in it, or nothing but headings: export a longer time, or name the file that has them."
)


def air_report(answer: Answer, bands: Sequence[BandSummary], terminal: Terminal) -> Iterator[str]:
    """Line by line."""
    reading, rejected = answer.reading, len(answer.reading.rejected)
    yield terminal.strong(f"{reading.read} rows read, {len(reading.reports)} kept, {rejected} rejected")
    if reading.read == 0:
        yield terminal.wrapped(_NOTHING, first="  ", rest="  ")
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
    if answer.light is not None:
        yield from _light(answer.light)
    if answer.comparison is not None:
        yield ""
        yield from _comparison(answer.comparison, answer, terminal)
    if answer.null is not None:
        yield ""
        yield from _null(answer.null, answer.predicted_nulls, terminal)
    if answer.history is not None:
        yield ""
        yield from map(terminal.wrapped, history_words(answer.history))
    if rejected:
        yield ""
        yield from _rejected(reading, terminal)


def _comparison(comparison: Comparison, answer: Answer, terminal: Terminal) -> Iterator[str]:
    yield terminal.wrapped(verdict(comparison))
    yield terminal.wrapped(more(comparison))
    yield from map(terminal.wrapped, comparison_notes(comparison))
    for told in answer.fairness or ():
        yield terminal.wrapped(told, first="! ")
    if answer.expected is not None:
        yield terminal.wrapped(promise_words(answer.expected))


def _null(null: NullFit, predicted: Sequence[tuple[str, Null]], terminal: Terminal) -> Iterator[str]:
    plane = "from where --turned says the plane lies" if null.is_turned else "from the plane"
    yield terminal.wrapped(null_words(null, plane=plane))
    for words in predicted_null_words(predicted):
        yield terminal.wrapped(words, first="  ", rest="    ")
    yield terminal.wrapped(pattern_limits())


def _light(table: LightTable) -> Iterator[str]:
    """Who was in daylight when they heard you, and who was not."""
    names = [LIGHT_WORDS[each] for each in LIGHTS]
    yield f"  {'light here':<12}{'there:':>8}" + "".join(f"{name:>11}" for name in names)
    for name, row, rest in zip(names, table.both, table.placeless, strict=True):
        unknown = f"   {rest} of unknown place" if rest else ""
        yield f"  {name:<20}" + "".join(f"{count:>11}" for count in row) + unknown


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
