# SPDX-License-Identifier: BSD-3-Clause
"""Pairs of a tuning table as comma-separated text, one row each, that comes back exactly."""

import csv
import io
from collections.abc import Callable, Iterable
from datetime import datetime
from typing import TypeVar

from ringwright.errors import TuningTableError
from ringwright.tuner.table import MOST_POINTS
from ringwright.tuner.table_point import Point
from ringwright.units import shown

T = TypeVar("T")

HEADINGS = ("position_steps", "frequency_hz", "spread_hz", "temperature_degc", "at", "site")
_FORMULA = ("=", "+", "-", "@", "'")
"""What a spreadsheet would run, and the sign that keeps it from that."""


def points_text(points: Iterable[Point]) -> str:
    """The rows with their headings."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(HEADINGS)
    for point in points:
        site = f"'{point.site}" if point.site.startswith(_FORMULA) else point.site
        warmth = "" if point.temperature is None else repr(float(point.temperature))
        writer.writerow([
            point.position, repr(float(point.frequency)), repr(float(point.spread)), warmth, point.at.isoformat(), site,
        ])  # fmt: skip
    return text.getvalue()


def parse_points(text: str, *, source: str) -> tuple[Point, ...]:
    """Pairs from such text.

    Raises
    ------
    TuningTableError
        If a row is none of a tuning table; the sentence starts with source and row.
    """
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    except csv.Error as exc:
        raise TuningTableError(f"{source}: is no table of comma-separated values ({exc})") from exc
    if not rows or tuple(cell.strip() for cell in rows[0]) != HEADINGS:
        raise TuningTableError(f"{source}:1: the headings must be {','.join(HEADINGS)}")
    if len(rows) - 1 > MOST_POINTS:
        raise TuningTableError(f"{source}: has {len(rows) - 1} pairs; a table takes at most {MOST_POINTS}")
    return tuple(_point(row, f"{source}:{number}") for number, row in enumerate(rows[1:], start=2) if row)


def _point(row: list[str], place: str) -> Point:
    if len(row) != len(HEADINGS):
        raise TuningTableError(f"{place}: has {len(row)} cells, write {len(HEADINGS)}")
    position, frequency, spread, warmth, at, site = (cell.strip() for cell in row)
    try:
        return Point(
            position=_read(int, position, "position_steps"),
            frequency=_read(float, frequency, "frequency_hz"),
            spread=_read(float, spread, "spread_hz"),
            temperature=_read(float, warmth, "temperature_degc") if warmth else None,
            at=_read(datetime.fromisoformat, at, "at"),
            site=site.removeprefix("'"),
        )
    except TuningTableError as exc:
        raise TuningTableError(f"{place}: {exc}") from exc


def _read(reader: Callable[[str], T], cell: str, heading: str) -> T:
    try:
        return reader(cell)
    except (ValueError, OverflowError) as exc:
        raise TuningTableError(f"{heading}: {shown(cell)} is none; write it as an export does") from exc
