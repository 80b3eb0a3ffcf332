# SPDX-License-Identifier: BSD-3-Clause
"""What reports say, for people."""

from collections import Counter
from collections.abc import Iterator, Sequence

from ringwright.air.comparison import Comparison
from ringwright.air.reports import Reading
from ringwright.air.summary import BandSummary
from ringwright.air.verdict import more, verdict
from ringwright.cli.terminal import Terminal

_LISTED = 10
"""Rejected rows told one by one; all of them stand in the JSON document."""


def air_report(
    reading: Reading,
    bands: Sequence[BandSummary],
    *,
    comparison: Comparison | None,
    locator: str | None,
    terminal: Terminal,
) -> Iterator[str]:
    """Line by line."""
    rejected = len(reading.rejected)
    yield terminal.strong(f"{reading.read} rows read, {len(reading.reports)} kept, {rejected} rejected")
    if bands:
        yield f"  {'band':<7}{'reports':>9}{'median':>12}{'farthest':>12}{'SNR':>8}"
    for band in bands:
        yield (
            f"  {band.band:<7}{band.count:>9}{_kilometres(band.distance_median):>12}"
            f"{_kilometres(band.distance_max):>12}{_decibels(band.snr_median):>8}"
        )
    if bands and locator is None:
        yield terminal.wrapped(
            "Distances need your own place: give it with --locator.", first="  ", rest="  "
        )
    if comparison is not None:
        yield ""
        yield terminal.wrapped(verdict(comparison))
        yield terminal.wrapped(more(comparison))
        if comparison.left_out:
            yield terminal.wrapped(
                f"{comparison.left_out} pairs lay at the receivers' floor, where a weak antenna is heard only by luck, "
                f"and are left out."
            )
        if not comparison.heard_me:
            yield terminal.wrapped("This is of stations heard, noise included, not of being heard.")
    if rejected:
        yield ""
        yield from _rejected(reading, terminal)


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
