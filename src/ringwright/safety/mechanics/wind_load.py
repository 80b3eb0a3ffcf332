# SPDX-License-Identifier: BSD-3-Clause
"""What the wind does to ring, box and mast, and whether what stands on feet stays up."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ringwright.antenna.building import Stand, StandKind
from ringwright.antenna.design import ConductorKind, Design
from ringwright.antenna.geometry import Address, Wires
from ringwright.physics.graph import FloatArray
from ringwright.physics.standing import GRAVITY, ballast_needed, tipping_arm
from ringwright.physics.wind import BOX_DRAG, CYLINDER_DRAG, slender_drag, wind_pressure
from ringwright.safety.mechanics.masses import Masses

STRIP_DRAG = 2.0
"""Of a flat strip face-on, EN 1991-1-4:2005 for sharp-edged sections (from memory). [1]"""
WIND_FACTOR, WEIGHT_FACTOR = 1.5, 0.9
"""EN 1990:2002, table A1.2(A), from memory."""
FRICTION = 0.3
"""Of rubber or steel feet on wet tiles, boards or roofing. Common practice, no source. [1]"""
DIRECTIONS = 72


@dataclass(frozen=True, slots=True, kw_only=True)
class WindLoad:
    """`pressure` [Pa] at the stand's `speed` [m/s]; horizontal forces [N] on all above the floor.

    `face_on` and `edge_on` the largest and the least on the ring alone; `force` the largest on all, `moment` [N m] the
    largest about the floor.
    """

    speed: float
    pressure: float
    face_on: float
    edge_on: float
    box: float
    mast: float
    force: float
    moment: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """`arm` [m] of the weight; moments [N m]; `tips_at` [m/s], the wind at which the stand just tips, without margin.

    `slides_at` [m/s], the wind at which it just slides on a smooth wet floor of `FRICTION`, without margin.
    `ballast_needed` [kg] in addition to what is there, with the margins of `WIND_FACTOR` and `WEIGHT_FACTOR`.
    """

    arm: float
    righting: float
    overturning: float
    tips_at: float
    slides_at: float
    ballast_needed: float
    holds: bool


def find_wind(design: Design, wires: Wires, box: tuple[float, float, float]) -> WindLoad:
    """Wind from every side in turn on a design with a stand; `box` [m] its width, height and depth."""
    stand = _stand_of(design)
    pressure = float(wind_pressure(stand.wind))
    ring_only, everything, moments = [], [], []
    parts = _Parts.of(design, wires, box)
    for angle in np.arange(DIRECTIONS) * 2.0 * math.pi / DIRECTIONS:
        wind = np.array([math.cos(angle), math.sin(angle), 0.0])
        on_ring = parts.on_ring(wind, pressure)
        total, moment = parts.all(on_ring, wind, pressure)
        ring_only.append(float(np.linalg.norm(on_ring.sum(axis=0)[:2])))
        everything.append(float(np.linalg.norm(total[:2])))
        moments.append(float(np.linalg.norm(moment)))
    return WindLoad(
        speed=stand.wind,
        pressure=pressure,
        face_on=max(ring_only),
        edge_on=min(ring_only),
        box=pressure * BOX_DRAG * parts.box_area,
        mast=pressure * CYLINDER_DRAG * parts.mast_area,
        force=max(everything),
        moment=max(moments),
    )


def find_standing(stand: Stand, masses: Masses, wind: WindLoad) -> Standing | None:
    """Whether it stays up; None for what is fixed."""
    if stand.kind is StandKind.FIXED:
        return None
    arm = float(tipping_arm(stand.foot_circle / 2.0, feet=stand.feet))
    righting = masses.total * GRAVITY * arm
    missing = float(
        ballast_needed(
            wind.moment, arm=arm, mass=masses.total, wind_factor=WIND_FACTOR, weight_factor=WEIGHT_FACTOR
        )
    )
    return Standing(
        arm=arm,
        righting=righting,
        overturning=wind.moment,
        tips_at=stand.wind * math.sqrt(righting / wind.moment),
        slides_at=stand.wind * math.sqrt(FRICTION * masses.total * GRAVITY / wind.force),
        ballast_needed=missing,
        holds=missing == 0.0,
    )


def ring_line_load(design: Design, wires: Wires, wind: WindLoad) -> tuple[FloatArray, FloatArray]:
    """The wind across the ring's plane as a force per length [N/m], the same all along, and that on the box [N].

    A horizontal ring meets it in its plane.
    """
    across = wires.axis if abs(wires.axis[2]) < math.sqrt(0.5) else wires.up
    blown = np.array([across[0], across[1], 0.0])
    blown /= np.linalg.norm(blown)
    width = design.ring.conductor.thickness if _is_strip(design) else _width(design)
    assert width is not None
    return np.asarray(wind.pressure * _drag(design) * width * blown), np.asarray(wind.box * blown)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Parts:
    """What stands in the wind: pieces of ring and coupling, the box at the gap, and the mast under the ring.

    A piece is `widths` [m] wide along the ring's `axis` and, of the ring, `thin` [m] in its plane: strip is bent on the
    flat, so that its edge looks along the axis.
    """

    edges: FloatArray
    middles: FloatArray
    widths: FloatArray
    thin: float
    axis: FloatArray
    drags: FloatArray
    is_ring: NDArray[np.bool_]
    box_at: FloatArray
    box_area: float
    mast_area: float
    mast_middle: float
    floor: float

    @classmethod
    def of(cls, design: Design, wires: Wires, box: tuple[float, float, float]) -> "_Parts":
        graph, stand = wires.graph, _stand_of(design)
        own = graph.address <= Address.COUPLING
        ends = graph.nodes[graph.segments[own]]
        is_ring = graph.address[own] == Address.RING
        coupling = design.coupling.conductor
        other = 0.0 if coupling is None else 2.0 * coupling.electrical_radius
        foot = float(ends[:, :, 2].min())
        return cls(
            edges=ends[:, 1] - ends[:, 0],
            middles=ends.mean(axis=1),
            widths=np.where(is_ring, _width(design), other),
            thin=(design.ring.conductor.thickness or 0.0) if _is_strip(design) else _width(design),
            axis=wires.axis,
            drags=np.where(is_ring, _drag(design), CYLINDER_DRAG),
            is_ring=is_ring,
            box_at=graph.nodes[wires.gap],
            box_area=max(box[0], box[2]) * box[1],
            mast_area=stand.mast_diameter * max(foot - stand.floor, 0.0),
            mast_middle=(foot + stand.floor) / 2.0,
            floor=stand.floor,
        )

    def on_ring(self, wind: FloatArray, pressure: float) -> FloatArray:
        edges, wide = self.edges[self.is_ring], self.widths[self.is_ring]
        along = edges / np.linalg.norm(edges, axis=1)[:, None]
        across = wind - (along @ wind)[:, None] * along
        axial = np.abs(across @ self.axis) / np.maximum(np.linalg.norm(across, axis=1), 1e-12)
        radial = np.sqrt(np.maximum(1.0 - axial**2, 0.0))
        round_one = self.thin == wide
        return slender_drag(
            edges,
            wind,
            width=np.where(round_one, wide, wide * radial + self.thin * axial),
            pressure=pressure,
            drag=self.drags[self.is_ring],
        )

    def all(self, on_ring: FloatArray, wind: FloatArray, pressure: float) -> tuple[FloatArray, FloatArray]:
        """Sum of forces [N], and the horizontal moment about the middle of the floor [N m] of the level ones."""
        other = ~self.is_ring
        on_coupling = slender_drag(
            self.edges[other], wind, width=self.widths[other], pressure=pressure, drag=self.drags[other]
        )
        on_box, on_mast = (
            pressure * BOX_DRAG * self.box_area * wind,
            pressure * CYLINDER_DRAG * self.mast_area * wind,
        )
        forces = np.concatenate([on_ring, on_coupling, [on_box, on_mast]])
        heights = np.concatenate(
            [self.middles[self.is_ring, 2], self.middles[other, 2], [self.box_at[2], self.mast_middle]]
        )
        moment = ((heights - self.floor)[:, None] * forces[:, :2]).sum(axis=0)
        return np.asarray(forces.sum(axis=0)), np.asarray(moment)


def _stand_of(design: Design) -> Stand:
    assert design.stand is not None
    return design.stand


def _is_strip(design: Design) -> bool:
    return design.ring.conductor.kind is ConductorKind.STRIP


def _width(design: Design) -> float:
    """Of the ring's conductor along the ring's axis [m]."""
    conductor = design.ring.conductor
    size = conductor.width if _is_strip(design) else conductor.diameter
    assert size is not None
    return size


def _drag(design: Design) -> float:
    return STRIP_DRAG if _is_strip(design) else CYLINDER_DRAG
