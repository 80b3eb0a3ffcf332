# SPDX-License-Identifier: BSD-3-Clause
"""The position journal on a disk: nothing counts as kept before it is safe there."""

import os
from pathlib import Path

from ringwright.errors import StorageError
from ringwright.tuner.journal import Kept, journal_line, read_journal

LONGEST_FILE = 256 * 1024
"""Bytes from which the file is begun anew with its last line when it is opened."""


class JournalOnDisk:
    """One file of lines, appended to.

    A file that is damaged, ends in a line cut short, or is long is begun anew when it is opened: with its last whole
    line, whose position is not sure if there was damage.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        try:
            data = path.read_bytes() if path.exists() else b""
            found = read_journal(data)
            if not found.is_whole or len(data) > LONGEST_FILE or (data and not data.endswith(b"\n")):
                kept = found.kept
                if kept is not None and not found.is_whole:
                    kept = Kept(kept.at, False, kept.to, kept.boots)
                self._begin_anew(b"" if kept is None else journal_line(kept, found.number))
            self._file = path.open("ab")
        except OSError as error:
            raise StorageError(f"{path}: the position journal cannot be opened: {error.strerror}") from error

    def _begin_anew(self, data: bytes) -> None:
        """Put a new file in the place of the old one, at once."""
        beside = self._path.with_name(f"{self._path.name}.new")
        with beside.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(self._path)

    def read(self) -> bytes:
        """All of it."""
        return self._path.read_bytes()

    def append(self, line: bytes) -> None:
        """One line more; it is on the disk when this returns. Raises StorageError."""
        try:
            self._file.write(line)
            self._file.flush()
            os.fsync(self._file.fileno())
        except OSError as error:
            raise StorageError(f"{self._path}: the position cannot be kept: {error.strerror}") from error

    def close(self) -> None:
        """Give the file back."""
        self._file.close()
