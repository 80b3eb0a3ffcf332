# SPDX-License-Identifier: BSD-3-Clause
"""Which designs and sweeps changed on the disk, whoever changed them. Polling: it works on every system and share."""

from dataclasses import dataclass
from pathlib import Path

from ringwright.desk.design_folder import DesignFolder, Stamp, etag_of
from ringwright.desk.recording import RecordBook
from ringwright.desk.sweep_files import SweepFiles
from ringwright.errors import DesignFileError, NameRefusedError, RingwrightError, SweepFileError
from ringwright.records.sweep_files import checksum


@dataclass(frozen=True, slots=True)
class FileChange:
    """A design file that is new or has another text than before; `etag` None: gone, or not readable now."""

    name: str
    etag: str | None


class DesignWatch:
    """Remembers the design files and tells what changed since the last look. One thread at a time."""

    def __init__(self, folder: DesignFolder) -> None:
        self._folder = folder
        self._stamps: dict[str, Stamp] = {}
        self._etags: dict[str, str | None] = {}
        self.look()

    def look(self) -> list[FileChange]:
        """What changed since the last look; a file that was only touched has not."""
        stamps = self._folder.stamps()
        touched = [name for name, stamp in stamps.items() if self._stamps.get(name) != stamp]
        gone = self._stamps.keys() - stamps.keys()
        self._stamps = stamps
        now = {name: self._etag(name) for name in touched} | dict.fromkeys(gone)
        changes = [
            FileChange(name, etag) for name, etag in sorted(now.items()) if self._etags.get(name, "") != etag
        ]
        self._etags |= now
        return changes

    def _etag(self, name: str) -> str | None:
        try:
            text = self._folder.read_if_there(name)
        except (DesignFileError, NameRefusedError):
            return None
        return None if text is None else etag_of(text)


@dataclass(frozen=True, slots=True)
class SweepChange:
    """A sweep file that is new or has other content than before, or is gone; `sha256` None: gone, or not readable.

    `is_recorded`: what it says is in the record already, which has put it there.
    """

    name: str
    is_there: bool
    sha256: str | None = None
    is_recorded: bool = False


@dataclass(frozen=True, slots=True)
class RecordChange:
    """Something was added to the record."""


class RecordWatch:
    """Tells when something was added to the record. It is opened only where its file, or its log, was written to."""

    def __init__(self, record: RecordBook) -> None:
        self._record = record
        self._stamps, self._count = self._stamp(), self._counted()

    def look(self) -> list[RecordChange]:
        """Whether something is new since the last look; that somebody only looked is nothing new."""
        stamps = self._stamp()
        if stamps == self._stamps:
            return []
        self._stamps, before = stamps, self._count
        self._count = self._counted()
        return [RecordChange()] if self._count is None or self._count != before else []

    def _counted(self) -> int | None:
        """How much is in it; None where it cannot be opened, of which whoever asks for it is told."""
        try:
            return self._record.count()
        except RingwrightError:
            return None

    def _stamp(self) -> tuple[Stamp | None, ...]:
        file = self._record.file
        return tuple(_stamp_of(path) for path in (file, file.with_name(f"{file.name}-wal")))


def _stamp_of(path: Path) -> Stamp | None:
    try:
        status = path.stat()
    except OSError:
        return None
    return Stamp(status.st_mtime_ns, status.st_size, status.st_ino)


class SweepWatch:
    """Remembers the sweep files and tells what changed; a file is told of once it has come to rest, not half copied."""

    def __init__(self, files: SweepFiles, record: RecordBook) -> None:
        self._files, self._record = files, record
        self._told = self._seen = files.stamps()

    def look(self) -> list[SweepChange]:
        """What changed, and has not since the last look."""
        now = self._files.stamps()
        at_rest = {name: stamp for name, stamp in now.items() if self._seen.get(name) == stamp}
        changes = [self._changed(name) for name, stamp in at_rest.items() if self._told.get(name) != stamp]
        changes += [SweepChange(name, is_there=False) for name in self._told if name not in now]
        self._told = {name: stamp for name, stamp in self._told.items() if name in now} | at_rest
        self._seen = now
        return changes

    def _changed(self, name: str) -> SweepChange:
        try:
            sha256 = checksum(self._files.read(name))
        except (SweepFileError, NameRefusedError):
            return SweepChange(name, is_there=True)
        try:
            is_recorded = self._record.holds(sha256)
        except RingwrightError:  # of a record that cannot be opened whoever asks for it is told
            is_recorded = False
        return SweepChange(name, is_there=True, sha256=sha256, is_recorded=is_recorded)
