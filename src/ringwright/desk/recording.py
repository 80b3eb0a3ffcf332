# SPDX-License-Identifier: BSD-3-Clause
"""The record of a workspace as the faces ask for it: each call opens it, and lets it go again.

A look begins no record: where there is none yet it is as one that is empty. What is written begins one.
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from ringwright.air.reports import Reports
from ringwright.desk.design_folder import DESIGNS, DesignFolder, etag_of
from ringwright.desk.record_keeping import Kept, Labels, Proved, keep_sweeps
from ringwright.desk.record_line import DesignFile, Look, TimeLine, time_line
from ringwright.errors import (
    DesignFileError,
    NameRefusedError,
    NoSuchDesignError,
    NoSuchEntryError,
    StorageError,
)
from ringwright.records.archive import pack, unpack
from ringwright.records.entries import Note, NoteKind
from ringwright.records.import_folder import Imported
from ringwright.records.moments import MomentComparison
from ringwright.records.records import FILE, Records
from ringwright.records.trend import Trend

NOTHING = "nothing is recorded yet; keep a sweep from the page Prove, or write a note"


class RecordBook:
    """Every method may be called from any thread."""

    def __init__(self, designs: DesignFolder) -> None:
        self._designs = designs
        self.file = designs.workspace / FILE

    def line(self) -> TimeLine:
        """Everything that happened."""
        files = tuple(self._design_files())
        if not self.file.is_file():
            return time_line(Look(texts={}, files=files))
        with self._records() as records, records.database.reading():
            lost = frozenset(sweep.number for sweep in records.lost())
            look = Look(
                sweeps=records.sweeps(),
                notes=records.notes(),
                tunings=records.tunings(),
                reports=records.reports(),
                texts=records.design_texts(),
                lost=lost,
                files=files,
            )
        return time_line(look)

    def design_text(self, sha256: str) -> str:
        """The text of a design on the line, of the record or of designs/."""
        for file in self._design_files():
            if etag_of(file.text) == sha256:
                return file.text
        with self._existing() as records:
            return records.design_text(sha256)

    def compare(self, before: datetime, after: datetime) -> MomentComparison:
        """What moved from one moment to another."""
        with self._existing() as records:
            return records.compare_moments(before, after)

    def trend(self, band: str) -> Trend:
        """How a band's Q and frequency move."""
        with self._existing() as records:
            return records.trend(band)

    def add_note(self, text: str, *, at: datetime | None, kind: NoteKind) -> tuple[Note, bool]:
        """Write a note down, at this moment if no other is named; whether it is new."""
        with self._writable() as records:
            added = records.add_note(text, at=datetime.now(UTC) if at is None else at, kind=kind)
            (note,) = (note for note in records.notes() if note.number == added.number)
        return note, added.is_new

    def keep(self, proved: Sequence[Proved | Kept], *, design: str, labels: Labels) -> tuple[Kept, ...]:
        """Keep sweeps that were set against the text of a design."""
        with self._writable() as records:
            return keep_sweeps(records, proved, design=design, labels=labels)

    def reports(self) -> Reports | None:
        """The reception reports; None where there is no record yet."""
        if not self.file.is_file():
            return None
        with self._records() as records:
            return records.reports()

    def keep_reports(self, reports: Reports) -> int:
        """Keep reception reports; how many the record had not."""
        with self._writable() as records:
            return records.add_reports(reports)

    @contextmanager
    def packed(self) -> Iterator[Path]:
        """An archive of everything as plain files, there as long as the block lasts."""
        with TemporaryDirectory(ignore_cleanup_errors=True) as scratch:
            day = f"{datetime.now(UTC).astimezone():%Y-%m-%d}"
            folder = Path(scratch) / f"{self._designs.workspace.name}-record-{day}"
            with self._existing() as records:  # and closed: another thread may end the block
                records.export(folder)
            archive = folder.with_name(f"{folder.name}.zip")
            try:
                pack(folder, archive)
            except OSError as exc:
                raise StorageError(
                    f"the archive could not be written ({exc.strerror or exc}); make room and try again"
                ) from exc
            yield archive

    def take_in(self, archive: bytes, *, is_trial: bool) -> Imported:
        """Add what an exported archive holds and the record has not; a trial only says what that would be."""
        with TemporaryDirectory(ignore_cleanup_errors=True) as scratch:
            file, folder = Path(scratch) / "record.zip", Path(scratch) / "record"
            try:
                file.write_bytes(archive)
                folder.mkdir()
                unpack(file, folder)
            except OSError as exc:
                raise StorageError(
                    f"the archive could not be unpacked ({exc.strerror or exc}); make room and try again"
                ) from exc
            if is_trial and not self.file.is_file():
                return _tried_on_nothing(folder)
            with self._writable() as records:
                return records.would_import(folder) if is_trial else records.import_(folder)

    def holds(self, sha256: str) -> bool:
        """Whether a sweep file of this content is in it."""
        if not self.file.is_file():
            return False
        with self._records() as records:
            return records.holds(sha256)

    def count(self) -> int:
        """Of all that is in it; grows with whatever is new."""
        if not self.file.is_file():
            return 0
        with self._records() as records:
            return records.count()

    def _design_files(self) -> Iterator[DesignFile]:
        for name, stamp in self._designs.stamps().items():
            with suppress(NoSuchDesignError, DesignFileError, NameRefusedError):
                modified = datetime.fromtimestamp(stamp.modified_ns // 10**9, UTC)
                yield DesignFile(name=name, text=self._designs.read(name), modified=modified)

    def _records(self) -> Records:
        return Records.open(self._designs.workspace)

    def _existing(self) -> Records:
        if not self.file.is_file():
            raise NoSuchEntryError(NOTHING)
        return self._records()

    def _writable(self) -> Records:
        """The record, in a folder that becomes a workspace by it."""
        try:
            (self._designs.workspace / DESIGNS).mkdir(exist_ok=True)
        except OSError as exc:
            raise StorageError(
                f"{DESIGNS} cannot be made in the workspace ({exc.strerror or exc}); check its permissions"
            ) from exc
        return self._records()


def _tried_on_nothing(folder: Path) -> Imported:
    """What an export would bring to a record that is not begun yet."""
    with TemporaryDirectory(ignore_cleanup_errors=True) as scratch:
        (Path(scratch) / DESIGNS).mkdir()
        with Records.open(scratch) as records:
            return records.import_(folder)
