# SPDX-License-Identifier: BSD-3-Clause
"""Files that are written whole or not at all: a full disk or a kill leaves what was there before."""

import os
import secrets
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

ABANDONED = 3600.0
"""Seconds after which an unfinished file is taken for one of a process that was killed."""
_BEGINNING, _ENDING = ".ringwright-", ".unfinished"


def replace_file(path: Path, content: bytes) -> None:
    """Put a file of this content in the place of what is there, if anything is, and keep its permissions.

    Where `path` is a link, the file that it leads to is replaced.

    Raises
    ------
    OSError
        If the disk refuses; what was there is untouched then.
    """
    place = path.resolve()
    with _whole(place, content) as draft:
        if place.exists():
            shutil.copymode(place, draft)
        draft.replace(place)
    force_to_disk(place.parent)


def add_file(path: Path, content: bytes) -> None:
    """Put a new file where none is, also if another process does the same just now.

    Raises
    ------
    FileExistsError
        If there is one; it is untouched then.
    OSError
        If the disk refuses; nothing is there then.
    """
    with _whole(path, content) as draft:
        if hasattr(os, "link"):
            try:
                os.link(draft, path)
            except FileExistsError:
                raise
            except OSError:  # a file system without second names
                _move_to_new_name(draft, path)
        else:
            _move_to_new_name(draft, path)
    force_to_disk(path.parent)


def force_to_disk(folder: Path) -> None:
    """New names in a folder, where the system lets a folder be forced to the disk."""
    if hasattr(os, "O_DIRECTORY"):
        handle = os.open(folder, os.O_DIRECTORY)  # noqa: TID251 -- asked for in the line above
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def is_unfinished(name: str) -> bool:
    """Whether a file of this name is one that is being written, or was when its process was killed."""
    return name.startswith(_BEGINNING) and name.endswith(_ENDING)


def _move_to_new_name(draft: Path, path: Path) -> None:
    if path.exists():
        raise FileExistsError(path)
    draft.replace(path)


@contextmanager
def _whole(place: Path, content: bytes) -> Iterator[Path]:
    """A file beside `place` that is safe on the disk; gone afterwards unless it was moved."""
    _sweep_up(place.parent)
    draft = place.with_name(f"{_BEGINNING}{secrets.token_hex(8)}{_ENDING}")
    try:
        with draft.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        yield draft
    finally:
        with suppress(OSError):
            draft.unlink(missing_ok=True)


def _sweep_up(folder: Path) -> None:
    with suppress(OSError):  # somebody else has just done it, or will
        for left in folder.glob(f"{_BEGINNING}*{_ENDING}"):
            if time.time() - left.stat().st_mtime > ABANDONED:
                left.unlink()
