# SPDX-License-Identifier: BSD-3-Clause
"""What a workspace keeps of a drive beside its record: the journal of its position, what its bring-up found."""

import json
import math
import re
import zlib
from pathlib import Path
from typing import Any

from ringwright.disk import replace_file
from ringwright.errors import StorageError
from ringwright.records.records import MADE_BY_NEW
from ringwright.tuner.commission import Findings, StepName
from ringwright.tuner.journal_file import JournalOnDisk
from ringwright.tuner.parts import JournalFile, JournalInMemory

FOLDER = "drives"
LONGEST_NAME = 60
SCHEMA = "ringwright.drive/1"
MOST_STEPS = 2**31
_NUMBERS = ("speed", "seek_speed", "low_end", "high_end", "slack")
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


def read_findings(workspace: Path, name: str, *, travel: int) -> Findings:
    """What was found of a drive, if it holds for a design's travel [steps]; else nothing is.

    Raises
    ------
    StorageError
        If the file is damaged or cannot be read.
    """
    folder = drives_folder(workspace)
    path = None if folder is None else folder / f"{file_name(name)}.json"
    if path is None or not path.exists():
        return Findings(travel=travel)
    try:
        document = json.loads(path.read_bytes())
        found = None if _is_later(document["schema"]) else _parsed(document)
    except OSError as exc:
        raise StorageError(f"{path}: cannot be read: {exc.strerror}") from exc
    except (ValueError, KeyError, TypeError, AttributeError, OverflowError, RecursionError) as exc:
        raise StorageError(
            f"{path}: is no account of a drive of this program's; move it away and bring the drive up anew"
        ) from exc
    if found is None:
        raise StorageError(f"{path}: was written by a newer program; update this one")
    return found if found.travel == travel else Findings(travel=travel)


def _is_later(schema: str) -> bool:
    """Whether it is this schema of a version that this program does not know."""
    name, _, version = SCHEMA.partition("/")
    its_name, _, its_version = schema.partition("/")
    return its_name == name and int(its_version) > int(version)


def keep_findings(workspace: Path, name: str, found: Findings) -> None:
    """Write what was found, in the place of what stood there before; raises StorageError."""
    folder = drives_folder(workspace)
    if folder is None:
        return
    path = folder / f"{file_name(name)}.json"
    document = {
        "schema": SCHEMA,
        "name": name,
        "travel_steps": found.travel,
        "done": [step.value for step in found.done],
        **{key: getattr(found, key) for key in _NUMBERS},
        "meter": found.meter,
    }
    try:
        text = json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False)
        replace_file(path, f"{text}\n".encode())
    except OSError as exc:
        raise StorageError(f"{path}: cannot be written ({exc.strerror}); make room on the disk") from exc


def _parsed(document: dict[str, Any]) -> Findings:
    if document["schema"] != SCHEMA:
        raise ValueError(document["schema"])
    meter = document["meter"]
    found = Findings(
        travel=_whole(document["travel_steps"]),
        done=tuple(StepName(each) for each in document["done"]),
        **{key: None if document.get(key) is None else _whole(document[key]) for key in _NUMBERS},
        meter=None if meter is None else float(meter),
    )
    if found.low_end is not None and found.high_end is not None and found.low_end >= found.high_end:
        raise ValueError("ends")
    paces = (found.speed, found.seek_speed)
    if (found.slack or 0) < 0 or any(pace is not None and pace < 1 for pace in paces):
        raise ValueError("slack, speed")
    if not math.isfinite(found.meter or 0.0):
        raise ValueError("meter")
    return found


def _whole(value: object) -> int:
    if type(value) is not int or abs(value) > MOST_STEPS:
        raise ValueError(value)
    return value
