# SPDX-License-Identifier: BSD-3-Clause
"""The rows of a record as they stand in its tables; rows that are there already are left as they are."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import asdict, astuple, dataclass, fields
from json import loads

from ringwright.records.database import Database
from ringwright.records.entries import Note, NoteKind, RecordedSweep, moment_of
from ringwright.records.result import SCHEMA, Result
from ringwright.records.sweep_files import checksum


@dataclass(frozen=True, slots=True, kw_only=True)
class SweepRow:
    """A sweep without its number and results; `measured_at` as text, `temperature` in degrees C."""

    sha256: str
    file: str
    name_given: str
    size: int
    measured_at: str
    band: str | None
    build: str | None
    temperature: float | None
    note: str


_NAMES = tuple(field.name for field in fields(SweepRow))
_COLUMNS, _PLACES = ", ".join(_NAMES), ", ".join("?" for _ in _NAMES)
_CHOSEN = "(?1 IS NULL OR band = ?1) AND (?2 IS NULL OR build = ?2)"


def insert_design(database: Database, text: str) -> str:
    """Keep the text of a design; its checksum."""
    sha256 = checksum(text.encode())
    database.write("INSERT OR IGNORE INTO design (sha256, text) VALUES (?, ?)", sha256, text)
    return sha256


def insert_sweep(database: Database, row: SweepRow) -> None:
    """Keep a sweep that is not known yet."""
    database.write(f"INSERT INTO sweep ({_COLUMNS}) VALUES ({_PLACES})", *astuple(row))  # noqa: S608 -- constants


def insert_result(database: Database, *, sweep: str, design: str, result: Result) -> bool:
    """Keep what a sweep said against a design, both by their checksums; whether it is new."""
    return bool(
        database.write(
            "INSERT OR IGNORE INTO result (sweep, design, schema, document) "
            "SELECT id, ?, ?, ? FROM sweep WHERE sha256 = ?",
            *(design, SCHEMA, result.to_text(), sweep),
        )
    )


def insert_note(database: Database, *, at: str, kind: NoteKind, text: str) -> bool:
    """Keep a note; whether it is new."""
    return bool(
        database.write("INSERT OR IGNORE INTO note (at, kind, text) VALUES (?, ?, ?)", at, kind.value, text)
    )


def file_of(database: Database, sha256: str) -> str | None:
    """The name of the sweep file with this content; None if the record does not know it."""
    rows = database.rows("SELECT file FROM sweep WHERE sha256 = ?", sha256)
    return str(rows[0][0]) if rows else None


def designs(database: Database) -> Mapping[str, str]:
    """All texts of designs by their checksum."""
    return dict(database.rows("SELECT sha256, text FROM design ORDER BY sha256"))


def numbered_rows(
    database: Database, *, band: str | None = None, build: str | None = None
) -> dict[int, SweepRow]:
    """Sweeps as they stand in the table, by their numbers."""
    return {
        number: SweepRow(**dict(zip(_NAMES, row, strict=True)))
        for number, *row in database.rows(
            f"SELECT id, {_COLUMNS} FROM sweep WHERE {_CHOSEN} ORDER BY id",  # noqa: S608 -- constants
            *(band, build),
        )
    }


def results(
    database: Database, *, band: str | None = None, build: str | None = None
) -> list[tuple[int, str, Result]]:
    """Results in the order in which they came, each with the sweep's number and the checksum of the design."""
    return [
        (sweep, design, Result.from_document(loads(document)))
        for sweep, design, document in database.rows(
            "SELECT sweep, design, document FROM result JOIN sweep ON sweep.id = result.sweep "  # noqa: S608
            f"WHERE {_CHOSEN} ORDER BY result.id",
            *(band, build),
        )
    ]


def sweeps(database: Database, *, band: str | None, build: str | None) -> tuple[RecordedSweep, ...]:
    """Sweeps with their results, in the order in which they were measured."""
    said = defaultdict(list)
    for number, design, result in results(database, band=band, build=build):
        said[number].append((design, result))
    found = [
        RecordedSweep(
            number=number,
            **asdict(row) | {"measured_at": moment_of(row.measured_at), "results": tuple(said[number])},
        )
        for number, row in numbered_rows(database, band=band, build=build).items()
    ]
    return tuple(sorted(found, key=lambda sweep: sweep.measured_at))


def notes(database: Database) -> tuple[Note, ...]:
    """All notes in the order in which they were written down."""
    return tuple(
        Note(number=number, at=moment_of(at), kind=NoteKind(kind), text=text)
        for number, at, kind, text in database.rows("SELECT id, at, kind, text FROM note ORDER BY id")
    )
