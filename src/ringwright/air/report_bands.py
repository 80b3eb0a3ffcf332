# SPDX-License-Identifier: BSD-3-Clause
"""Bands as logs name them: the enumeration of ADIF 3.1.7 (2026), edges in MHz, wider than any one licence.

The edges of 160 m to 6 m are checked; the others stand here from memory.
"""

from bisect import bisect_right
from typing import Final

_MEGAHERTZ: Final = {
    "2190m": (0.1357, 0.1378),
    "630m": (0.472, 0.479),
    "560m": (0.501, 0.504),
    "160m": (1.8, 2.0),
    "80m": (3.5, 4.0),
    "60m": (5.06, 5.45),
    "40m": (7.0, 7.3),
    "30m": (10.1, 10.15),
    "20m": (14.0, 14.35),
    "17m": (18.068, 18.168),
    "15m": (21.0, 21.45),
    "12m": (24.89, 24.99),
    "10m": (28.0, 29.7),
    "8m": (40.0, 45.0),
    "6m": (50.0, 54.0),
    "5m": (54.000001, 69.9),
    "4m": (70.0, 71.0),
    "2m": (144.0, 148.0),
    "1.25m": (222.0, 225.0),
    "70cm": (420.0, 450.0),
    "33cm": (902.0, 928.0),
    "23cm": (1240.0, 1300.0),
}
BAND_NAMES: Final = tuple(_MEGAHERTZ)
_CODES: Final = {name: code for code, name in enumerate(BAND_NAMES)}
_LOWS: Final = [low for low, _ in _MEGAHERTZ.values()]
_HIGHS: Final = [high for _, high in _MEGAHERTZ.values()]


def band_code(name: str) -> int | None:
    """The place of a band in `BAND_NAMES`; None for a name that is none."""
    return _CODES.get(name.strip().casefold().replace(" ", ""))


def band_code_at(frequency: float) -> int | None:
    """The place of the band a frequency [Hz] lies in, edges included."""
    megahertz = frequency / 1e6
    code = bisect_right(_LOWS, megahertz) - 1
    return code if code >= 0 and megahertz <= _HIGHS[code] else None


def middle(code: int) -> float:
    """Where a report counts that names only its band [Hz]."""
    return (_LOWS[code] + _HIGHS[code]) / 2.0 * 1e6
