# SPDX-License-Identifier: BSD-3-Clause
"""Where the drive stands, kept on the board through a power cut at any instant.

Plain Python that MicroPython runs, too. The store is two sectors of flash: `size` bytes each, `read(sector)`,
`erase(sector)` to 0xFF and `write(sector, offset, octets)`. Records of sixteen bytes are appended and never changed; a
sector is erased when the other is full, so that a thousand bytes of records cost one erasure. What a cut tears has a
wrong check sum and counts for nothing: the record before it holds.
"""

import binascii
import struct

RECORD = 16
_BODY = ">BIiHB"  # mark, number, position, boots, sure
_MARK = 0x52
_BLANK = b"\xff" * RECORD


class Journal:
    """The newest record of a store, and the place of the next one.

    A move writes "not sure" before its first step and "sure" after its last: a cut between leaves a doubt, never a lie.
    """

    def __init__(self, store) -> None:
        self._store = store
        self._number = 0
        self._sector = 0
        self._offset = 0
        self.at = 0
        self.sure = False
        self.boots = 0
        self._scan()

    def _scan(self) -> None:
        found = False
        for sector in (0, 1):
            octets = self._store.read(sector)
            for offset in range(0, len(octets) - RECORD + 1, RECORD):
                fields = _unpacked(octets[offset : offset + RECORD])
                if fields is not None and (not found or fields[1] > self._number):
                    found = True
                    self._sector = sector
                    self._number, self.at, self.boots = fields[1], fields[2], fields[3]
                    self.sure = fields[4] == 1
        octets = self._store.read(self._sector)
        # A torn record is not written over: flash clears bits only.
        offset = len(octets) // RECORD * RECORD
        while offset >= RECORD and octets[offset - RECORD : offset] == _BLANK:
            offset -= RECORD
        self._offset = offset

    def note(self, at: int, sure: bool) -> None:
        """Append where the drive stands; nothing where that stands there already."""
        if self._number and at == self.at and sure == self.sure:
            return
        self._append(at, sure, self.boots)

    def note_boot(self) -> None:
        """Append one more start of the board."""
        self._append(self.at, self.sure, (self.boots + 1) & 0xFFFF)

    def _append(self, at: int, sure: bool, boots: int) -> None:
        if self._offset + RECORD > self._store.size:
            self._store.erase(1 - self._sector)
            self._sector, self._offset = 1 - self._sector, 0
        body = struct.pack(_BODY, _MARK, self._number + 1, at, boots, 1 if sure else 0)
        offset = self._offset
        self._offset += RECORD
        self._store.write(self._sector, offset, body + struct.pack(">I", binascii.crc32(body)))
        self._number += 1
        self.at, self.sure, self.boots = at, sure, boots


def _unpacked(octets: bytes) -> tuple[int, ...] | None:
    """Fields of a record, None where it is blank or torn."""
    body = octets[: RECORD - 4]
    if octets == _BLANK or struct.unpack(">I", octets[RECORD - 4 :])[0] != binascii.crc32(body):
        return None
    fields = struct.unpack(_BODY, body)
    return fields if fields[0] == _MARK else None
