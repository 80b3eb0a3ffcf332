# SPDX-License-Identifier: BSD-3-Clause
"""Locators: squares on the globe named by four to ten characters, and how far the square leaves the place open.

The system of the International Amateur Radio Union (Region 1, VHF Managers Handbook), longitude before latitude, on
WGS84. Fields of 20 by 10 degrees, squares of 2 by 1, subsquares of 5 by 2.5 minutes, then tenths and 24ths again.
"""

import re
from dataclasses import dataclass

import numpy as np

from ringwright.errors import LocatorError
from ringwright.units import shown

METRES_PER_DEGREE = 111_320.0
"""Along the equator, and nearly along a meridian."""
_FORM = re.compile(r"[A-R]{2}[0-9]{2}(?:[A-X]{2}(?:[0-9]{2}(?:[A-X]{2})?)?)?", re.ASCII | re.IGNORECASE)
_DIVISIONS = (18, 10, 24, 10, 24)


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A place on the globe [deg], and half the diagonal of the square it is only known to lie in [m]."""

    latitude: float
    longitude: float
    uncertainty: float


def place_of(locator: str) -> Place:
    """The middle of a locator's square.

    Raises
    ------
    LocatorError
        If it is none of 4, 6, 8 or 10 characters.
    """
    text = locator.strip()
    if not _FORM.fullmatch(text):
        raise LocatorError(
            f'{shown(locator)} is no locator; write 4, 6, 8 or 10 characters as in "JJ00aa": letters A to R, digits, '
            f"letters A to X"
        )
    longitude, latitude, width, height = -180.0, -90.0, 360.0, 180.0
    for pair, divisions in enumerate(_DIVISIONS[: len(text) // 2]):
        width, height = width / divisions, height / divisions
        longitude += width * _digit(text[2 * pair])
        latitude += height * _digit(text[2 * pair + 1])
    latitude += height / 2.0
    across = width * np.cos(np.deg2rad(latitude))
    return Place(
        latitude=latitude,
        longitude=longitude + width / 2.0,
        uncertainty=float(np.hypot(across, height) / 2.0 * METRES_PER_DEGREE),
    )


def locator_of(latitude: float, longitude: float, *, characters: int = 6) -> str:
    """The locator a place [deg] lies in; the poles and 180 degrees east count to the square beside them.

    Raises
    ------
    LocatorError
        If the latitude is outside -90 to 90, or the number of characters is not 4, 6, 8 or 10.
    """
    if characters not in {4, 6, 8, 10}:
        raise LocatorError(f"a locator has 4, 6, 8 or 10 characters, not {characters}")
    if not (-90.0 <= latitude <= 90.0 and np.isfinite(longitude)):
        raise LocatorError(f"there is no place at latitude {latitude!r}, longitude {longitude!r} degrees")
    cells = int(np.prod(_DIVISIONS[: characters // 2]))
    east = int((longitude + 180.0) % 360.0 / 360.0 * cells) % cells
    north = min(int((latitude + 90.0) / 180.0 * cells), cells - 1)
    pairs = []
    for pair in reversed(range(characters // 2)):
        divisions = _DIVISIONS[pair]
        east, x = divmod(east, divisions)
        north, y = divmod(north, divisions)
        pairs.append(_character(x, pair) + _character(y, pair))
    return "".join(reversed(pairs))


def _digit(character: str) -> int:
    return int(character) if character.isdigit() else ord(character.upper()) - ord("A")


def _character(value: int, pair: int) -> str:
    return str(value) if pair % 2 else chr(ord("A" if pair == 0 else "a") + value)
