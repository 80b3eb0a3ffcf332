# SPDX-License-Identifier: BSD-3-Clause
"""Readers of what the program itself kept: tuning table, journals, an account of a drive, an exported record.

Power fails and people edit: what was written well once may come back as anything.
"""

import io
import shutil
import tempfile
import zipfile
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path

import numpy as np

from ringwright.choose.rings.node import Node
from ringwright.desk.search_journal import SearchJournal
from ringwright.errors import RingwrightError
from ringwright.records.archive import unpack
from ringwright.records.drive_files import FOLDER, file_name, keep_findings, read_findings
from ringwright.records.entries import NoteKind
from ringwright.records.records import MADE_BY_NEW, Records
from ringwright.tuner.board_journal import RECORD, Journal
from ringwright.tuner.commission import Findings
from ringwright.tuner.journal import Kept, journal_line, read_journal
from ringwright.tuner.table_point import Point
from ringwright.tuner.table_text import parse_points, points_text
from scripts.fuzz_readers.reader import Form, Reader, check

_START = datetime(2026, 5, 1, 12, tzinfo=UTC)
_NAME = "Terrace octagon"
_EXPORTED = ("record.json", "designs.jsonl", "sweeps.jsonl", "results.jsonl", "notes.jsonl", "tuning_tables.jsonl",
             "tunings.jsonl", "reports.jsonl")  # fmt: skip


def _points() -> tuple[Point, ...]:
    return tuple(
        Point(
            position=400 + 90 * n, frequency=5.35e6 + 31e3 * n, spread=120.0, temperature=None if n == 2 else 21.5,
            at=_START + timedelta(minutes=n), site="=terrace" if n else "terrace, north",
        )
        for n in range(4)
    )  # fmt: skip


def _read_table(data: bytes) -> None:
    text = data.decode("utf-8", errors="replace")
    points = parse_points(text, source="table.csv")
    again = parse_points(points_text(points), source="again.csv")
    check(again == points, f"a table is another one when written and read again: {points} {again}")


def _position_journal(data: bytes) -> None:
    told = read_journal(data)
    check(told.kept is None or told.number >= 0, "a place with no number")
    if told.is_whole and told.kept is not None:
        line = journal_line(told.kept, told.number)
        check(line in data, "a place that no line tells")
        further = read_journal(data[: data.rindex(b"\n") + 1] + journal_line(told.kept, told.number + 1))
        check(
            further.is_whole and further.number == told.number + 1, "a whole journal cannot be gone on with"
        )


class _Flash:
    """Two sectors of what is there."""

    size = 8 * RECORD

    def __init__(self, octets: bytes) -> None:
        whole = octets[: 2 * self.size].ljust(2 * self.size, b"\xff")
        self.sectors = [whole[: self.size], whole[self.size :]]

    def read(self, sector: int) -> bytes:
        return self.sectors[sector]

    def erase(self, sector: int) -> None:
        self.sectors[sector] = b"\xff" * self.size

    def write(self, sector: int, offset: int, octets: bytes) -> None:
        was = self.sectors[sector]
        check(offset + len(octets) <= self.size, "written beyond a sector")
        self.sectors[sector] = was[:offset] + octets + was[offset + len(octets) :]


def _board_journal(data: bytes) -> None:
    flash = _Flash(data)
    journal = Journal(flash)
    for at in (journal.at + 1, 7, 8):
        journal.note(at, True)
        again = Journal(flash)
        check((again.at, again.sure) == (at, True), f"{at} was kept and {again.at} found")


def _flash_octets() -> bytes:
    flash = _Flash(b"")
    journal = Journal(flash)
    journal.note_boot()
    for at in range(5):
        journal.note(100 + at, at % 2 == 0)
    return b"".join(flash.sectors)


def _journal(data: bytes) -> None:
    """Octets that begin with an F are flash; else lines of the tuner on a disk."""
    if data.startswith(b"F"):
        _board_journal(data[1:])
    else:
        _position_journal(data)


@cache
def own_folder() -> Path:
    """Of this process alone."""
    return Path(tempfile.mkdtemp(prefix="fuzz-readers-"))


def _search_journal(data: bytes) -> None:
    path = own_folder() / "search.jsonl"
    path.write_bytes(data)
    journal = SearchJournal(path)
    journal.put("new", _NODE)
    journal.close()
    again = SearchJournal(path)
    found = again.get("new")
    again.close()
    check(
        found is not None and np.array_equal(found.outside, _NODE.outside), "what was kept is not found again"
    )


_NODE = Node(
    outside=np.array([1.0 + 2.0j]), ring=np.ones(2), coupling=np.ones((2, 2)), joints=np.zeros(1), sky=np.ones(1),
    metal=np.zeros((0, 2)), fields=np.ones(3), refusal=None,
)  # fmt: skip


def _search_lines() -> bytes:
    path = own_folder() / "seed.jsonl"
    journal = SearchJournal(path)
    journal.put("a", _NODE)
    journal.put("b", _NODE)
    journal.close()
    return path.read_bytes()


def _drive(data: bytes) -> None:
    folder = own_folder() / "drives"
    (folder / MADE_BY_NEW).mkdir(parents=True, exist_ok=True)
    (folder / FOLDER).mkdir(exist_ok=True)
    (folder / FOLDER / f"{file_name(_NAME)}.json").write_bytes(data)
    found = read_findings(folder, _NAME, travel=2080)
    keep_findings(folder, _NAME, found)
    check(read_findings(folder, _NAME, travel=2080) == found, f"{found} is another when kept and read again")


def _drive_text() -> bytes:
    folder = own_folder() / "seed-drive"
    (folder / MADE_BY_NEW).mkdir(parents=True)
    keep_findings(folder, _NAME, Findings(travel=2080))
    return (folder / FOLDER / f"{file_name(_NAME)}.json").read_bytes()


def _workspace_files(data: bytes) -> None:
    """JSON that begins with a D is an account of a drive; else solutions of a search."""
    if data.startswith(b"D"):
        _drive(data[1:])
    else:
        _search_journal(data)


def _exported() -> Path:
    """A small record as plain files."""
    made = own_folder() / "exported"
    if not made.exists():
        workspace = own_folder() / "workspace"
        (workspace / MADE_BY_NEW).mkdir(parents=True)
        with Records.open(workspace) as records:
            records.add_note("a note", at=_START, kind=NoteKind.OTHER)
            records.export(made)
    return made


def _record(data: bytes) -> None:
    """The first line names the file of an export that the rest stands for."""
    name, _, content = data.partition(b"\n")
    if name == b"archive.zip":
        _archive(content)
        return
    folder = own_folder() / "changed"
    shutil.copytree(_exported(), folder, dirs_exist_ok=True)
    wanted = name.decode("latin-1")
    (folder / (wanted if wanted in _EXPORTED else _EXPORTED[0])).write_bytes(content)
    _take_in(folder)


def _archive(content: bytes) -> None:
    to = own_folder() / "unpacked"
    shutil.rmtree(to, ignore_errors=True)
    to.mkdir()
    file = own_folder() / "archive.zip"
    file.write_bytes(content)
    unpack(file, to)
    check(not [path for path in to.rglob("*") if path.is_symlink()], "a link came out of an archive")
    _take_in(to)


def _take_in(folder: Path) -> None:
    """Into an empty record, and once more: then nothing may be new."""
    target = own_folder() / "target"
    shutil.rmtree(target, ignore_errors=True)
    (target / MADE_BY_NEW).mkdir(parents=True)
    with Records.open(target) as records:
        try:
            records.import_(folder)
        except RingwrightError:
            check(records.count() == 0, "an import that was refused left something behind")
            raise
        before = records.count()
        records.import_(folder)
        check(records.count() == before, "the same export taken in twice left something twice")


def _zip_octets() -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", compression=zipfile.ZIP_DEFLATED) as archive:
        for path in sorted(_exported().rglob("*")):
            if path.is_file():
                archive.write(path, f"record/{path.name}")
    return packed.getvalue()


def _record_seeds() -> tuple[bytes, ...]:
    files = [name.encode() + b"\n" + (_exported() / name).read_bytes() for name in _EXPORTED]
    return (*files, b"archive.zip\n" + _zip_octets())


_LINES = b"".join(
    journal_line(Kept(at=at, is_sure=to is None, to=to, boots=2), number)
    for number, (at, to) in enumerate([(0, None), (0, 400), (400, None), (400, 90), (90, None)], start=7)
)
_JSON = (b'"v":', b"null", b"[]", b"{}", b"1e999", b"[" * 2000, b'"' * 3)

READERS = (
    Reader(
        name="tuning-table",
        seeds=(points_text(_points()).encode(),),
        read=_read_table,
        tokens=(b"position_steps", b"2026-05-01T12:00:00+00:00", b"'=site", b'""', b"0001-01-01", b"5350000.0"),
    ),
    Reader(name="journal", seeds=(_LINES, b"F" + _flash_octets()), read=_journal, form=Form.OCTETS, longest=2048),
    Reader(
        name="workspace",
        seeds=(_search_lines(), b"D" + _drive_text()),
        read=_workspace_files,
        form=Form.JSON_LINES,
        tokens=_JSON,
    ),
    Reader(
        name="record", seeds=_record_seeds(), read=_record, form=Form.JSON_LINES,
        tokens=(b"PK\x01\x02", b"PK\x03\x04", *_JSON),
    ),
)  # fmt: skip
