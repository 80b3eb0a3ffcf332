# SPDX-License-Identifier: BSD-3-Clause
"""Metal nearby as parasitic wires: railings, gutters, masts, stays, meshes for slabs and walls.

Wires join where their ends coincide within a millimetre, or where an end lies on another wire within a
millimetre; otherwise they are apart. A mesh is joined at its crossings.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise

import numpy as np

from ringwright.antenna.design import SiteMesh, SiteWire
from ringwright.errors import DesignError
from ringwright.physics.graph import FloatArray, IntArray, WireGraph

JOIN = 1e-3
"""Ends closer than this are one. [m]"""
PER_WAVELENGTH = 20
NEAREST_SHARE = 0.5
"""A segment is no longer than this share of its wire's distance to the ring, where induced current varies."""
SHORTEST = 0.05
"""But a segment this short [m] resolves everything a metre-sized ring induces."""
MOST_SEGMENTS = 600
"""That many take some six seconds and 1.5 GB on three bands over earth."""
END_PIECES = (0.1, 0.35)
"""The last piece before a free end is cut here: charge crowds there, and even pieces would cost 1 % at resonance."""
STOUT = 5.0
"""Unless the piece is shorter than this many diameters, or its cuts would lie within a joint."""


def metal_wires(metal: Sequence[SiteWire | SiteMesh]) -> list[SiteWire]:
    """All straight wires, meshes taken apart into the wires between their edges."""
    wires: list[SiteWire] = []
    for piece in metal:
        wires.extend([piece] if isinstance(piece, SiteWire) else _mesh_wires(piece))
    return wires


def ends_of(wire: SiteWire) -> FloatArray:
    """Both ends, (2, 3). [m]"""
    return np.array([wire.start, wire.end])


def metal_graph(
    metal: Sequence[SiteWire | SiteMesh], *, ring: WireGraph, shortest_wavelength: float, address: int
) -> WireGraph:
    """Joined and segmented metal; segment i belongs to wire `graph.wire[i]` of `metal_wires(metal)`.

    `ring` is what it must stay clear of, with the ring first.

    Raises
    ------
    DesignError
        If a wire touches the ring, or there is too much metal for a live answer.
    """
    per_piece = [metal_wires([piece]) for piece in metal]
    wires = [wire for taken in per_piece for wire in taken]
    piece_of = np.repeat(np.arange(1, len(metal) + 1), [len(taken) for taken in per_piece])
    if len(wires) > MOST_SEGMENTS:  # joining them would take long before it fails
        raise _too_much(int(piece_of[MOST_SEGMENTS]), wires[MOST_SEGMENTS])
    ends = np.array([ends_of(wire) for wire in wires])
    nodes: list[FloatArray] = []
    joints: list[int] = []
    segments: list[tuple[int, int]] = []
    owner: list[int] = []
    for number, wire in enumerate(wires):
        longest = _longest_segment(ends[number], ring.nodes, shortest_wavelength)
        path, joined = _breaks(number, ends)
        cuts = [_cuts(a, b, longest=longest, least=1 if joined else 2) for a, b in pairwise(path)]
        _crowd(
            path, cuts, free=_free_ends(number, ends), stout=max(STOUT * wire.diameter, JOIN / END_PIECES[0])
        )
        indices = _laid(nodes, joints, path=path, cuts=cuts)
        segments += list(pairwise(indices))
        owner += [number] * (len(indices) - 1)
        if len(segments) > MOST_SEGMENTS:
            raise _too_much(int(piece_of[number]), wire)
    graph = WireGraph(
        nodes=np.array(nodes),
        segments=np.array(segments, dtype=np.int64),
        radius=np.array([wires[number].diameter / 2.0 for number in owner]),
        wire=np.array(owner, dtype=np.int64),
        turn=np.zeros(len(owner)),
        address=np.full(len(owner), address, dtype=np.int64),
        length_factor=np.ones(len(owner)),
    )
    _check_clear_of(ring, graph, wires, piece_of=piece_of)
    return graph


def _too_much(piece: int, wire: SiteWire) -> DesignError:
    return DesignError(
        f"site.metal: more than {MOST_SEGMENTS} pieces with site.metal[{piece}], the {wire.kind}; make meshes wider or "
        "leave out what is far from the ring",
        key="site.metal",
    )


def _check_clear_of(
    ring: WireGraph, graph: WireGraph, wires: Sequence[SiteWire], *, piece_of: IntArray
) -> None:
    x = np.linspace(0.0, 1.0, 9)
    between = graph.points(x).reshape(-1, 1, 3) - ring.nodes
    distance = np.linalg.norm(between, axis=2).min(axis=1) - graph.radius.repeat(len(x))
    nearest = int(np.argmin(distance))
    if distance[nearest] <= ring.radius[0] + ring.lengths.max() / 2.0:
        number = int(graph.wire[nearest // len(x)])
        raise DesignError(
            f"site.metal[{piece_of[number]}]: the {wires[number].kind} touches the ring or its coupling, or "
            "nearly does; keep it further away, or raise the ring",
            key="site.metal",
        )


def _mesh_wires(mesh: SiteMesh) -> Iterable[SiteWire]:
    corner, along, across = (np.array(v) for v in (mesh.corner, mesh.along, mesh.across))
    counts = [max(1, round(float(np.linalg.norm(v)) / mesh.spacing)) for v in (along, across)]
    lines = [(along, across, counts[1], counts[0]), (across, along, counts[0], counts[1])]
    for run, step, line_count, piece_count in lines:
        for line in range(line_count + 1):
            start = corner + step * line / line_count
            for piece in range(piece_count):
                a, b = start + run * piece / piece_count, start + run * (piece + 1) / piece_count
                yield SiteWire(
                    kind="mesh",
                    start=(float(a[0]), float(a[1]), float(a[2])),
                    end=(float(b[0]), float(b[1]), float(b[2])),
                    diameter=mesh.diameter,
                    conductivity=mesh.conductivity,
                    mu_r=mesh.mu_r,
                    material=mesh.material,
                )


def _longest_segment(ends: FloatArray, ring_nodes: FloatArray, shortest_wavelength: float) -> float:
    direction = ends[1] - ends[0]
    place = np.clip((ring_nodes - ends[0]) @ direction / (direction @ direction), 0.0, 1.0)
    distance = float(np.linalg.norm(ring_nodes - ends[0] - place[:, None] * direction, axis=1).min())
    return float(min(shortest_wavelength / PER_WAVELENGTH, max(SHORTEST, NEAREST_SHARE * distance)))


def _breaks(number: int, ends: FloatArray) -> tuple[FloatArray, bool]:
    """The wire's own ends and every foreign end that lies on it, in order, and whether any does."""
    start, end = ends[number]
    direction = end - start
    length = float(np.linalg.norm(direction))
    others = np.delete(ends, number, axis=0).reshape(-1, 3)
    place = (others - start) @ direction / length**2
    off_axis = np.linalg.norm(others - start - place[:, None] * direction, axis=1)
    on_wire = (off_axis < JOIN) & (place * length > JOIN) & ((1.0 - place) * length > JOIN)
    met = np.sort(place[on_wire])
    inner = met[np.diff(met, prepend=-1.0) * length > JOIN]
    at_end = np.minimum(np.linalg.norm(others - start, axis=1), np.linalg.norm(others - end, axis=1)) < JOIN
    path = start + np.concatenate([[0.0], inner, [1.0]])[:, None] * direction
    return np.asarray(path), bool(np.any(on_wire | at_end))


def _free_ends(number: int, ends: FloatArray) -> tuple[bool, bool]:
    """Whether no other wire reaches the wire's start, and its end."""
    start, end = np.moveaxis(np.delete(ends, number, axis=0), 1, 0)
    direction = end - start
    free = []
    for point in ends[number]:
        place = np.clip(np.sum((point - start) * direction, axis=1) / np.sum(direction**2, axis=1), 0.0, 1.0)
        distance = np.linalg.norm(point - start - place[:, None] * direction, axis=1)
        free.append(bool(np.all(distance >= JOIN)))
    return free[0], free[1]


def _cuts(a: FloatArray, b: FloatArray, *, longest: float, least: int) -> FloatArray:
    """Places of cuts between two joints as fractions; a lone wire has `least` 2, so that it carries current."""
    count = max(int(np.ceil(np.linalg.norm(b - a) / longest)), least)
    return np.arange(1, count) / count


def _crowd(path: FloatArray, cuts: list[FloatArray], *, free: tuple[bool, bool], stout: float) -> None:
    """More cuts in the last piece before each free end, if it is longer than `stout` [m]."""
    closer = np.array(END_PIECES)
    lengths = np.linalg.norm(np.diff(path, axis=0), axis=1)
    first, last = np.append(cuts[0], 1.0)[0], 1.0 - np.append(0.0, cuts[-1])[-1]
    if free[0] and first * lengths[0] > stout:
        cuts[0] = np.concatenate([closer * first, cuts[0]])
    if free[1] and last * lengths[-1] > stout:
        cuts[-1] = np.concatenate([cuts[-1], 1.0 - closer[::-1] * last])


def _laid(
    nodes: list[FloatArray], joints: list[int], *, path: FloatArray, cuts: list[FloatArray]
) -> list[int]:
    """Indices of a wire's nodes, new ones appended: `joints` are shared, the cuts between them are its own."""
    indices = [_joint(nodes, joints, path[0])]
    for (a, b), fractions in zip(pairwise(path), cuts, strict=True):
        between = a + (b - a) * fractions[:, None]
        indices += range(len(nodes), len(nodes) + len(between))
        nodes.extend(between)
        indices.append(_joint(nodes, joints, b))
    return indices


def _joint(nodes: list[FloatArray], joints: list[int], point: FloatArray) -> int:
    """Index of the joint at `point`, made if there is none within `JOIN`."""
    if joints:
        distance = np.linalg.norm(np.array([nodes[index] for index in joints]) - point, axis=1)
        nearest = int(np.argmin(distance))
        if distance[nearest] < JOIN:
            return joints[nearest]
    nodes.append(point)
    joints.append(len(nodes) - 1)
    return joints[-1]
