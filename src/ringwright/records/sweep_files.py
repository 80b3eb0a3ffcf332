# SPDX-License-Identifier: BSD-3-Clause
"""The original sweep files of a workspace: copied whole or not at all, never altered, never written over.

Whoever writes here holds the database's write lock, so that two programs cannot choose the same name.
"""

import hashlib
import re
import unicodedata
from collections.abc import Iterable
from functools import cached_property
from pathlib import Path

from ringwright.disk import add_file, is_unfinished
from ringwright.errors import StorageError

SWEEPS = "sweeps"
LONGEST_NAME = 60
"""Characters; with four bytes each still a name that file systems take."""
UNNAMED = "sweep"

_FOREIGN = re.compile(r"[^\w .()+-]")
_ENDING = re.compile(r"\.\w{1,8}$")
# Names of devices on Windows, whatever follows the first point.
_DEVICES = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))}


def checksum(content: bytes) -> str:
    """SHA-256 (FIPS 180-4) in hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def safe_name(name: str) -> str:
    """The last part of a path as a file name that any system takes and that leads nowhere."""
    last = re.split(r"[/\\]", name)[-1]
    clean = _FOREIGN.sub("_", unicodedata.normalize("NFC", last)).lstrip(". ").rstrip(". ")
    stem, ending = _split(clean)
    stem = stem.rstrip(". ") or UNNAMED
    if stem.partition(".")[0].strip().lower() in _DEVICES:
        stem = f"_{stem}"
    return _shortened(stem, ending)


class SweepFolder:
    """`sweeps/` of a workspace during one transaction; `recorded` are the names that the record has given away."""

    def __init__(self, workspace: Path, recorded: Iterable[str] = ()) -> None:
        self.folder = workspace / SWEEPS
        self._recorded = recorded

    def keep(self, content: bytes, *, name: str) -> str:
        """Put `content` there under `name`, or another where that is taken; the name it has now.

        A file of that name and content that is there already, put there by hand or by a process that was killed
        before it could record it, is taken as it is.
        """
        file = self.name_for(name, sha256=checksum(content))
        self.restore(content, file=file)
        return file

    def name_for(self, name: str, *, sha256: str) -> str:
        """The name that a file of this content gets, and that no other gets from now on."""
        wanted = safe_name(name)
        stem, ending = _split(wanted)
        count = 1
        while (key := _alike(wanted)) in self._taken:
            there = self._taken[key]
            if there is not None and self.holds(there, sha256):
                wanted = there
                break
            count += 1
            wanted = _shortened(stem, f"-{count}{ending}")
        self._taken[key] = None
        return wanted

    def restore(self, content: bytes, *, file: str) -> None:
        """Put a file where its name says, unless something is there: what was altered is not written over."""
        if not (self.folder / file).exists():
            self._write(file, content)

    def holds(self, file: str, sha256: str) -> bool:
        """Whether the file is there with the content that has this checksum."""
        content = self.content(file)
        return content is not None and checksum(content) == sha256

    def content(self, file: str) -> bytes | None:
        """The bytes of a file; None if there is no such file that can be read."""
        try:
            return (self.folder / file).read_bytes()
        except OSError:
            return None

    @cached_property
    def _taken(self) -> dict[str, str | None]:
        """Names as a system without upper and lower case compares them; None for those no sweep can take over."""
        try:
            self.folder.mkdir(exist_ok=True)
            present = [path.name for path in self.folder.iterdir()]
            for name in present:
                if is_unfinished(name):  # of a killed process
                    (self.folder / name).unlink(missing_ok=True)
        except OSError as exc:
            raise self._refused(SWEEPS, exc) from exc
        ours = {_alike(name): name if safe_name(name) == name else None for name in present}
        return ours | {_alike(name): None for name in self._recorded}

    def _write(self, file: str, content: bytes) -> None:
        try:
            self.folder.mkdir(exist_ok=True)
            add_file(self.folder / file, content)
        except OSError as exc:
            raise self._refused(f"{SWEEPS}/{file}", exc) from exc

    def _refused(self, what: str, exc: OSError) -> StorageError:
        return StorageError(
            f"{what} could not be written ({exc.strerror or exc}); make room on the disk or check its permissions; "
            f"nothing was recorded"
        )


def _split(name: str) -> tuple[str, str]:
    """Stem and ending."""
    ending = _ENDING.search(name)
    return (name[: ending.start()], ending[0]) if ending else (name, "")


def _shortened(stem: str, ending: str) -> str:
    return f"{stem[: LONGEST_NAME - len(ending)].rstrip('. ')}{ending}"


def _alike(name: str) -> str:
    return unicodedata.normalize("NFC", name).casefold()
