# SPDX-License-Identifier: BSD-3-Clause
"""The amateur bands from 1.8 to 54 MHz in the three ITU regions.

ITU Radio Regulations, Article 5 (allocations to the amateur service, secondary ones included). A country may
allocate less or more: the operator's licence decides, and `tune_to` in the design file takes any frequency.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from ringwright.errors import OutOfRangeError

LOWEST_FREQUENCY = 1.8e6  # what predictions cover
HIGHEST_FREQUENCY = 54e6


@dataclass(frozen=True, slots=True)
class Band:
    """A band's name and edges [Hz]."""

    name: str
    low: float
    high: float

    @property
    def centre(self) -> float:
        """The arithmetic centre [Hz]."""
        return (self.low + self.high) / 2.0


RADIATED_POWER_LIMITS: Mapping[str, float] = MappingProxyType({"60m": 15.0})
"""Equivalent isotropic radiated power [W] that the Radio Regulations allow amateurs, No. 5.133B (from memory; some
countries of Region 2 allow 20 or 25 W, and national law may set another)."""


def _bands(kilohertz: Mapping[str, tuple[float, float]]) -> Mapping[str, Band]:
    return MappingProxyType(
        {name: Band(name, low * 1e3, high * 1e3) for name, (low, high) in kilohertz.items()}
    )


_EVERYWHERE = {
    "60m": (5351.5, 5366.5),
    "30m": (10_100.0, 10_150.0),
    "20m": (14_000.0, 14_350.0),
    "17m": (18_068.0, 18_168.0),
    "15m": (21_000.0, 21_450.0),
    "12m": (24_890.0, 24_990.0),
    "10m": (28_000.0, 29_700.0),
}

BANDS: Mapping[int, Mapping[str, Band]] = MappingProxyType(
    {
        1: _bands(
            {
                "160m": (1810.0, 1850.0),
                "80m": (3500.0, 3800.0),
                "40m": (7000.0, 7200.0),
                "6m": (50_000.0, 52_000.0),
            }
            | _EVERYWHERE
        ),
        2: _bands(
            {
                "160m": (1800.0, 2000.0),
                "80m": (3500.0, 4000.0),
                "40m": (7000.0, 7300.0),
                "6m": (50_000.0, 54_000.0),
            }
            | _EVERYWHERE
        ),
        3: _bands(
            {
                "160m": (1800.0, 2000.0),
                "80m": (3500.0, 3900.0),
                "40m": (7000.0, 7200.0),
                "6m": (50_000.0, 54_000.0),
            }
            | _EVERYWHERE
        ),
    }
)


def bands_of(region: int) -> Mapping[str, Band]:
    """All bands of an ITU region by name."""
    try:
        return BANDS[region]
    except KeyError:
        raise OutOfRangeError(f"there is no ITU region {region!r}; write 1, 2 or 3") from None


def band_of(frequency: float, region: int) -> Band | None:
    """The band a frequency [Hz] lies in, edges included, or None."""
    for band in bands_of(region).values():
        if band.low <= frequency <= band.high:
            return band
    return None
