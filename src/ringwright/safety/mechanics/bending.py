# SPDX-License-Identifier: BSD-3-Clause
"""Whether the conductor takes its bends, and how far the ring sags and is stressed by its own weight and the wind."""

import math
from dataclasses import dataclass

import numpy as np

from ringwright.antenna.design import Conductor, ConductorKind, CouplingKind, CouplingShape, Design, RingShape
from ringwright.antenna.geometry import Address, Wires
from ringwright.antenna.metals import metal_of
from ringwright.antenna.outline import ellipse_semi_axes
from ringwright.physics.cantilever import curved_cantilever, ring_second_moment
from ringwright.physics.graph import FloatArray
from ringwright.physics.standing import GRAVITY
from ringwright.safety.mechanics.masses import Masses, conductor_length
from ringwright.safety.mechanics.wind_load import WindLoad, ring_line_load

BY_HAND, WITH_A_BENDER = {"tube": 8.0, "solid": 3.0, "strip": 3.0, "braid": 2.0}, {
    "tube": 4.0, "solid": 1.5, "strip": 1.5, "braid": 2.0,
}  # fmt: skip
"""Least radius of the axis over the thickness: annealed and by hand, a tube with a spring or filled; over a former with
a bender. Common practice, no source."""


BY_HAND_WORDS = {
    ConductorKind.TUBE: "bends by hand, annealed, filled or with a spring",
    ConductorKind.SOLID: "bends by hand, annealed",
    ConductorKind.STRIP: "bends by hand on the flat, annealed",
    ConductorKind.BRAID: "bends by hand; nothing carries it but its frame",
}

SMALL = 0.05
"""Of the conductor's length: the moments are those of the unloaded shape, which holds for deflections up to that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bend:
    """`radius` [m], the sharpest; `by_hand`, `with_a_bender` [m] the least; `verdict` in words."""

    what: str
    radius: float
    by_hand: float
    with_a_bender: float
    verdict: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sag:
    """How far an end at the gap moves [m] and the largest stress [Pa], by weight alone and with the stated wind.

    A sag is None where it is no longer small against the ring. `yields_at` [Pa] the soft metal. None as a whole where a
    frame carries the ring.
    """

    by_weight: float | None
    stress_weight: float
    by_wind: float | None
    stress_wind: float
    yields_at: float


def bends(design: Design) -> tuple[Bend, ...]:
    """Of ring and coupling loop; a polygon has none."""
    found = []
    ring, coupling = design.ring, design.coupling
    if ring.shape in (RingShape.CIRCLE, RingShape.OVAL):
        axes = ellipse_semi_axes(ring.perimeter, ring.aspect)
        found.append(_bend("ring", ring.conductor, axes))
    if coupling.kind is CouplingKind.LOOP:
        assert coupling.diameter is not None
        assert coupling.conductor is not None
        squash = coupling.squash if coupling.shape is CouplingShape.OVAL else 1.0
        axes = ellipse_semi_axes(math.pi * coupling.diameter, squash)
        found.append(_bend("coupling loop", coupling.conductor, axes))
    return tuple(found)


def find_sag(design: Design, wires: Wires, masses: Masses, *, wind: WindLoad) -> Sag | None:
    """Of the ring's halves, each held at the point opposite the gap and free at it; None in a frame.

    That nothing joins the ends errs to the safe side: the capacitor holds them together.
    """
    conductor = design.ring.conductor
    is_framed = design.building.is_framed
    if is_framed or conductor.kind is ConductorKind.BRAID:
        return None
    metal = metal_of(conductor.material)
    moment, edge, polar = _section(conductor)
    bending, torsion = metal.elasticity * moment, metal.rigidity * polar
    down = np.array([0.0, 0.0, -1.0])
    end_mass = (masses.capacitor + masses.box + masses.drive) / 2.0
    weight, tip = masses.ring_per_metre * GRAVITY * down, end_mass * GRAVITY * down
    blown, blown_tip = ring_line_load(design, wires, wind)
    results = []
    for half in _halves(wires):
        for load, at_tip in ((weight, tip), (weight + blown, tip + blown_tip / 2.0)):
            moved, largest = curved_cantilever(
                half, load=load, tip_load=at_tip, bending=bending, torsion=torsion
            )
            results.append((float(np.linalg.norm(moved)), float(largest) * edge / moment))
    still, windy = results[0::2], results[1::2]
    return Sag(
        by_weight=_small(max(moved for moved, _ in still), wires),
        stress_weight=max(stress for _, stress in still),
        by_wind=_small(max(moved for moved, _ in windy), wires),
        stress_wind=max(stress for _, stress in windy),
        yields_at=metal.yields_at,
    )


def _small(moved: float, wires: Wires) -> float | None:
    return moved if moved <= SMALL * conductor_length(wires, Address.RING) else None


def _bend(what: str, conductor: Conductor, axes: tuple[float, float]) -> Bend:
    thickness = conductor.thickness if conductor.kind is ConductorKind.STRIP else conductor.diameter
    assert thickness is not None
    radius = min(axes) ** 2 / max(axes)
    by_hand, bender = (
        BY_HAND[conductor.kind.value] * thickness,
        WITH_A_BENDER[conductor.kind.value] * thickness,
    )
    if radius >= by_hand:
        verdict = BY_HAND_WORDS[conductor.kind]
    elif radius >= bender:
        verdict = "needs a bender or a former"
    else:
        verdict = "too sharp: it kinks or cracks; make it larger or rounder, or the conductor thinner"
    return Bend(what=what, radius=radius, by_hand=by_hand, with_a_bender=bender, verdict=verdict)


def _section(conductor: Conductor) -> tuple[float, float, float]:
    """Second moment of area [m^4], distance of the outermost fibre [m], and torsion constant [m^4].

    A strip counts about its weaker axis, and as a thin one in torsion.
    """
    if conductor.kind is ConductorKind.STRIP:
        assert conductor.width is not None
        assert conductor.thickness is not None
        moment = conductor.width * conductor.thickness**3 / 12.0
        return moment, conductor.thickness / 2.0, 4.0 * moment
    assert conductor.diameter is not None
    bore = conductor.diameter - 2.0 * conductor.wall if conductor.wall is not None else 0.0
    moment = float(ring_second_moment(conductor.diameter, bore=bore))
    return moment, conductor.diameter / 2.0, 2.0 * moment


def _halves(wires: Wires) -> tuple[FloatArray, FloatArray]:
    """The ring's axis from the point opposite the gap to either end at the gap, (n, 3) [m]."""
    graph = wires.graph
    segments = graph.segments[graph.address == Address.RING]
    order = graph.nodes[np.append(segments[:, 0], segments[-1, 1])]
    travelled = np.insert(np.cumsum(np.linalg.norm(np.diff(order, axis=0), axis=1)), 0, 0.0)
    middle = int(np.argmin(abs(travelled - travelled[-1] / 2.0)))
    return order[middle::-1], order[middle:]
