# SPDX-License-Identifier: BSD-3-Clause
"""Earths by name.

The categories are those of Recommendation ITU-R P.527; below 30 MHz it gives both constants as independent of
frequency. Its numbers stand in a figure and are written here from memory. `good`, `average` and `poor` are a
convention of amateur handbooks, no measurement; they are flagged so wherever they are shown.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from ringwright.antenna.design import Earth

FREE_SPACE = "free space"
PERFECT_EARTH = "perfect earth"

_ITU = "ITU-R P.527 category, numbers from memory"
_HANDBOOK = "handbook convention, no measurement"


@dataclass(frozen=True, slots=True)
class NamedEarth:
    earth: Earth
    source: str


_CONSTANTS = (
    ("sea water", 5.0, 70.0, _ITU),
    ("fresh water", 3e-3, 80.0, _ITU),
    ("wet ground", 1e-2, 30.0, _ITU),
    ("medium dry ground", 1e-3, 15.0, _ITU),
    ("very dry ground", 1e-4, 3.0, _ITU),
    ("good", 30e-3, 20.0, _HANDBOOK),
    ("average", 5e-3, 13.0, _HANDBOOK),
    ("poor", 1e-3, 5.0, _HANDBOOK),
)
# A mirror has no conductivity; this one is far enough for whoever computes with it all the same.
_PERFECT = Earth(name=PERFECT_EARTH, conductivity=1e12, permittivity=1.0, perfect=True)

EARTHS: Mapping[str, NamedEarth] = MappingProxyType(
    {
        name: NamedEarth(Earth(name=name, conductivity=conductivity, permittivity=permittivity), source)
        for name, conductivity, permittivity, source in _CONSTANTS
    }
    | {PERFECT_EARTH: NamedEarth(_PERFECT, "limiting case, a mirror")}
)
