# SPDX-License-Identifier: BSD-3-Clause
"""Tunings and tuning tables as they stand in the record's tables."""

from collections.abc import Mapping
from json import dumps, loads
from typing import Any

from ringwright.records.database import Database
from ringwright.records.entries import moment_of, moment_text
from ringwright.records.sweep_files import checksum
from ringwright.records.tuning import SCHEMA, Found, Outcome, RecordedTuning, Tuning, TuningPairs
from ringwright.tuner.table_point import FIRST_SITE, Point


def insert_tuning(database: Database, tuning: Tuning, *, design: str) -> tuple[str, bool]:
    """Keep a tuning, its design by its checksum; the tuning's own checksum, and whether it is new."""
    values = (
        *(moment_text(tuning.at), design, tuning.table, tuning.band),
        *(float(tuning.frequency), tuning.outcome.value, SCHEMA, tuning.found_text()),
    )
    sha256 = checksum(dumps(values, ensure_ascii=False).encode())
    is_new = database.write(
        "INSERT OR IGNORE INTO tuning (sha256, at, design, table_name, band, frequency, outcome, schema, document) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        *(sha256, *values),
    )
    return sha256, bool(is_new)


def tunings(database: Database, *, band: str | None = None) -> tuple[RecordedTuning, ...]:
    """Tunings in the order in which they happened."""
    return tuple(
        RecordedTuning(
            number=number,
            design=design,
            tuning=Tuning(
                at=moment_of(at),
                table=table_name,
                band=of_band,
                frequency=frequency,
                outcome=Outcome(outcome),
                found=Found.from_document(loads(document)),
            ),
        )
        for number, at, design, table_name, of_band, frequency, outcome, document in database.rows(
            "SELECT id, at, design, table_name, band, frequency, outcome, document FROM tuning "
            "WHERE ?1 IS NULL OR band = ?1 ORDER BY at, id",
            band,
        )
    )


def table(database: Database, name: str) -> TuningPairs:
    """The tuning table of a name, empty where none is kept."""
    found = database.rows("SELECT site FROM tuning_table WHERE name = ?", name)
    points = tuple(
        Point(
            position=position,
            frequency=frequency,
            spread=spread,
            temperature=temperature,
            at=moment_of(at),
            site=site,
        )
        for position, frequency, spread, temperature, at, site in database.rows(
            "SELECT position, frequency, spread, temperature, measured_at, site FROM tuning_pair "
            "WHERE table_name = ? ORDER BY number",
            name,
        )
    )
    return TuningPairs(points=points, site=found[0][0] if found else FIRST_SITE)


def put_table(database: Database, name: str, pairs: TuningPairs) -> None:
    """Keep a tuning table in place of what it was."""
    database.write(
        "INSERT INTO tuning_table (name, site) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET site = excluded.site",
        *(name, pairs.site),
    )
    database.write("DELETE FROM tuning_pair WHERE table_name = ?", name)
    for number, point in enumerate(pairs.points, start=1):
        _insert_pair(database, name, number=number, point=point)


def add_pairs(database: Database, name: str, pairs: TuningPairs) -> int:
    """Add the pairs that a table has not, after its own; how many. The site of a table that is there stays."""
    database.write("INSERT OR IGNORE INTO tuning_table (name, site) VALUES (?, ?)", name, pairs.site)
    known = table(database, name).points
    new = [point for point in pairs.points if point not in known]
    for number, point in enumerate(new, start=len(known) + 1):
        _insert_pair(database, name, number=number, point=point)
    return len(new)


def table_lines(database: Database) -> list[Mapping[str, Any]]:
    """All tuning tables for an export."""
    names = database.rows("SELECT name FROM tuning_table ORDER BY name")
    return [{"name": name} | table(database, name).to_document() for (name,) in names]


def tuning_lines(database: Database) -> list[Mapping[str, Any]]:
    """All tunings for an export, in the order in which they were kept."""
    return [
        {
            "at": moment_text(kept.tuning.at),
            "design": kept.design,
            "table": kept.tuning.table,
            "band": kept.tuning.band,
            "frequency_hz": kept.tuning.frequency,
            "outcome": kept.tuning.outcome.value,
            "schema": SCHEMA,
            "document": kept.tuning.found.to_document(),
        }
        for kept in sorted(tunings(database), key=lambda kept: kept.number)
    ]


def _insert_pair(database: Database, name: str, *, number: int, point: Point) -> None:
    database.write(
        "INSERT INTO tuning_pair (table_name, number, position, frequency, spread, temperature, measured_at, site) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        *(name, number, point.position, float(point.frequency), float(point.spread), point.temperature),
        *(moment_text(point.at), point.site),
    )
