# SPDX-License-Identifier: BSD-3-Clause
"""Reception reports in columns, so that a million of them stay quick; names are kept once and pointed at."""

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ringwright.air.locator import Place
from ringwright.air.report_bands import BAND_NAMES
from ringwright.physics.checks import FloatArray

Codes = NDArray[np.int32]
Mask = NDArray[np.bool_]


class RawReport(NamedTuple):
    """One row as a file has it; what it does not say is empty. `frequency` in MHz, `power` in W, `time` ISO 8601."""

    time: str = ""
    frequency: str = ""
    band: str = ""
    receiver: str = ""
    locator: str = ""
    latitude: str = ""
    longitude: str = ""
    snr: str = ""
    power: str = ""
    mode: str = ""
    antenna: str = ""
    direction: str = ""
    own_locator: str = ""


class ReadRow(NamedTuple):
    """A row of a file: its number (counted from 1, headings not), its line, and what it says or why it says nothing."""

    row: int
    line: int
    says: RawReport | str


ReadRows = Iterator[ReadRow]


@dataclass(frozen=True, slots=True)
class Rejected:
    """A row that is not used: `row` counted from 1 in its file, without the headings."""

    row: int
    reason: str
    file: str
    line: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Reports:
    """What was kept. Arrays of one length: `time` [s since 1970, UTC], `frequency` [Hz], `snr` [dB] and `power` [W]
    (NaN where not told); `band`, `receiver`, `place`, `mode`, `antenna` point into the names, -1 where not told."""

    time: FloatArray
    frequency: FloatArray
    snr: FloatArray
    power: FloatArray
    band: Codes
    receiver: Codes
    place: Codes
    mode: Codes
    antenna: Codes
    heard_me: Mask
    receivers: tuple[str, ...]
    places: tuple[Place, ...]
    modes: tuple[str, ...]
    antennas: tuple[str, ...]
    own_locator: str | None

    def __len__(self) -> int:
        return len(self.time)

    def only(self, kept: NDArray[np.bool_] | NDArray[np.intp]) -> "Reports":
        """Those of a mask or an order; the names stay."""
        arrays = {
            field.name: getattr(self, field.name)[kept]
            for field in fields(self)
            if isinstance(getattr(self, field.name), np.ndarray)
        }
        return replace(self, **arrays)

    def bands(self) -> list[str]:
        """Names of the bands there are reports of, by frequency."""
        return [BAND_NAMES[code] for code in np.unique(self.band)]

    def of_band(self, name: str) -> "Reports":
        """Those of one band."""
        return self.only(self.band == BAND_NAMES.index(name))

    def of_antenna(self, name: str) -> Mask:
        """Which were made with an antenna, letters large or small."""
        codes = [code for code, known in enumerate(self.antennas) if known.casefold() == name.casefold()]
        return np.isin(self.antenna, codes)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Reading:
    """All of some files: `read` rows are the kept reports and the rejected ones, none else."""

    read: int
    reports: Reports
    rejected: tuple[Rejected, ...]
