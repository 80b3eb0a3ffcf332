# SPDX-License-Identifier: BSD-3-Clause
"""The record of one workspace: `with Records.open(workspace) as records: ...`"""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from types import TracebackType
from typing import Self

from ringwright.air.reports import Reports
from ringwright.errors import NoSuchEntryError, RecordEntryError, WorkspaceError
from ringwright.records import report_rows, rows, tuning_rows
from ringwright.records.comparison import BuildComparison, compare_sweeps
from ringwright.records.database import Database
from ringwright.records.entries import (
    Note,
    NoteKind,
    RecordedSweep,
    kept_label,
    kept_table_name,
    kept_temperature,
    kept_text,
    moment_text,
)
from ringwright.records.export import Exported, export_record
from ringwright.records.import_folder import Imported, import_record
from ringwright.records.moments import MomentComparison, compare_moments
from ringwright.records.result import Result
from ringwright.records.rows import SweepRow
from ringwright.records.sweep_files import SweepFolder, checksum
from ringwright.records.trend import Trend, trend_of
from ringwright.records.tuning import RecordedTuning, Tuning, TuningPairs
from ringwright.units import shown

FILE = "records.sqlite"
MADE_BY_NEW = "designs"


@dataclass(frozen=True, slots=True, kw_only=True)
class Added:
    """An entry as it is kept; not `is_new` where the record had it already and nothing was changed.

    `is_known`: the bytes were there, and what was written of them stays.
    """

    number: int
    is_new: bool
    is_known: bool = False


class Records:
    """What happened to one antenna. One for each thread."""

    def __init__(self, workspace: Path, database: Database) -> None:
        self.workspace, self.database = workspace, database
        self._folder: SweepFolder | None = None

    @classmethod
    def open(cls, workspace: str | Path) -> Self:
        """The record of a workspace, begun if there is none yet.

        Raises
        ------
        WorkspaceError
            If the folder is no workspace.
        RecordError
            If the record is damaged, locked, not to be written, or of a newer program.
        """
        folder = Path(workspace)
        try:
            is_workspace = (folder / MADE_BY_NEW).is_dir() or (folder / FILE).is_file()
        except ValueError:  # a NUL in the path
            is_workspace = False
        if not is_workspace:
            raise WorkspaceError(
                f"{folder} is no workspace; name one, or make one with ringwright new {folder.name or 'FOLDER'}"
            )
        return cls(folder, Database(folder / FILE))

    def close(self) -> None:
        """Let the file go."""
        self.database.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    @contextmanager
    def writing(self) -> Iterator[SweepFolder]:
        """All that is added inside is kept together or not at all; for the time the sweep files are ours alone."""
        if self._folder is not None:
            yield self._folder
            return
        with self.database.writing():
            recorded = [file for (file,) in self.database.rows("SELECT file FROM sweep")]
            self._folder = SweepFolder(self.workspace, recorded)
            try:
                yield self._folder
            finally:
                self._folder = None

    def add_sweep(
        self,
        content: bytes,
        *,
        name: str,
        measured_at: datetime,
        design: str,
        result: Result,
        band: str | None,
        build: str | None = None,
        temperature: float | None = None,
        note: str = "",
    ) -> Added:
        """Keep a sweep file as it was delivered, and what it says against the text of a design.

        The same bytes are one record, whatever they are called: what is known of them stays, and only a result against
        another text of the design is added. `temperature` in degrees C.

        Raises
        ------
        RecordEntryError
            If a text, a moment or the temperature cannot be kept.
        RecordError, StorageError
            If the record cannot be written.
        """
        row = SweepRow(
            sha256=checksum(content),
            file="",  # found below
            name_given=name.encode(
                "utf-8", "backslashreplace"
            ).decode(),  # a name that is no text on this system
            size=len(content),
            measured_at=moment_text(measured_at),
            band=None if band is None else kept_label(band, what="band"),
            build=None if build is None else kept_label(build, what="build's name"),
            temperature=None if temperature is None else kept_temperature(temperature),
            note=kept_text(note, what="the note"),
        )
        with self.writing() as folder:
            known = rows.file_of(self.database, row.sha256)
            if known is None:
                rows.insert_sweep(self.database, replace(row, file=folder.keep(content, name=name)))
            else:
                folder.restore(content, file=known)
            of_design = rows.insert_design(self.database, design)
            is_new = rows.insert_result(self.database, sweep=row.sha256, design=of_design, result=result)
            ((number,),) = self.database.rows("SELECT id FROM sweep WHERE sha256 = ?", row.sha256)
        return Added(number=number, is_new=is_new, is_known=known is not None)

    def add_note(self, text: str, *, at: datetime, kind: NoteKind = NoteKind.OTHER) -> Added:
        """Keep a note; the same words of the same kind at the same second are one."""
        kept = kept_text(text, what="the note")
        if not kept:
            raise RecordEntryError("the note is empty; write what happened")
        when = moment_text(at)
        with self.writing():
            is_new = rows.insert_note(self.database, at=when, kind=kind, text=kept)
            ((number,),) = self.database.rows(
                "SELECT id FROM note WHERE at = ? AND kind = ? AND text = ?", when, kind.value, kept
            )
        return Added(number=number, is_new=is_new)

    def add_tuning(self, tuning: Tuning, *, design: str) -> Added:
        """Keep a tuning with its trace, and the text of the design it was done with; the same one twice is one."""
        with self.writing():
            of_design = rows.insert_design(self.database, design)
            sha256, is_new = tuning_rows.insert_tuning(self.database, tuning, design=of_design)
            ((number,),) = self.database.rows("SELECT id FROM tuning WHERE sha256 = ?", sha256)
        return Added(number=number, is_new=is_new)

    def tunings(self, *, band: str | None = None) -> tuple[RecordedTuning, ...]:
        """All tunings, or those of a band, in the order in which they happened."""
        return tuning_rows.tunings(self.database, band=band)

    def keep_table(self, name: str, table: TuningPairs, *, over: TuningPairs | None = None) -> None:
        """Keep a tuning table under a name, in place of what it was before.

        `over`: what the writer last knew of it; what others have changed since then stays changed.
        """
        label = kept_table_name(name)
        with self.writing():
            if over is not None:
                table = table.with_changes(over, tuning_rows.table(self.database, label))
            tuning_rows.put_table(self.database, label, table)

    def table(self, name: str) -> TuningPairs:
        """The tuning table of a name; one without pairs where none was kept yet."""
        with self.database.reading():
            return tuning_rows.table(self.database, name)

    def table_names(self) -> tuple[str, ...]:
        """The names under which tuning tables are kept."""
        return tuple(name for (name,) in self.database.rows("SELECT name FROM tuning_table ORDER BY name"))

    def add_reports(self, reports: Reports) -> int:
        """Keep reception reports; how many the record had not. What is told is kept to the second."""
        with self.writing():
            return report_rows.insert_reports(self.database, report_rows.rows_of(reports))

    def reports(self) -> Reports:
        """All reception reports in the order of time."""
        with self.database.reading():
            return report_rows.reports(self.database)

    def sweeps(self, *, band: str | None = None, build: str | None = None) -> tuple[RecordedSweep, ...]:
        """All sweeps, or those of a band or a build, in the order in which they were measured."""
        with self.database.reading():
            return rows.sweeps(self.database, band=band, build=build)

    def notes(self) -> tuple[Note, ...]:
        """All notes in the order in which things happened."""
        return tuple(sorted(rows.notes(self.database), key=lambda note: note.at))

    def file_of(self, number: int) -> str:
        """The name in `sweeps/` of the file of a sweep."""
        ((file,),) = self.database.rows("SELECT file FROM sweep WHERE id = ?", number)
        return str(file)

    def holds(self, sha256: str) -> bool:
        """Whether a sweep file of this content is in it."""
        return rows.file_of(self.database, sha256) is not None

    def design_texts(self) -> Mapping[str, str]:
        """All texts of designs by their checksum."""
        return rows.designs(self.database)

    def design_text(self, sha256: str) -> str:
        """The text of a design that a result belongs to."""
        found = self.database.rows("SELECT text FROM design WHERE sha256 = ?", sha256)
        if not found:
            raise NoSuchEntryError(f"the record holds no design text with the checksum {shown(sha256)}")
        return str(found[0][0])

    def lost(self) -> tuple[RecordedSweep, ...]:
        """Sweeps of which the file in `sweeps/` is gone or altered."""
        folder = SweepFolder(self.workspace)
        return tuple(sweep for sweep in self.sweeps() if not folder.holds(sweep.file, sweep.sha256))

    def export(self, folder: str | Path) -> Exported:
        """Everything as plain files in a new folder, from which `import_` rebuilds the record exactly."""
        return export_record(self.database, SweepFolder(self.workspace), to=Path(folder))

    def import_(self, folder: str | Path) -> Imported:
        """Take in what an exported folder holds and this record has not; all of it or nothing."""
        with self.writing() as sweeps:
            return import_record(self.database, sweeps, source=Path(folder))

    def would_import(self, folder: str | Path) -> Imported:
        """What `import_` would bring, tried on a copy that is gone afterwards."""
        with TemporaryDirectory(ignore_cleanup_errors=True) as scratch:
            (Path(scratch) / MADE_BY_NEW).mkdir()
            self.database.copy(Path(scratch) / FILE)
            with Records.open(scratch) as copy:
                return copy.import_(folder)

    def count(self) -> int:
        """Of all rows; it grows with whatever happens, since nothing of that is changed or taken out."""
        with self.database.reading():
            tables = self.database.rows("SELECT name FROM sqlite_master WHERE type = 'table'")
            return sum(
                int(self.database.rows(f'SELECT count(*) FROM "{table}"')[0][0])  # noqa: S608 -- our own names
                for (table,) in tables
            )

    def compare(self, before: str, after: str) -> BuildComparison:
        """Two builds by their names, or two sweeps by their numbers, band by band."""
        return compare_sweeps(
            self._chosen(before), self._chosen(after), names=(before, after), notes=self.notes()
        )

    def compare_moments(self, before: datetime, after: datetime) -> MomentComparison:
        """The ring as it was at two moments, band by band; see `ringwright.records.moments`."""
        with self.database.reading():
            return compare_moments(self.sweeps(), self.notes(), before=before, after=after)

    def trend(self, band: str) -> Trend:
        """Q and frequency on a band against time, temperature and rain, since the ring was last changed."""
        sweeps = self.sweeps(band=band)
        if not sweeps:
            bands = {sweep.band for sweep in self.sweeps() if sweep.band}
            raise NoSuchEntryError(f"there is no sweep on {shown(band)}; the record has {_listed(bands)}")
        return trend_of(band, sweeps, self.notes())

    def _chosen(self, word: str) -> Sequence[RecordedSweep]:
        if word.isdecimal():
            chosen = tuple(sweep for sweep in self.sweeps() if sweep.number == int(word))
        else:
            chosen = self.sweeps(build=word)
        if not chosen:
            builds = {sweep.build for sweep in self.sweeps() if sweep.build}
            named = f"has the builds {_listed(builds)}" if builds else "names no build"
            raise NoSuchEntryError(
                f"there is no build or sweep {shown(word)}; the record {named}, and sweeps go by their number in the "
                f"list"
            )
        return chosen


def _listed(words: set[str]) -> str:
    return ", ".join(map(shown, sorted(words))) or "none"
