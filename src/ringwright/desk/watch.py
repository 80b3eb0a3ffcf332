# SPDX-License-Identifier: BSD-3-Clause
"""Which design files changed on the disk, whoever changed them. Polling: it works on every system and every share."""

from dataclasses import dataclass

from ringwright.desk.design_folder import DesignFolder, Stamp, etag_of
from ringwright.errors import DesignFileError, NameRefusedError


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
