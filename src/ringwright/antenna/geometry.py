# SPDX-License-Identifier: BSD-3-Clause
"""From a design to wires in space: every segment carries its address from here on."""

from dataclasses import dataclass, replace
from enum import IntEnum

import numpy as np

from ringwright.antenna.coax_outside import coax_graph, coax_wires
from ringwright.antenna.coupling_arm import Beside, between_axes, lay_arm
from ringwright.antenna.design import (
    Core,
    Coupling,
    CouplingKind,
    CouplingPlace,
    CouplingShape,
    Design,
    FeedSide,
    Ring,
    RingShape,
    SiteWire,
)
from ringwright.antenna.outline import (
    Outline,
    ellipse_outline,
    ellipse_semi_axes,
    least_distance,
    leave_point,
    polygon_outline,
    regular_polygon,
)
from ringwright.antenna.site_clearance import check_feedline, check_heights, check_width
from ringwright.antenna.site_metal import metal_graph, metal_wires
from ringwright.errors import DesignError
from ringwright.physics.constants import C_0
from ringwright.physics.graph import FloatArray, WireGraph, chain, hang, join, span

RING_SEGMENTS = 48
"""Of one turn: its delta gap then stands for a real one of 20 to 40 mm (docs/explanation/thin-wire.md)."""
COUPLING_SEGMENTS = 16
CLEARANCE_GRAIN = 1e-4
CLEARANCE_ROUNDS = 40
"""A flat loop beside a round ring, or one near a corner, is moved inwards until its nearest place keeps the clearance
to this grain [m]."""
LEAD_NODES = 3
"""Nodes of the lead before the first turn of several, the gap's included."""
FINER = 4
"""Times as many chords as segments stand for the ring's curve there."""
CABLE_BESIDE_CORE = 0.010
"""Between the ring's conductor and the cable that ends at a transformer, insulated from it. [m]"""
SIDES = {RingShape.SQUARE: 4, RingShape.HEXAGON: 6, RingShape.OCTAGON: 8}


class Address(IntEnum):
    """Where watts can go along wires."""

    RING = 0
    COUPLING = 1
    METAL = 2
    FEEDLINE = 3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wires:
    """A design in space.

    `feed` and `gap` are nodes of `graph`; `joints` are (segment, fraction) places that
    the ring's joints share evenly; `centre` [m] is the ring's, `axis` the unit vector along its axis, `across` and
    `up` span its plane. `metal` is what the wires of `graph` after the ring and its coupling stand for; `choke`
    is node and impedance [ohm] of the one in the feedline's outside. Through `core` the ring's conductor passes at
    `feed`, and the feedline drives its primary; a tapped coupling's arm is `beside` it.
    """

    graph: WireGraph
    feed: int
    gap: int
    joints: tuple[tuple[int, float], ...]
    centre: FloatArray
    across: FloatArray
    axis: FloatArray
    up: FloatArray
    metal: tuple[SiteWire, ...] = ()
    choke: tuple[int, float] | None = None
    core: Core | None = None
    beside: Beside | None = None

    @property
    def ring_length(self) -> float:
        """Along the ring's conductor [m], all turns and leads."""
        return float(self.graph.lengths[self.graph.address == Address.RING].sum())

    @property
    def own(self) -> int:
        """Number of wires, first in the graph, that are the ring and its coupling."""
        return int(self.graph.wire[self.graph.address <= Address.COUPLING].max()) + 1

    def metal_wire(self, number: int) -> SiteWire:
        """The piece of site metal behind a wire number of `graph`."""
        return self.metal[number - self.own]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Driven:
    """Ring and coupling in the ring's frame: `graph` (nodes [m]), the `feed`, and the node the cable is bonded to.

    `outline` is the ring's, with the nodes its coupling needs. A cable that is bonded to nothing has `bond` None.
    """

    graph: WireGraph
    outline: Outline
    feed: int
    bond: int | None
    beside: Beside | None = None


def build_wires(design: Design) -> Wires:
    """Place ring, coupling and site metal in space.

    Raises
    ------
    DesignError
        If the coupling or a piece of metal touches the ring, or something is nearer the earth or further away
        than the method over an earth holds.
    """
    check_heights(design)
    frame = _frame(design.ring.tilt, design.site.turn)
    driven = _drive(design)
    true_flat, _ = _wind(design.ring, driven.outline, true=True)
    lowest = float((true_flat @ frame)[:, 2].min())
    centre = np.array([0.0, 0.0, design.site.height - lowest])
    own = graph = replace(driven.graph, nodes=centre + driven.graph.nodes @ frame)
    cable = coax_wires(
        design.feedline,
        feed=own.nodes[driven.feed if driven.bond is None else driven.bond],
        axis=frame[1],
        clear=0.0 if driven.bond is not None else _beside_core(design),
    )
    metal = tuple(metal_wires(design.site.metal))
    if cable:
        check_feedline(cable, metal)
        outside = coax_graph(cable, Address.FEEDLINE)
        graph = join([own, outside]) if driven.bond is None else hang(outside, below=own, node=driven.bond)
    if metal:
        shortest = C_0 / max(target.high for target in design.targets)
        placed = metal_graph(design.site.metal, ring=own, shortest_wavelength=shortest, address=Address.METAL)
        graph = join([graph, placed])
        check_width(design, graph)
    return Wires(
        graph=graph,
        feed=driven.feed,
        gap=0,
        joints=_joint_places(design.ring, driven.outline),
        centre=centre,
        across=frame[0],
        axis=frame[1],
        up=frame[2],
        metal=cable + metal,
        choke=(len(own.nodes) + 1, design.feedline.choke or 0.0) if cable else None,
        core=design.coupling.core,
        beside=driven.beside,
    )


def _drive(design: Design) -> _Driven:
    ring, outline = design.ring, ring_outline(design.ring)
    match design.coupling.kind:
        case CouplingKind.LOOP:
            return _beside_loop(design, outline)
        case CouplingKind.TAPPED:
            return _with_arm(design.coupling, ring, outline)
        case CouplingKind.TRANSFORMER:
            outline, opposite = outline.with_node(0.5)
            return _Driven(
                graph=_ring_graph(ring, outline),
                outline=outline,
                feed=_node_of_middle_turn(ring, outline, opposite),
                bond=None,
            )


def _ring_graph(ring: Ring, outline: Outline) -> WireGraph:
    flat, turn = _wind(ring, outline)
    return chain(
        flat,
        radius=ring.conductor.electrical_radius,
        closed=True,
        address=Address.RING,
        length_factor=outline.length_factor,
        turn=turn,
    )


def _beside_loop(design: Design, outline: Outline) -> _Driven:
    coupling, ring = design.coupling, _ring_graph(design.ring, outline)
    assert coupling.conductor is not None
    loop, feed = coupling_outline(coupling, design.ring, outline)
    _check_clearance(design, loop, outline)
    graph = chain(
        _in_plane(loop.corners),
        radius=coupling.conductor.electrical_radius,
        closed=True,
        address=Address.COUPLING,
        length_factor=loop.length_factor,
    )
    feed += len(ring.nodes)
    return _Driven(graph=join([ring, graph]), outline=outline, feed=feed, bond=feed)


def _with_arm(coupling: Coupling, ring: Ring, outline: Outline) -> _Driven:
    """The arm crosses from the ring to its first node, where it is fed, and from its last one back to the ring."""
    assert coupling.conductor is not None
    outline, arm = lay_arm(coupling, ring, outline)
    around = _ring_graph(ring, outline)
    bond, tap = (_node_of_middle_turn(ring, outline, node) for node in (arm.bond, arm.tap))
    places = _in_plane(arm.places)
    places[:, 1] = around.nodes[arm.beside + (bond - arm.bond), 1]
    graph = span(
        places,
        beside=around,
        ends=(bond, tap),
        radius=coupling.conductor.electrical_radius,
        address=Address.COUPLING,
    )
    beside = Beside(ring=range(bond, tap), apart=between_axes(coupling, ring))
    return _Driven(graph=graph, outline=outline, feed=len(around.nodes), bond=bond, beside=beside)


def _node_of_middle_turn(ring: Ring, outline: Outline, node: int) -> int:
    """Number in the wound ring of an outline's node, on the turn half-way along the conductor."""
    return node if ring.turns == 1 else LEAD_NODES + (ring.turns - 1) // 2 * len(outline.corners) + node


def _beside_core(design: Design) -> float:
    """How far from the ring's axis a cable begins that is not bonded to it [m]."""
    return design.ring.conductor.electrical_radius + design.feedline.outer_diameter / 2.0 + CABLE_BESIDE_CORE


def alone(design: Design) -> Design:
    """The same ring in free space, without earth, metal, people or the feedline's outside."""
    site = replace(design.site, earth=None, metal=(), people=())
    return replace(design, site=site, feedline=replace(design.feedline, runs_down=False))


def ring_outline(ring: Ring, *, count: int = RING_SEGMENTS) -> Outline:
    """One turn in its plane, from the gap, in about `count` segments."""
    match ring.shape:
        case RingShape.CIRCLE:
            radius = ring.perimeter / (2.0 * np.pi)
            return ellipse_outline(radius, radius, start=ring.gap_angle, count=count, joints=ring.joints)
        case RingShape.OVAL:
            half_width, half_height = ellipse_semi_axes(ring.perimeter, ring.aspect)
            return ellipse_outline(
                half_width, half_height, start=ring.gap_angle, count=count, joints=ring.joints
            )
        case RingShape.POLYGON:
            return polygon_outline(np.array(ring.points), start=ring.gap_angle, count=count)
        case shape:
            corners = regular_polygon(SIDES[shape], ring.perimeter)
            return polygon_outline(corners, start=ring.gap_angle, count=count)


def coupling_outline(coupling: Coupling, ring: Ring, outline: Outline) -> tuple[Outline, int]:
    """The coupling loop in the ring's plane, and the index of its corner where the feedline goes."""
    assert coupling.diameter is not None
    aspect = coupling.squash if coupling.shape is CouplingShape.OVAL else 1.0
    half_along, half_across = ellipse_semi_axes(np.pi * coupling.diameter, aspect)
    loop = ellipse_outline(half_along, half_across, start=np.pi, count=COUPLING_SEGMENTS)
    feed = COUPLING_SEGMENTS // 2 if coupling.feed_side is FeedSide.FAR else 0
    foot, inward = leave_point(outline, ring.gap_angle + np.pi)
    turned = np.array([[inward[1], -inward[0]], inward])  # rows: along the ring's conductor, away from it
    middle = np.zeros(2)
    if coupling.place is CouplingPlace.OPPOSITE_GAP:
        apart = between_axes(coupling, ring)
        middle = foot + (half_across + apart) * inward
        curve = ring_outline(ring, count=FINER * RING_SEGMENTS)
        for _ in range(CLEARANCE_ROUNDS):
            missing = apart - least_distance(middle + loop.true_points @ turned, curve.true_points)
            if missing < CLEARANCE_GRAIN:
                break
            middle = middle + missing * inward
    return (
        Outline(
            corners=middle + loop.corners @ turned,
            true_points=middle + loop.true_points @ turned,
            length_factor=loop.length_factor,
        ),
        feed,
    )


def _frame(tilt: float, turn: float) -> FloatArray:
    """Rows: across, axis and up of the ring as unit vectors in space."""
    upright = np.array(
        [[1.0, 0.0, 0.0], [0.0, np.cos(tilt), -np.sin(tilt)], [0.0, np.sin(tilt), np.cos(tilt)]]
    )
    about_z = np.array(
        [[np.cos(turn), np.sin(turn), 0.0], [-np.sin(turn), np.cos(turn), 0.0], [0.0, 0.0, 1.0]]
    )
    return np.asarray(upright @ about_z)


def _in_plane(points: FloatArray) -> FloatArray:
    """(across, up) as (across, along the axis, up)."""
    return np.stack([points[:, 0], np.zeros(len(points)), points[:, 1]], axis=1)


def _wind(ring: Ring, outline: Outline, *, true: bool = False) -> tuple[FloatArray, FloatArray]:
    """Nodes (n, 3) of all turns in the ring's frame from the gap on, and each segment's place in turns."""
    points = _in_plane(outline.true_points if true else outline.corners)
    if ring.turns == 1:
        return points, np.zeros(len(points))
    assert ring.turn_spacing is not None
    rise = ring.turn_spacing * ring.turns / 2.0
    steps = ring.turns * len(points)
    helix = np.concatenate([np.tile(points, (ring.turns, 1)), points[:1]])
    helix[:, 1] = np.linspace(-rise, rise, steps + 1)
    outward = points[0] / np.linalg.norm(points[0])
    lead_in = helix[0] + np.array([[ring.turn_lead], [ring.turn_lead / 2.0]]) * outward
    lead_out = helix[-1] + np.array([[ring.turn_lead / 2.0], [ring.turn_lead]]) * outward
    gap = points[:1] + ring.turn_lead * outward
    turn = np.concatenate(
        [np.zeros(LEAD_NODES), (np.arange(steps) + 0.5) / len(points), np.full(3, float(ring.turns))]
    )
    return np.concatenate([gap, lead_in, helix, lead_out]), turn


def _joint_places(ring: Ring, outline: Outline) -> tuple[tuple[int, float], ...]:
    """Places of joints in all turns as (segment, fraction): a polygon's corners, whatever their number."""
    if ring.joints == 0:
        return ()
    lead = 0 if ring.turns == 1 else LEAD_NODES
    count = len(outline.corners)
    return tuple(
        (lead + turn * count + segment, part)
        for turn in range(ring.turns)
        for segment, part in outline.joints
    )


def _check_clearance(design: Design, loop: Outline, outline: Outline) -> None:
    assert design.coupling.conductor is not None
    assert design.coupling.diameter is not None
    apart = least_distance(loop.true_points, outline.true_points)
    radii = design.ring.conductor.electrical_radius + design.coupling.conductor.electrical_radius
    inside = all(_is_inside(outline.true_points, point) for point in loop.true_points)
    if apart <= radii or not inside:
        raise DesignError(
            f"coupling.diameter: a loop of {design.coupling.diameter * 1e3:.0f} mm touches or leaves the ring; "
            "make it smaller, less squashed, or give it another clearance"
        )


def _is_inside(polygon: FloatArray, point: FloatArray) -> bool:
    a, b = polygon - point, np.roll(polygon, -1, axis=0) - point
    crosses = (a[:, 1] > 0) != (b[:, 1] > 0)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = a[:, 0] - a[:, 1] * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1])
    return bool(np.count_nonzero(crosses & (at > 0)) % 2)
