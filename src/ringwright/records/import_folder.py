# SPDX-License-Identifier: BSD-3-Clause
"""A record rebuilt from the plain files of an export, or what they hold added to it; all of it or nothing.

What the record knows already, by checksum, stays as it is, so that the same folder taken in twice changes nothing.
"""

import json
import re
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from pydantic import ValidationError

from ringwright.errors import RecordEntryError, RecordFileError, TuningTableError
from ringwright.records import report_rows, rows, tuning_rows
from ringwright.records.database import Database
from ringwright.records.entries import moment_of
from ringwright.records.plain_files import (
    CONTENTS,
    Contents,
    DesignLine,
    Line,
    NoteLine,
    ReportLine,
    ResultLine,
    SweepLine,
    TableLine,
    TuningLine,
)
from ringwright.records.result import Result
from ringwright.records.sweep_files import SWEEPS, SweepFolder, checksum
from ringwright.records.tuning import Found, Tuning, TuningPairs

_EXPORT = re.compile(r'"schema": ?"ringwright\.records/([1-9][0-9]{0,5})"')
LARGEST = 500_000_000
"""[bytes] of one file of lines."""

AnyLine = TypeVar("AnyLine", bound=Line)


@dataclass(frozen=True, slots=True, kw_only=True)
class Imported:
    """How many of each were new."""

    sweeps: int
    results: int
    notes: int
    tuning_pairs: int
    tunings: int
    reports: int


def import_record(database: Database, sweeps: SweepFolder, *, source: Path) -> Imported:
    """Read all of an exported folder, then keep what is new; inside a transaction.

    Raises
    ------
    RecordFileError
        If the folder is no export, or one of its files is damaged.
    """
    contents = _contents(source)
    designs = _lines(source / "designs.jsonl", DesignLine, count=contents.designs)
    measured = _lines(source / "sweeps.jsonl", SweepLine, count=contents.sweeps)
    said = _lines(source / "results.jsonl", ResultLine, count=contents.results)
    notes = _lines(source / "notes.jsonl", NoteLine, count=contents.notes)
    tables = _later_lines(source / "tuning_tables.jsonl", TableLine, count=contents.tuning_tables)
    tunings = _later_lines(source / "tunings.jsonl", TuningLine, count=contents.tunings)
    heard = _later_lines(source / "reports.jsonl", ReportLine, count=contents.reports)
    _check_places(heard)
    _check_designs(designs)
    known = {d.sha256 for d in designs}
    _check_results(said, known, {s.sha256 for s in measured})
    kept_tables = [_tuning_table(line, number) for number, line in enumerate(tables, start=1)]
    kept_tunings = [_tuning(line, number, known) for number, line in enumerate(tunings, start=1)]
    results = [_result(line, number) for number, line in enumerate(said, start=1)]
    new_sweeps = sum(
        _keep(database, sweeps, line, original=_original(source, line, number))
        for number, line in enumerate(measured, start=1)
    )
    for design in designs:
        rows.insert_design(database, design.text)
    new_results = sum(
        rows.insert_result(database, sweep=line.sweep, design=line.design, result=result)
        for line, result in zip(said, results, strict=True)
    )
    new_notes = sum(rows.insert_note(database, at=note.at, kind=note.kind, text=note.text) for note in notes)
    new_pairs = sum(tuning_rows.add_pairs(database, name, pairs) for name, pairs in kept_tables)
    new_tunings = sum(
        tuning_rows.insert_tuning(database, tuning, design=design)[1] for tuning, design in kept_tunings
    )
    new_reports = report_rows.insert_reports(
        database, (tuple(getattr(line, column) for column in report_rows.COLUMNS) for line in heard)
    )
    return Imported(
        sweeps=new_sweeps,
        results=new_results,
        notes=new_notes,
        tuning_pairs=new_pairs,
        tunings=new_tunings,
        reports=new_reports,
    )


def _keep(database: Database, sweeps: SweepFolder, line: SweepLine, *, original: bytes | None) -> bool:
    """A sweep and its file; whether it is new."""
    known = rows.file_of(database, line.sha256)
    if known is not None:
        if original is not None:
            sweeps.restore(original, file=known)
        return False
    kept = line.model_dump(exclude={"is_there", "temperature_degc"}) | {"temperature": line.temperature_degc}
    file = sweeps.name_for(line.file, sha256=line.sha256)
    if original is not None:
        sweeps.restore(original, file=file)
    rows.insert_sweep(database, rows.SweepRow(**kept | {"file": file}))
    return True


def _original(source: Path, line: SweepLine, number: int) -> bytes | None:
    if not line.is_there:
        return None
    name = f"{SWEEPS}/{line.file}"
    content = SweepFolder(source).content(line.file)
    if content is None:
        raise RecordFileError(f"{source}", None, f"{name} is missing or cannot be read; export again")
    if len(content) != line.size or checksum(content) != line.sha256:
        raise RecordFileError(
            f"{source}",
            None,
            f"{name} is not the file of sweeps.jsonl, line {number} (checksum); export again",
        )
    return content


def _contents(source: Path) -> Contents:
    if not (source / CONTENTS).is_file():
        raise RecordFileError(
            str(source), None, f"there is no {CONTENTS} in it; name a folder made by record export"
        )
    text = _text(source / CONTENTS)
    version = _EXPORT.search(text)
    if version is not None and int(version[1]) > 1:
        raise RecordFileError(str(source / CONTENTS), 1, "was written by a newer program; update this one")
    return _line(text, source=source / CONTENTS, number=1, form=Contents)


def _lines(path: Path, form: type[AnyLine], *, count: int) -> list[AnyLine]:
    lines = _text(path).split("\n")
    if lines.pop() or len(lines) != count:
        raise RecordFileError(
            str(path), None, f"has {len(lines)} whole lines, {CONTENTS} says {count}; export again"
        )
    return [_line(text, source=path, number=n, form=form) for n, text in enumerate(lines, start=1)]


def _later_lines(path: Path, form: type[AnyLine], *, count: int) -> list[AnyLine]:
    """Of a file that an older export has not."""
    return _lines(path, form, count=count) if count or path.exists() else []


def _line(text: str, *, source: Path, number: int, form: type[AnyLine]) -> AnyLine:
    try:
        values = json.loads(text)
        json.dumps(values, ensure_ascii=False).encode()  # half a surrogate pair is JSON, but no text
        return form.model_validate(values)
    except ValidationError as exc:
        first = exc.errors(include_url=False)[0]
        where = ".".join(map(str, first["loc"]))
        raise RecordFileError(str(source), number, f"{where}: {first['msg']}; export again") from exc
    except (ValueError, RecursionError) as exc:
        raise RecordFileError(str(source), number, f"is no line of JSON ({exc}); export again") from exc


def _text(path: Path) -> str:
    try:
        if path.stat().st_size > LARGEST:
            raise RecordFileError(
                str(path), None, f"is larger than {LARGEST / 1e6:.0f} MB, which no record is"
            )
        return path.read_bytes().decode()
    except OSError as exc:
        raise RecordFileError(
            str(path), None, f"cannot be read ({exc.strerror or exc}); export again"
        ) from exc
    except UnicodeDecodeError as exc:
        raise RecordFileError(str(path), None, "is no UTF-8 text; export again") from exc


def _check_places(lines: list[ReportLine]) -> None:
    for number, line in enumerate(lines, start=1):
        told = [value is not None for value in (line.latitude, line.longitude, line.uncertainty)]
        if any(told) != all(told):
            raise RecordFileError(
                "reports.jsonl", number, "a place has latitude, longitude and uncertainty; export again"
            )


def _check_designs(designs: list[DesignLine]) -> None:
    for number, design in enumerate(designs, start=1):
        if checksum(design.text.encode()) != design.sha256:
            raise RecordFileError("designs.jsonl", number, "the text has another checksum; export again")


def _check_results(results: list[ResultLine], designs: set[str], sweeps: set[str]) -> None:
    for number, line in enumerate(results, start=1):
        if line.design not in designs or line.sweep not in sweeps:
            raise RecordFileError(
                "results.jsonl", number, "its design or sweep is not in the export; export again"
            )
    silent = sweeps - {line.sweep for line in results}
    if silent:
        raise RecordFileError(
            "results.jsonl", None, f"has no result of the sweep {min(silent)}; export again"
        )


def _tuning_table(line: TableLine, number: int) -> tuple[str, TuningPairs]:
    try:
        return line.name, TuningPairs.from_document(line.model_dump())
    except (TuningTableError, RecordEntryError) as exc:
        raise RecordFileError("tuning_tables.jsonl", number, f"{exc}; export again") from exc


def _tuning(line: TuningLine, number: int, designs: set[str]) -> tuple[Tuning, str]:
    if line.design not in designs:
        raise RecordFileError("tunings.jsonl", number, "its design is not in the export; export again")
    try:
        tuning = Tuning(
            at=moment_of(line.at),
            table=line.table,
            band=line.band,
            frequency=line.frequency_hz,
            outcome=line.outcome,
            found=Found.from_document(line.document),
        )
    except RecordEntryError as exc:
        raise RecordFileError("tunings.jsonl", number, f"{exc}; export again") from exc
    return tuning, line.design


def _result(line: ResultLine, number: int) -> Result:
    try:
        return Result.from_document(line.result)
    except RecordEntryError as exc:
        raise RecordFileError("results.jsonl", number, f"{exc}; export again") from exc
