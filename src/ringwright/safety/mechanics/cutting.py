# SPDX-License-Identifier: BSD-3-Clause
"""What to cut: every piece of conductor with its length as cut and as it stays, and how many lengths to buy."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ringwright.antenna.building import CornerKind
from ringwright.antenna.design import Conductor, ConductorKind, CouplingKind, Design, RingShape
from ringwright.antenna.geometry import SIDES, Address, Wires, ring_outline
from ringwright.antenna.outline import polygon_centroid, regular_polygon
from ringwright.physics.graph import FloatArray
from ringwright.safety.mechanics.masses import conductor_length

USUAL_GAP = 0.030
"""Between the ring's ends where the design states no `gap_width`: a real gap of 20 to 40 mm. [m]"""
BENT = (RingShape.CIRCLE, RingShape.OVAL)
TAIL = 0.010
"""Of the coupling's conductor at each end, into the connector; common practice, no source. [m]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One kind of piece.

    `axis` [m] along its axis from joint to joint, as it stays; `cut` [m] as it is sawn, allowances included: along the
    longer edge of a mitred one. `angles` [rad] that its two ends are sawn off square by, 0 for square ends.
    """

    name: str
    count: int
    axis: float
    cut: float
    angles: tuple[float, float] = (0.0, 0.0)
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutList:
    """`pieces` of the ring, `coupling` of the coupling; `corners` (turning angle [rad], count) of a polygon.

    `gap` [m] between the ring's ends. `needed` [m] of conductor with saw cuts; `stock` [m] one length as sold, None
    from a coil; `lengths` how many of them, None where a piece is longer than one.
    """

    pieces: tuple[Piece, ...]
    coupling: tuple[Piece, ...]
    corners: tuple[tuple[float, int], ...]
    gap: float
    needed: float
    stock: float | None
    lengths: int | None


def cut_list(design: Design, wires: Wires) -> CutList:
    """The pieces of a design."""
    ring, building = design.ring, design.building
    gap = design.capacitor.gap_width or USUAL_GAP
    corners: tuple[tuple[float, int], ...] = ()
    if ring.shape in BENT:
        pieces = tuple(_bent(design, wires, gap))
    else:
        pieces, corners = _straight(design, gap)
    cuts = [piece.cut + building.kerf for piece in pieces for _ in range(piece.count)]
    return CutList(
        pieces=pieces,
        coupling=tuple(_coupling(design, wires)),
        corners=corners,
        gap=gap,
        needed=sum(cuts),
        stock=building.stock,
        lengths=None if building.stock is None else _lengths(cuts, building.stock),
    )


def ring_corners(design: Design) -> FloatArray:
    """Corners (n, 2) [m] of a polygon in its plane, clockwise from the one after the gap, whose side is the last."""
    ring = design.ring
    points = np.array(ring.points) if ring.points else regular_polygon(SIDES[ring.shape], ring.perimeter)
    centred = points - polygon_centroid(points)
    area = np.sum(centred[:, 0] * np.roll(centred[:, 1], -1) - np.roll(centred[:, 0], -1) * centred[:, 1])
    clockwise = centred if area < 0.0 else centred[::-1]
    start = ring_outline(ring).corners[0]
    following = np.roll(clockwise, -1, axis=0)
    along = following - clockwise
    share = np.clip(np.sum((start - clockwise) * along, axis=1) / np.sum(along**2, axis=1), 0.0, 1.0)
    side = int(np.argmin(np.linalg.norm(clockwise + share[:, None] * along - start, axis=1)))
    return np.asarray(np.roll(clockwise, -(side + 1), axis=0))


def turning_angles(corners: FloatArray) -> FloatArray:
    """By how much the conductor turns at each corner (n,) [rad], negative where it turns outwards."""
    before, after = corners - np.roll(corners, 1, axis=0), np.roll(corners, -1, axis=0) - corners
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    return np.asarray(-np.arctan2(cross, np.sum(before * after, axis=1)))


def _bent(design: Design, wires: Wires, gap: float) -> Iterator[Piece]:
    """A circle or an oval: one piece, or as many as joints between its two ends make."""
    ring = design.ring
    number = max(1, ring.joints - 1)
    axis = (conductor_length(wires, Address.RING) - gap) / number
    extra = 2.0 * design.building.bend_allowance if ring.conductor.kind is not ConductorKind.BRAID else 0.0
    word = "the ring" if number == 1 else "part of the ring"
    note = "the straight ends are sawn off after bending" if extra else ""
    yield Piece(name=word, count=number, axis=axis, cut=axis + extra, note=note)


def _straight(design: Design, gap: float) -> tuple[tuple[Piece, ...], tuple[tuple[float, int], ...]]:
    """A polygon: its sides, the gap's in two parts, all turns."""
    ring = design.ring
    corners = ring_corners(design)
    turns, angles = turning_angles(corners), ring.turns
    ends = np.roll(corners, -1, axis=0)
    sides = [
        (float(math.dist(a, b)), float(first), float(second))
        for a, b, first, second in zip(corners, ends, turns, np.roll(turns, -1), strict=True)
    ]
    full = [(length, one, other) for length, one, other in sides[:-1]]
    length, into, out_of = sides[-1]
    start = ring_outline(ring).corners[0]
    to_gap = float(math.dist(corners[-1], start))
    halves = [(to_gap - gap / 2.0, into, 0.0), (length - to_gap - gap / 2.0, 0.0, out_of)]
    if angles > 1:  # the ends of the helix run out along the leads; its turns close on themselves between
        halves = [(to_gap, into, 0.0), (length - to_gap, 0.0, out_of)]
        full = full * angles + [sides[-1]] * (angles - 1)
    pieces = [_side(design, "side", each) for each in full]
    pieces += [_side(design, "side at the gap", each) for each in halves]
    if angles > 1:
        lead = ring.turn_lead
        across = ((ring.turn_spacing or 0.0) * ring.turns - gap) / 2.0
        pieces += [
            Piece(name="lead", count=2, axis=lead, cut=lead),
            Piece(name="towards the gap", count=2, axis=across, cut=across),
        ]
    kinds: dict[float, int] = {}
    for angle in turns:
        key = round(float(angle), 6)
        kinds[key] = kinds.get(key, 0) + angles
    return tuple(_counted(pieces)), tuple(kinds.items())


def _side(design: Design, name: str, side: tuple[float, float, float]) -> Piece:
    length, first, second = side
    if design.building.corners is CornerKind.ELBOW:
        ends = sum(angle != 0.0 for angle in (first, second))
        return Piece(
            name=name,
            count=1,
            axis=length,
            cut=length - ends * design.building.take_off,
            note=f"into {ends} elbow{'s' if ends > 1 else ''}",
        )
    thickness = _thickness(design.ring.conductor)
    longer = sum(abs(math.tan(angle / 2.0)) for angle in (first, second)) * thickness / 2.0
    mitres = (round(abs(first) / 2.0, 6), round(abs(second) / 2.0, 6))
    return Piece(
        name=name, count=1, axis=length, cut=length + longer, angles=mitres, note="along the longer edge"
    )


def _counted(pieces: Sequence[Piece]) -> Iterator[Piece]:
    """Equal pieces as one line; a piece may be turned end for end."""
    found: dict[tuple[str, int, tuple[float, ...]], Piece] = {}
    for piece in pieces:
        key = (piece.name, round(piece.cut * 1e5), tuple(sorted(piece.angles)))
        known = found.get(key)
        found[key] = piece if known is None else replace(known, count=known.count + piece.count)
    yield from found.values()


def _coupling(design: Design, wires: Wires) -> Iterator[Piece]:
    coupling = design.coupling
    length = conductor_length(wires, Address.COUPLING)
    match coupling.kind:
        case CouplingKind.LOOP:
            assert coupling.diameter is not None
            around = math.pi * coupling.diameter
            cut = around - design.building.connector_gap + 2.0 * TAIL
            yield Piece(
                name="coupling loop",
                count=1,
                axis=around,
                cut=cut,
                note="bent to shape, tails into the connector",
            )
        case CouplingKind.TAPPED:
            yield Piece(
                name="arm to the tap",
                count=1,
                axis=length,
                cut=length + 2.0 * TAIL,
                note="with its bend to the ring",
            )
        case CouplingKind.TRANSFORMER:
            return


def _thickness(conductor: Conductor) -> float:
    """Across the plane of the corners [m]."""
    size = conductor.width if conductor.kind is ConductorKind.STRIP else conductor.diameter
    assert size is not None
    return size


def _lengths(cuts: Sequence[float], stock: float) -> int | None:
    """Lengths of stock, each piece into the first that still has room, the longest first; None if one is too long."""
    left: list[float] = []
    for cut in sorted(cuts, reverse=True):
        if cut > stock:
            return None
        place = next((number for number, rest in enumerate(left) if rest >= cut - 1e-9), None)
        if place is None:
            left.append(stock - cut)
        else:
            left[place] -= cut
    return len(left)
