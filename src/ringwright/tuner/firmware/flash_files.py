# SPDX-License-Identifier: BSD-3-Clause
"""Journal and settings in files of the board's flash.

The file system spreads its writes over the flash and a file that is being closed when the supply fails is there as
before or as after; what comes half written on another file system, journal and settings find out by their check sums.
"""

import os

SECTOR = 512


class JournalFiles:
    """Two sectors for `board_journal`, each a file that grows until it is erased."""

    def __init__(self, folder: str) -> None:
        self.size = SECTOR
        self._names = (folder + "/where-0", folder + "/where-1")

    def read(self, sector: int) -> bytes:
        """All octets, blank where the file does not reach."""
        octets = _octets(self._names[sector])[:SECTOR]
        return octets + b"\xff" * (SECTOR - len(octets))

    def erase(self, sector: int) -> None:
        """Blank octets from end to end."""
        with open(self._names[sector], "wb"):
            pass

    def write(self, sector: int, offset: int, octets: bytes) -> None:
        """Put octets where all is blank."""
        name = self._names[sector]
        there = len(_octets(name))
        with open(name, "ab") as file:
            file.write(b"\xff" * (offset - there) + octets)


class SettingsFiles:
    """Two slots for `board_settings`."""

    def __init__(self, folder: str) -> None:
        self._names = (folder + "/learnt-0", folder + "/learnt-1")

    def read(self, slot: int) -> str:
        """The text of a slot, empty where there is none."""
        try:
            return _octets(self._names[slot]).decode()
        except ValueError:  # half an octet's character
            return ""

    def write(self, slot: int, text: str) -> None:
        """Put a text into a slot."""
        with open(self._names[slot], "wb") as file:
            file.write(text.encode())


def make_folder(folder: str) -> None:
    """Have the folder, made now or long ago."""
    try:
        os.mkdir(folder)
    except OSError:
        os.stat(folder)  # raises unless it is there


def _octets(name: str) -> bytes:
    try:
        with open(name, "rb") as file:
            return file.read()
    except OSError:
        return b""
