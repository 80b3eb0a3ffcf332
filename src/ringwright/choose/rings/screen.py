# SPDX-License-Identifier: BSD-3-Clause
"""What is provably out before any solution: it does not fit, weighs or costs too much, or cannot resonate.

A ring's reactance lies between bounds that hold for every shape here: above `LEAST` times that of the closed formula's
inductance, however the earth and metal nearby push its field out, and below `MOST` times that of a shorted line with
this inductance. Beyond `PAST` wavelengths no such ring is an inductance. tests/choose checks them against solutions.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ringwright.antenna.capacitor_parts import lead_inductance, range_at_gap
from ringwright.antenna.design import Conductor, ConductorKind, Ring, RingShape
from ringwright.antenna.design_file.conductor import greatest_thickness
from ringwright.antenna.geometry import SIDES, ring_outline
from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.misses import Misses
from ringwright.choose.rings.parts import CapacitorPart, ConductorPart
from ringwright.choose.rings.plan import THICKEST, too_thick
from ringwright.physics.constants import C_0
from ringwright.physics.inductance import polygon_inductance, ring_inductance
from ringwright.safety.mechanics.masses import mass_per_metre

LEAST, MOST = 0.85, 1.3
PAST = 0.6
LINE_HOLDS = 0.3
"""Wavelengths up to which the line bounds the reactance from above."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Extent:
    """Of a ring, between its conductor's axes [m]."""

    width: float
    height: float

    @property
    def diameter(self) -> float:
        """The greater of both."""
        return max(self.width, self.height)


def extent_of(brief: Brief, shape: str, perimeter: float) -> Extent:
    """How wide and high a ring is."""
    ring = brief.bases[shape].ring
    width, height = _extent(ring)
    return Extent(width=width * perimeter / ring.perimeter, height=height * perimeter / ring.perimeter)


@lru_cache(maxsize=64)
def _extent(ring: Ring) -> tuple[float, float]:
    width, height = np.ptp(ring_outline(ring, count=96).true_points, axis=0)
    return float(width), float(height)


def ring_misses(brief: Brief, shape: str, perimeter: float, *, part: ConductorPart) -> dict[str, float]:
    """What a ring misses, whatever its capacitor."""
    extent, room = extent_of(brief, shape, perimeter), brief.room
    thickness = greatest_thickness(part.conductor)
    sizes = (
        ("room.width", extent.width + thickness, room.width),
        ("room.depth", thickness, room.depth),
        ("room.height", extent.height + thickness, room.height),
    )
    misses = {key: size for key, size, most in sizes if most is not None and size > most}
    radius = part.conductor.electrical_radius
    if too_thick(radius, perimeter):
        misses["ring.conductor"] = 2.0 * math.pi * radius / THICKEST
    highest = max(target.high for target in brief.bases[shape].targets)
    if perimeter * highest / C_0 > PAST:
        misses["grid.perimeter"] = PAST * C_0 / highest
    return misses


def screened(
    brief: Brief,
    shape: str,
    perimeter: float,
    *,
    conductor: ConductorPart,
    capacitor: CapacitorPart,
    ring: Misses,
) -> dict[str, float]:
    """What a candidate provably misses; `ring` is what its ring does."""
    misses = dict(ring)
    mass = least_mass(brief, perimeter, conductor=conductor, capacitor=capacitor)
    if brief.limits.mass is not None and mass > brief.limits.mass:
        misses["limits.mass"] = mass
    cost = cost_of(perimeter, conductor, capacitor)
    if cost is None and (brief.limits.cost is not None or brief.weights["cost"] > 0.0):
        misses["prices"] = 0.0
    elif cost is not None and brief.limits.cost is not None and cost > brief.limits.cost:
        misses["limits.cost"] = cost
    if "ring.conductor" not in misses:
        misses |= _out_of_reach(brief, shape, perimeter, conductor=conductor.conductor, part=capacitor)
    return misses


def least_mass(
    brief: Brief, perimeter: float, *, conductor: ConductorPart, capacitor: CapacitorPart
) -> float:
    """Without its coupling loop [kg]."""
    box = next(iter(brief.bases.values())).building.box_mass
    return mass_per_metre(conductor.conductor) * perimeter + capacitor.mass + box


def cost_of(perimeter: float, conductor: ConductorPart, capacitor: CapacitorPart) -> float | None:
    """Of the ring's conductor and the capacitor; None where a price is not known."""
    if conductor.price is None or capacitor.price is None:
        return None
    return conductor.price.amount * perimeter + capacitor.price.amount


def reactance_bounds(
    shape: str, perimeter: float, conductor: Conductor, *, frequency: float
) -> tuple[float, float]:
    """Between which a ring's reactance at its gap lies [ohm]; the upper is infinite where none is known."""
    inductance = _inductance(shape, perimeter, conductor.electrical_radius)
    omega = 2.0 * math.pi * frequency
    waves = perimeter * frequency / C_0
    if waves > LINE_HOLDS:
        return LEAST * omega * inductance, math.inf
    u = math.pi * waves
    return LEAST * omega * inductance, MOST * omega * inductance * math.tan(u) / u


def _out_of_reach(
    brief: Brief, shape: str, perimeter: float, *, conductor: Conductor, part: CapacitorPart
) -> dict[str, float]:
    low, high = range_at_gap(part.capacitor)
    targets, leads = brief.bases[shape].targets, lead_inductance(part.capacitor)
    misses: dict[str, float] = {}
    top, bottom = max(target.high for target in targets), min(target.low for target in targets)
    least, _ = reactance_bounds(shape, perimeter, conductor, frequency=top)
    most_wanted = 1.0 / (2.0 * math.pi * top * least)
    if low > most_wanted:
        misses["capacitor.minimum"] = most_wanted
    _, most = reactance_bounds(shape, perimeter, conductor, frequency=bottom)
    least_wanted = 1.0 / (2.0 * math.pi * bottom * (most + 2.0 * math.pi * bottom * leads))
    if high < least_wanted:
        misses["capacitor.maximum"] = least_wanted
    return misses


@lru_cache(maxsize=4096)
def _inductance(shape: str, perimeter: float, radius: float) -> float:
    if shape == RingShape.CIRCLE.value:
        return float(ring_inductance(perimeter / (2.0 * math.pi), radius))
    sides = SIDES[RingShape(shape)]
    return float(polygon_inductance(sides, side=perimeter / sides, wire_radius=radius))


def jointed(conductor: Conductor) -> bool:
    """Whether a polygon of it is pieced together at its corners; what bends is not."""
    return conductor.kind in (ConductorKind.TUBE, ConductorKind.STRIP)
