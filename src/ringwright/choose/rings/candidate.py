# SPDX-License-Identifier: BSD-3-Clause
"""One ring that could be built: what it is, what it does on each band, and how it scores."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.candidate_text import candidate_tables, corners, toml_text
from ringwright.choose.rings.screen import jointed
from ringwright.units import format_quantity

ENOUGH_MARGIN = 10.0
"""[dB]: more of it is worth nothing."""
KILOHERTZ = 1e3
IMPERIAL_STOCK = "10 ft"
"""Length that tube is sold in where feet are read; common practice, no source."""

Place = tuple[int, int, int, int]
"""Of shape, perimeter, conductor and capacitor in the brief's lists."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CandidateBand:
    """`sky` share of the accepted power; bandwidth f0/Q0 [Hz]; margins [dB] of the capacitor's volts and of people,
    infinite where there are none.
    """

    band: str | None
    frequency: float
    sky: float
    swr_min: float
    capacitance: float
    bandwidth: float
    voltage_peak: float
    voltage_margin_db: float
    people_margin_db: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """`diameter` [m] is the greater of width and height between the conductor's axes; `coupling` that of its loop [m].

    `is_verified`: whether its figures are those of a solution of its own.
    """

    place: Place
    diameter: float
    coupling: float
    mass: float
    cost: float | None
    bands: tuple[CandidateBand, ...]
    is_verified: bool = False

    @property
    def sky_db(self) -> float:
        """Mean over the bands of the sky efficiency's decibels."""
        return sum(10.0 * math.log10(max(band.sky, 1e-12)) for band in self.bands) / len(self.bands)

    @property
    def margin_db(self) -> float:
        """The least of all margins, as far as it is worth anything."""
        least = min(min(band.voltage_margin_db, band.people_margin_db) for band in self.bands)
        return min(least, ENOUGH_MARGIN)

    def worth(self) -> dict[str, float]:
        """By objective, more is better."""
        widths = [10.0 * math.log10(max(band.bandwidth, 1.0) / KILOHERTZ) for band in self.bands]
        return {
            "sky_db": self.sky_db,
            "size": -self.diameter,
            "mass": -self.mass,
            "cost": 0.0 if self.cost is None else -self.cost,
            "bandwidth": sum(widths) / len(widths),
            "margin": self.margin_db,
        }

    def points(self, weights: Mapping[str, float]) -> dict[str, float]:
        """What each objective that counts is worth."""
        return {name: weights[name] * each for name, each in self.worth().items() if weights[name] > 0.0}

    def score(self, weights: Mapping[str, float]) -> float:
        """Decibels that matter."""
        return sum(self.points(weights).values())


def name_of(brief: Brief, place: Place) -> str:
    """A candidate in words."""
    shape, perimeter, conductor, capacitor = place
    return (
        f"{brief.shapes[shape].capitalize()} of {_perimeter(brief, perimeter)}, "
        f"{brief.conductors[conductor].name}, {brief.capacitors[capacitor].name}"
    )


def text_of(brief: Brief, place: Place, coupling: float) -> str:
    """A candidate as a design file."""
    shape, perimeter, conductor, capacitor = place
    part, tuner = brief.conductors[conductor], brief.capacitors[capacitor]
    joints = corners(brief.shapes[shape]) if jointed(part.conductor) else 0
    build = {} if tuner.mass_text is None else {"capacitor_mass": tuner.mass_text}
    if brief.is_imperial and joints:
        build["stock"] = IMPERIAL_STOCK
    tables = candidate_tables(
        brief.design,
        name=name_of(brief, place),
        ring=(brief.shapes[shape], _perimeter(brief, perimeter)),
        conductor=part.table,
        capacitor=tuner.table,
        coupling_diameter=format_quantity(coupling, "in", digits=5)
        if brief.is_imperial
        else format_quantity(coupling, "mm", digits=10),
        joints=joints,
        build=build,
    )
    return toml_text(tables)


def _perimeter(brief: Brief, number: int) -> str:
    """As the brief writes it; a design file reads the same number again."""
    return format_quantity(brief.perimeters[number], brief.units.get("grid.perimeter", "m"), digits=10)
