# SPDX-License-Identifier: BSD-3-Clause
"""The board's flash memory, whose supply may fail at any byte."""

SECTOR = 512


class SupplyLost(Exception):  # noqa: N818 -- an event of the simulation, not an error of the program
    """The supply failed while flash was written; what was written up to there stays."""


class Flash:
    """Two sectors. `cut_after`: octets that can still be written or erased before the supply fails, None for ever."""

    def __init__(self) -> None:
        self.size = SECTOR
        self._sectors = [bytearray(b"\xff" * SECTOR), bytearray(b"\xff" * SECTOR)]
        self.cut_after: int | None = None
        self.erasures = 0

    def read(self, sector: int) -> bytes:
        return bytes(self._sectors[sector])

    def erase(self, sector: int) -> None:
        self.erasures += 1
        self._change(sector, 0, b"\xff" * SECTOR, is_erasing=True)

    def write(self, sector: int, offset: int, octets: bytes) -> None:
        self._change(sector, offset, octets, is_erasing=False)

    def _change(self, sector: int, offset: int, octets: bytes, *, is_erasing: bool) -> None:
        held = self._sectors[sector]
        for place, octet in enumerate(octets, start=offset):
            if self.cut_after is not None:
                if self.cut_after <= 0:
                    self.cut_after = None
                    raise SupplyLost
                self.cut_after -= 1
            held[place] = octet if is_erasing else held[place] & octet
