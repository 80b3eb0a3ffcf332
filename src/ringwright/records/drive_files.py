# SPDX-License-Identifier: BSD-3-Clause
"""What a workspace keeps of a real drive beside its record: the journal of its position."""

import re
import zlib
from pathlib import Path

from ringwright.errors import StorageError
from ringwright.records.records import MADE_BY_NEW
from ringwright.tuner.journal_file import JournalOnDisk
from ringwright.tuner.parts import JournalFile, JournalInMemory

FOLDER = "drives"
LONGEST_NAME = 60
_ODD = re.compile(r"[^\w-]")


def open_journal(workspace: Path, name: str) -> JournalFile:
    """The position's journal of a design's real drive; a folder that is no workspace keeps none.

    Raises
    ------
    StorageError
        If it cannot be read or written.
    """
    folder = drives_folder(workspace)
    return JournalInMemory() if folder is None else JournalOnDisk(folder / f"{file_name(name)}.journal")


def drives_folder(workspace: Path) -> Path | None:
    """Where drives are kept, made if need be; None where the folder is no workspace."""
    if not (workspace / MADE_BY_NEW).is_dir():
        return None
    folder = workspace / FOLDER
    try:
        folder.mkdir(exist_ok=True)
    except OSError as exc:
        raise StorageError(f"{folder}: cannot be made: {exc.strerror}") from exc
    return folder


def file_name(name: str) -> str:
    """A name that every file system takes, another one for every name."""
    plain = _ODD.sub("_", name)[:LONGEST_NAME]
    return plain if plain == name else f"{plain}-{zlib.crc32(name.encode()):08x}"
