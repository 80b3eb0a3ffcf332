# SPDX-License-Identifier: BSD-3-Clause
"""The position journal on a disk: nothing counts as kept before it is safe there."""

import contextlib
import errno
import os
from dataclasses import replace
from pathlib import Path

from ringwright.disk import replace_file
from ringwright.errors import StorageError
from ringwright.tuner.journal import journal_line, read_journal

LONGEST_FILE = 256 * 1024
"""Bytes from which the file is begun anew with its last line."""

OF_LATER_PROGRAMS = b"ringwright.journal/"
"""How a journal begins whose lines are others than these, which begin with their number."""


class JournalOnDisk:
    """One file of lines, appended to.

    A file that is damaged, ends in a line cut short, or is long is begun anew when it is opened: with its last whole
    line, whose position is not sure if there was damage.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        try:
            data = path.read_bytes() if path.exists() else b""
            if data.startswith(OF_LATER_PROGRAMS):
                raise StorageError(f"{path}: was written by a newer program; update this one")
            found = read_journal(data)
            if not found.is_whole or len(data) > LONGEST_FILE or (data and not data.endswith(b"\n")):
                kept = found.kept
                if kept is not None and not found.is_whole:
                    kept = replace(kept, is_sure=False)
                self._begin_anew(b"" if kept is None else journal_line(kept, found.number))
            self._file = path.open("ab", buffering=0)
        except StorageError:
            raise
        except OSError as error:
            raise StorageError(f"{path}: the position journal cannot be opened: {error.strerror}") from error

    def _begin_anew(self, data: bytes) -> None:
        """Put a new file in the place of the old one, at once."""
        replace_file(self._path, data)

    def read(self) -> bytes:
        """All of it."""
        return self._path.read_bytes()

    def append(self, line: bytes) -> None:
        """One line more; it is on the disk when this returns. Raises StorageError, and then the line is not there."""
        try:
            end = self._file.tell()
            if end <= LONGEST_FILE:
                self._write(line, end)
                return
            self._file.close()  # a file that is open cannot be replaced everywhere
            try:
                self._begin_anew(line)
            finally:
                self._file = self._path.open("ab", buffering=0)
        except OSError as error:
            raise StorageError(
                f"{self._path}: the position cannot be kept ({error.strerror}); make room on the disk"
            ) from error

    def _write(self, line: bytes, end: int) -> None:
        """Append; a line that finds no room whole leaves nothing behind."""
        try:
            if self._file.write(line) != len(line):
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            os.fsync(self._file.fileno())
        except OSError:
            with contextlib.suppress(OSError):
                self._file.truncate(end)
            raise

    def close(self) -> None:
        """Give the file back."""
        self._file.close()
