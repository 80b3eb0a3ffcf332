# SPDX-License-Identifier: BSD-3-Clause
"""The brief: bands, room, site, what is at hand and what counts, as plain values."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ringwright.antenna.design import Design
from ringwright.choose.rings.brief_units import Units
from ringwright.choose.rings.parts import CapacitorPart, ConductorPart

OBJECTIVES = ("sky_db", "size", "mass", "cost", "bandwidth", "margin")
"""What may be weighed, as the brief names it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """The box that the ring must fit in [m], None where nothing is in the way: along its width, through it, up."""

    width: float | None = None
    depth: float | None = None
    height: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """`mass` [kg]; `cost` in the parts' `currency`; `voltage_margin` what the capacitor stands over what it must;
    `swr` on the worst band; `exposure` names of limits that people must pass, empty for all.
    """

    mass: float | None = None
    cost: float | None = None
    currency: str | None = None
    voltage_margin: float = 1.0
    swr: float | None = None
    exposure: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Brief:
    """`design` are the keys that every candidate's design file has in common, as the person wrote them.

    `bases`: for each shape a design with these keys, a place holder where candidates differ. `weights` by the names of
    `OBJECTIVES`. `perimeters` [m] rise. `units`: what its amounts are told in. `defaults_used`: a text for each thing
    left open.
    """

    name: str
    design: Mapping[str, Any]
    bases: Mapping[str, Design]
    room: Room
    limits: Limits
    weights: Mapping[str, float]
    perimeters: tuple[float, ...]
    conductors: tuple[ConductorPart, ...]
    capacitors: tuple[CapacitorPart, ...]
    units: Units
    defaults_used: tuple[str, ...] = ()

    @property
    def shapes(self) -> tuple[str, ...]:
        return tuple(self.bases)

    @property
    def is_imperial(self) -> bool:
        """Whether its rings are told in feet and inches."""
        return "grid.perimeter" in self.units

    @property
    def counts(self) -> int:
        """How many candidates the grid has."""
        return len(self.bases) * len(self.perimeters) * len(self.conductors) * len(self.capacitors)

    @property
    def weighed(self) -> tuple[str, ...]:
        """Objectives that count."""
        return tuple(name for name in OBJECTIVES if self.weights[name] > 0.0)
