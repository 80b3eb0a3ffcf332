# SPDX-License-Identifier: BSD-3-Clause
"""The design files of a workspace: read and written by name, never outside the folder, never half.

A file is written beside its place under a name only one writer can make, forced to the disk, and renamed: whoever
reads meets the old text or the new one.
"""

import errno
import hashlib
import os
import re
import shutil
import time
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from ringwright.antenna.design_file import read_text
from ringwright.disk import force_to_disk
from ringwright.errors import (
    DesignFileError,
    NameRefusedError,
    NoSuchDesignError,
    StorageError,
    WorkspaceError,
)
from ringwright.units import shown

DESIGNS = "designs"
LONGEST_NAME = 80
ABANDONED = 10.0
"""Seconds after which a half-written file is taken for what a killed program left."""
PATIENCE = 2.0
"""Seconds to wait while another program saves the same design."""
PAUSE = 0.01

_NAME = re.compile(r"[^\W_](?:[\w .()+-]*[\w()+-])?")
# Names of devices on Windows, whatever follows the first point.
_DEVICES = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))}


class FileChangedMeanwhileError(Exception):
    """The file is no longer what the writer had read; read it again. Never reaches a person."""


@dataclass(frozen=True, slots=True)
class Stamp:
    """What tells a touched file from an untouched one without reading it."""

    modified_ns: int
    size: int
    inode: int


def etag_of(text: str) -> str:
    """Hash of a text as it stands in a file; the same text has the same etag anywhere."""
    return hashlib.sha256(text.encode()).hexdigest()


class DesignFolder:
    """`designs/` of a workspace, or of a folder that becomes one when something is saved."""

    def __init__(self, workspace: Path) -> None:
        if workspace.is_file():
            raise WorkspaceError(
                f"{workspace} is a file; pages open a workspace: put it in a folder's designs/ and name that folder"
            )
        if not workspace.is_dir():
            raise WorkspaceError(f"{workspace}: there is no such folder; make it first or name another")
        self.workspace = workspace.resolve()
        self._folder = self.workspace / DESIGNS

    def names(self) -> list[str]:
        """Names of all design files, in order; files that lead elsewhere are left out."""
        return sorted(self.stamps())

    def stamps(self) -> dict[str, Stamp]:
        """Every design file's stamp by name."""
        found = {}
        for path in self._files():
            try:
                status = self._path(path.stem).stat()
            except (NameRefusedError, OSError):  # an odd name, or gone since it was listed
                continue
            found[path.stem] = Stamp(status.st_mtime_ns, status.st_size, status.st_ino)
        return found

    def read(self, name: str) -> str:
        """The text of a design file."""
        text = self.read_if_there(name)
        if text is None:
            raise NoSuchDesignError(f"there is no design {shown(name)} in this workspace")
        return text

    def read_if_there(self, name: str) -> str | None:
        """The text of a design file; None if the workspace has none of this name."""
        path = self._path(name)
        if not path.exists():
            return None
        try:
            return read_text(path)
        except DesignFileError as exc:
            raise DesignFileError(f"{name}.toml", exc.reason) from exc

    def write(self, name: str, text: str, *, over: str | None) -> None:
        """Put `text` in place of the text `over`; None: the file must not exist.

        Raises
        ------
        FileChangedMeanwhileError
            If the file holds something else; nothing is written then.
        StorageError
            If the disk refuses.
        """
        path = self._path(name)
        try:
            self._folder.mkdir(exist_ok=True)
            with _one_writer(path) as (draft, file):
                file.write(text.encode())
                file.flush()
                os.fsync(file.fileno())
                if path.exists():
                    shutil.copymode(path, draft)
                file.close()  # an open file cannot be renamed on Windows
                if self.read_if_there(name) != over:
                    raise FileChangedMeanwhileError(name)
                draft.replace(path)
            force_to_disk(path.parent)
        except OSError as exc:
            reason = exc.strerror or str(exc)
            raise StorageError(
                f"{name}.toml could not be saved ({reason}); the old text is untouched"
            ) from exc

    def _files(self) -> Iterator[Path]:
        try:
            yield from self._folder.glob("*.toml")
        except OSError as exc:
            raise StorageError(f"{self._folder}: cannot be listed ({exc.strerror or exc})") from exc

    def _path(self, name: str) -> Path:
        """Where a design of this name lies, inside the workspace for certain."""
        if not _is_sane(name):
            raise NameRefusedError(
                f"{shown(name)} cannot be a design's name; use up to {LONGEST_NAME} letters, digits, spaces and "
                "-_.()+, starting with a letter or digit"
            )
        path = (self._folder / f"{name}.toml").resolve()
        if not path.is_relative_to(self.workspace):
            raise NameRefusedError(f"{shown(name)} leads out of the workspace; put the file itself there")
        return path


def _is_sane(name: str) -> bool:
    return (
        len(name) <= LONGEST_NAME
        and _NAME.fullmatch(name) is not None
        and unicodedata.is_normalized("NFC", name)
        and name.partition(".")[0].strip().lower() not in _DEVICES
    )


@contextmanager
def _one_writer(path: Path) -> Iterator[tuple[Path, BinaryIO]]:
    """A new file beside `path` that no other writer can have open; gone again unless it was renamed."""
    draft = path.with_name(f".{path.name}.saving")
    file = _only_hand_on(draft)
    try:
        with file:
            yield draft, file
    finally:
        draft.unlink(missing_ok=True)


def _only_hand_on(draft: Path) -> BinaryIO:
    """The draft as a new file, as soon as no other writer has it."""
    end = time.monotonic() + PATIENCE
    while True:
        with suppress(FileNotFoundError):
            if time.time() - draft.stat().st_mtime > ABANDONED:
                draft.unlink()
        try:
            return draft.open("xb")
        except FileExistsError as exc:
            if time.monotonic() > end:
                raise FileExistsError(
                    errno.EEXIST, f"another program is saving it; try again after {ABANDONED:.0f} s"
                ) from exc
        time.sleep(PAUSE)
