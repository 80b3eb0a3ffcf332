# SPDX-License-Identifier: BSD-3-Clause
"""A tapped coupling: an arm beside the ring's conductor from the point half-way round to where it joins the ring."""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.design import Coupling, Ring
from ringwright.antenna.outline import SAME_NODE, Outline, least_distance
from ringwright.errors import DesignError
from ringwright.physics.graph import FloatArray, IntArray
from ringwright.units import format_quantity

FARTHEST_TAP = 0.4
"""Of one turn: beyond, the arm comes into the gap's field, and its own capacitance counts."""
GENTLE = 0.35
"""Sine of a bend up to which nodes lie on a curve: 20 degrees."""
STRAIGHT = 1e-6
"""Sine of a bend below which a node is no corner."""
NARROW = 0.98
"""An arm's nodes keep this share of the distance, or it runs into another part of the ring."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Arm:
    """`places` (n, 2) [m] of the arm's nodes in the ring's plane, each abreast of the outline's node in `beside`.

    It is fed at the first and joins the ring's conductor from the last; `bond` and `tap` are the outline's nodes there.
    """

    places: FloatArray
    beside: IntArray
    bond: int
    tap: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """Segments of the `ring` that an arm runs beside, and the distance `apart` of both axes [m]."""

    ring: range
    apart: float


def between_axes(coupling: Coupling, ring: Ring) -> float:
    """Distance of the arm's or coupling loop's axis from that of the ring's conductor [m]."""
    assert coupling.conductor is not None
    return coupling.clearance + ring.conductor.electrical_radius + coupling.conductor.electrical_radius


def lay_arm(coupling: Coupling, ring: Ring, outline: Outline) -> tuple[Outline, Arm]:
    """The arm inside the ring, in the direction in which the gap's angle counts, and the outline with its nodes.

    Raises
    ------
    DesignError
        If the arm does not fit.
    """
    assert coupling.tap_at is not None
    distance = between_axes(coupling, ring)
    _hold_length(coupling.tap_at, ring, distance)
    outline, bond = outline.with_node(0.5)
    outline, tap = outline.with_node(0.5 + coupling.tap_at / ring.perimeter)
    inside = inner_line(outline.corners, distance)
    steps = np.linalg.norm(np.diff(inside[bond : tap + 1], axis=0), axis=1)
    beside = np.arange(bond, tap + 1)[np.append(True, steps > SAME_NODE)]
    places = inside[beside]
    along = np.diff(outline.corners[beside], axis=0)
    is_forward = np.sum(np.diff(places, axis=0) * along, axis=1) > 0.0
    apart = least_distance(np.concatenate([places, (places[:-1] + places[1:]) / 2.0]), outline.corners)
    if not is_forward.all() or apart < NARROW * distance:
        raise DesignError(
            f"coupling.clearance of {format_quantity(coupling.clearance, 'mm')} leaves the arm no room inside the "
            "ring; bring it nearer to the ring's conductor",
            key="coupling.clearance",
        )
    return outline, Arm(places=places, beside=beside, bond=bond, tap=tap)


def inner_line(corners: FloatArray, distance: float) -> FloatArray:
    """Each node of a clockwise outline moved inwards by a distance [m]: the parallel outline, its corners mitred.

    A node on a straight side comes to lie abreast, but not beyond the parallel side's ends; one between the gentle
    bends of a curve keeps its share of the way.
    """
    ahead = np.roll(corners, -1, axis=0) - corners
    lengths = np.linalg.norm(ahead, axis=1)
    ahead /= lengths[:, None]
    behind = np.roll(ahead, 1, axis=0)
    cosine = np.sum(ahead * behind, axis=1)
    sine = behind[:, 1] * ahead[:, 0] - behind[:, 0] * ahead[:, 1]
    inwards = np.stack([ahead[:, 1] + behind[:, 1], -ahead[:, 0] - behind[:, 0]], axis=1)
    mitred = corners + distance * inwards / (1.0 + cosine)[:, None]
    set_back = distance * sine / (1.0 + cosine)
    places = np.insert(np.cumsum(lengths), 0, 0.0)
    bends = np.flatnonzero(abs(sine) > STRAIGHT)
    before = np.searchsorted(bends, np.arange(len(corners)), side="right") - 1
    first, second = bends[before], bends[(before + 1) % len(bends)]
    way, side = ((places[:-1] - places[first]) % places[-1], (places[second] - places[first]) % places[-1])
    abreast = (way - set_back[first]) / (side - set_back[first] - set_back[second])
    is_curve = np.maximum(abs(sine[first]), abs(sine[second])) < GENTLE
    share = np.where(is_curve, way / side, np.clip(abreast, 0.0, 1.0))
    inside = mitred[first] + share[:, None] * (mitred[second] - mitred[first])
    inside[bends] = mitred[bends]
    return np.asarray(inside)


def _hold_length(tap_at: float, ring: Ring, distance: float) -> None:
    if not distance <= tap_at <= FARTHEST_TAP * ring.perimeter:
        low, high = (format_quantity(x, "m", digits=3) for x in (distance, FARTHEST_TAP * ring.perimeter))
        raise DesignError(
            f"coupling.tap_at of {format_quantity(tap_at, 'm', digits=4)} must be from {low}, the arm's distance from "
            f"the ring's conductor, to {high}, {FARTHEST_TAP:g} of a turn",
            key="coupling.tap_at",
        )
