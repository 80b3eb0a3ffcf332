# SPDX-License-Identifier: BSD-3-Clause
"""A record as plain files: JSON lines that rebuild it, tables for a spreadsheet, the original sweep files."""

import csv
import json
import secrets
import shutil
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from ringwright.disk import force_to_disk
from ringwright.errors import StorageError, WorkspaceError
from ringwright.records import report_rows, rows, tuning_rows
from ringwright.records.database import Database
from ringwright.records.entries import RecordedSweep, moment_text
from ringwright.records.plain_files import CONTENTS, EXPORT_SCHEMA
from ringwright.records.result import SCHEMA
from ringwright.records.sweep_files import SWEEPS, SweepFolder

_SPREADSHEET_FORMULA = ("=", "+", "-", "@")


@dataclass(frozen=True, slots=True, kw_only=True)
class Exported:
    """How many of each were written; `lost` are sweeps of which the original is gone or altered in the workspace."""

    designs: int
    sweeps: int
    results: int
    notes: int
    tuning_tables: int
    tunings: int
    reports: int
    lost: tuple[str, ...]


def export_record(database: Database, sweeps: SweepFolder, *, to: Path) -> Exported:
    """Write everything to a new folder, which appears whole or not at all.

    Raises
    ------
    WorkspaceError
        If the folder is there and not empty, or cannot be made.
    StorageError
        If the disk is full or fails.
    """
    draft = to.with_name(f".{to.name}.{secrets.token_hex(8)}.part")
    try:
        is_free = not to.exists() or (to.is_dir() and not any(to.iterdir()))
        if is_free:
            draft.mkdir()
    except (FileNotFoundError, NotADirectoryError, PermissionError, ValueError) as exc:
        reason = exc.strerror if isinstance(exc, OSError) else exc  # ValueError: a NUL in the path
        raise WorkspaceError(f"{to}: no folder can be made there ({reason}); name another") from exc
    if not is_free:
        raise WorkspaceError(f"{to} is there already; name a new folder, nothing is written over")
    try:
        with database.reading():
            exported = _write(database, sweeps, draft)
        if to.exists():
            to.rmdir()
        draft.rename(to)
        force_to_disk(to.parent)
    except OSError as exc:
        raise StorageError(f"{to}: writing failed ({exc.strerror or exc}); make room and try again") from exc
    finally:
        shutil.rmtree(draft, ignore_errors=True)
    return exported


def _write(database: Database, sweeps: SweepFolder, draft: Path) -> Exported:
    (draft / SWEEPS).mkdir()
    numbered = rows.numbered_rows(database)
    lost = tuple(row.file for row in numbered.values() if not _copied(sweeps, row, draft / SWEEPS))
    checksums = {number: row.sha256 for number, row in numbered.items()}
    lines: dict[str, list[Mapping[str, Any]]] = {
        "designs": [{"sha256": sha256, "text": text} for sha256, text in rows.designs(database).items()],
        "sweeps": [_sweep_line(row, is_there=row.file not in lost) for row in numbered.values()],
        "results": [
            {"sweep": checksums[sweep], "design": design, "schema": SCHEMA, "result": result.to_document()}
            for sweep, design, result in rows.results(database)
        ],
        "notes": [
            {"at": moment_text(note.at), "kind": note.kind.value, "text": note.text}
            for note in rows.notes(database)
        ],
        "tuning_tables": tuning_rows.table_lines(database),
        "tunings": tuning_rows.tuning_lines(database),
        "reports": report_rows.report_lines(database),
    }
    for name, objects in lines.items():
        _write_text(draft / f"{name}.jsonl", "".join(f"{_json(line)}\n" for line in objects))
    counts = {name: len(objects) for name, objects in lines.items()}
    _write_text(draft / CONTENTS, _json({"schema": EXPORT_SCHEMA, **counts}) + "\n")
    _write_table(draft / "sweeps.csv", _HEADINGS, _sweep_cells(rows.sweeps(database, band=None, build=None)))
    _write_table(
        draft / "notes.csv", ("at", "kind", "text"), ([line[key] for key in line] for line in lines["notes"])
    )
    return Exported(**counts, lost=lost)


def _copied(sweeps: SweepFolder, row: rows.SweepRow, folder: Path) -> bool:
    if not sweeps.holds(row.file, row.sha256):
        return False
    shutil.copyfile(sweeps.folder / row.file, folder / row.file)
    return True


def _sweep_line(row: rows.SweepRow, *, is_there: bool) -> dict[str, Any]:
    line = asdict(row)
    return line | {"temperature_degc": line.pop("temperature"), "is_there": is_there}


_FIGURES = ("frequency_hz", "q_unloaded", "q_loaded", "coupling", "swr_min", "efficiency_pct")
_HEADINGS = (
    *("number", "measured_at", "band", "build", "temperature_degc"),
    *(f"{key}{end}" for key in _FIGURES for end in ("", "_low", "_high")),
    *("file", "note"),
)


def _sweep_cells(sweeps: Iterable[RecordedSweep]) -> Iterator[list[Any]]:
    for sweep in sweeps:
        known = {
            "number": sweep.number,
            "measured_at": moment_text(sweep.measured_at),
            "band": sweep.band,
            "build": sweep.build,
            "temperature_degc": sweep.temperature,
            "file": sweep.file,
            "note": sweep.note,
        } | sweep.result.to_document()
        yield [known[heading] for heading in _HEADINGS]


def _write_table(path: Path, headings: Sequence[str], cells: Iterable[Iterable[Any]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(headings)
        writer.writerows([_harmless(cell) for cell in row] for row in cells)


def _harmless(cell: Any) -> Any:
    """A text that a spreadsheet would run as a formula gets an apostrophe in front."""
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(_SPREADSHEET_FORMULA) else cell


def _write_text(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="\n")


def _json(line: Mapping[str, Any]) -> str:
    return json.dumps(line, allow_nan=False, ensure_ascii=False)
