# SPDX-License-Identifier: BSD-3-Clause
"""Wires as a graph: nodes joined by straight segments, and the rooftop currents that live on it."""

from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from ringwright.errors import OutOfRangeError

__all__ = ["Rooftops", "WireGraph", "chain"]  # what is meant for outside; the rest serves its neighbours

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
Number = TypeVar("Number", np.float64, np.complex128)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WireGraph:
    """Thin round conductors as straight segments between shared nodes.

    Attributes
    ----------
    nodes : ndarray of float64, shape (n_nodes, 3)
        Places on the conductors' axes. [m]
    segments : ndarray of int64, shape (n_segments, 2)
        Start and end node of each segment.
    radius : ndarray of float64, shape (n_segments,)
        Conductor radius. [m]
    wire : ndarray of int64, shape (n_segments,)
        Number of the conductor. Two segments see each other's tube only on the same conductor.
    turn : ndarray of float64, shape (n_segments,)
        Place along a coil, in turns; 0 where there is no coil. Segments further apart than half a turn
        see each other as filaments, as separate conductors do.
    address : ndarray of int64, shape (n_segments,)
        Tag by which watts are summed.
    length_factor : ndarray of float64, shape (n_segments,)
        Length of the true conductor over the length of the segment that stands for it; scales its loss.
    """

    nodes: FloatArray
    segments: IntArray
    radius: FloatArray
    wire: IntArray
    turn: FloatArray
    address: IntArray
    length_factor: FloatArray

    def __post_init__(self) -> None:
        lengths = self.lengths
        if not np.all(np.isfinite(lengths) & (lengths > 0)):
            raise OutOfRangeError(f"segments must have a length > 0, got {lengths.min():.3g} m")
        if not np.all(np.isfinite(self.radius) & (self.radius > 0)):
            raise OutOfRangeError("conductor radii must be finite and > 0")

    @property
    def vectors(self) -> FloatArray:
        """From start to end of each segment [m], shape (n_segments, 3)."""
        return np.asarray(self.nodes[self.segments[:, 1]] - self.nodes[self.segments[:, 0]])

    @property
    def lengths(self) -> FloatArray:
        """Length of each segment [m]."""
        return np.asarray(np.linalg.norm(self.vectors, axis=1))

    @property
    def tangents(self) -> FloatArray:
        """Unit vector along each segment, shape (n_segments, 3)."""
        return np.asarray(self.vectors / self.lengths[:, None])

    @property
    def centres(self) -> FloatArray:
        """Middle of each segment [m], shape (n_segments, 3)."""
        return np.asarray(self.nodes[self.segments].mean(axis=1))

    def points(self, fractions: FloatArray) -> FloatArray:
        """Places at `fractions` of each segment [m], shape (n_segments, n_fractions, 3)."""
        start = self.nodes[self.segments[:, 0]]
        return np.asarray(start[:, None, :] + fractions[None, :, None] * self.vectors[:, None, :])


def join(graphs: list[WireGraph]) -> WireGraph:
    """Put separate conductors side by side in one graph; wire numbers are made distinct."""
    node_offsets = np.cumsum([0] + [len(g.nodes) for g in graphs])
    wire_offsets = np.cumsum([0] + [int(g.wire.max()) + 1 for g in graphs])
    return WireGraph(
        nodes=np.concatenate([g.nodes for g in graphs]),
        segments=np.concatenate([g.segments + o for g, o in zip(graphs, node_offsets, strict=False)]),
        radius=np.concatenate([g.radius for g in graphs]),
        wire=np.concatenate([g.wire + o for g, o in zip(graphs, wire_offsets, strict=False)]),
        turn=np.concatenate([g.turn for g in graphs]),
        address=np.concatenate([g.address for g in graphs]),
        length_factor=np.concatenate([g.length_factor for g in graphs]),
    )


def hang(chain: WireGraph, *, below: WireGraph, node: int) -> WireGraph:
    """`below` with an open chain joined by its first node to one of its nodes; wire numbers are made distinct."""
    both = join([below, chain])
    segments = both.segments.copy()
    segments[segments == len(below.nodes)] = node
    return replace(both, segments=segments)


def span(
    places: FloatArray, *, beside: WireGraph, ends: tuple[int, int], radius: float, address: int
) -> WireGraph:
    """`beside` with another conductor through `places` (n, 3) [m], joined to its nodes `ends` at either end."""
    first, last = ends
    own = chain(
        np.concatenate([beside.nodes[first : first + 1], places, beside.nodes[last : last + 1]]),
        radius=radius,
        closed=False,
        address=address,
    )
    offset = len(beside.nodes)
    own_nodes = np.concatenate([[first], offset + np.arange(len(places)), [last]])
    both = join([beside, own])
    segments = np.concatenate([beside.segments, np.stack([own_nodes[:-1], own_nodes[1:]], axis=1)])
    return replace(both, nodes=np.concatenate([beside.nodes, places]), segments=segments)


def chain(
    nodes: FloatArray,
    *,
    radius: float,
    closed: bool,
    address: int = 0,
    length_factor: float = 1.0,
    turn: FloatArray | None = None,
) -> WireGraph:
    """One conductor through `nodes` in order, closed back to the first node or open.

    Parameters
    ----------
    nodes : ndarray of float64, shape (n, 3)
        Corners. [m]
    radius : float
        Conductor radius. [m]
    closed : bool
        Whether the last node is joined to the first.
    address : int
        Tag of all its segments. [1]
    length_factor : float
        True length over polygon length. [1]
    turn : ndarray of float64, shape (n_segments,), optional
        Place along a coil. [turns]

    Returns
    -------
    WireGraph
        Segments follow the order of the nodes.

    Notes
    -----
    At the closing node of a ring the current counts along the conductor, as at every other node.
    """
    n = len(nodes)
    start = np.arange(n if closed else n - 1)
    segments = np.stack([start, (start + 1) % n], axis=1)
    count = len(segments)
    return WireGraph(
        nodes=np.asarray(nodes, dtype=float),
        segments=segments,
        radius=np.full(count, radius),
        wire=np.zeros(count, dtype=np.int64),
        turn=np.zeros(count) if turn is None else turn,
        address=np.full(count, address, dtype=np.int64),
        length_factor=np.full(count, length_factor),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rooftops:
    """Current functions: each rises along one segment end to 1 at its node and falls along another.

    A segment carries two shapes, 1 - s/h (index 2 i, its start) and s/h (index 2 i + 1, its end). A function is
    `sign_in` times shape `shape_in` (current that arrives at the node) plus `sign_out` times `shape_out`.

    Attributes
    ----------
    node, shape_in, shape_out : ndarray of int64, shape (n_functions,)
    sign_in, sign_out : ndarray of float64, shape (n_functions,)
    """

    node: IntArray
    shape_in: IntArray
    shape_out: IntArray
    sign_in: FloatArray
    sign_out: FloatArray

    @classmethod
    def on(cls, graph: WireGraph) -> "Rooftops":
        """All functions of a graph: n - 1 at a node where n segments meet, none at a free end."""
        order = np.argsort(graph.segments.ravel(), kind="stable")
        ends_at: dict[int, list[int]] = {}
        for shape in order:
            ends_at.setdefault(int(graph.segments.ravel()[shape]), []).append(int(shape))
        rows: list[tuple[int, int, int]] = []
        for at, shapes in ends_at.items():
            # A segment that ends here comes first, so that the function points along the conductor.
            first, *others = sorted(shapes, key=lambda shape: (shape % 2 == 0, shape))
            rows += [(at, first, other) for other in others]
        table = np.array(rows, dtype=np.int64).reshape(-1, 3)
        node, shape_in, shape_out = table.T
        return cls(
            node=node,
            shape_in=shape_in,
            shape_out=shape_out,
            sign_in=np.where(shape_in % 2 == 1, 1.0, -1.0),
            sign_out=np.where(shape_out % 2 == 0, 1.0, -1.0),
        )

    def at_node(self, node: int, wire: IntArray) -> int:
        """Index of the function that follows one conductor through a node; `wire` numbers each segment's conductor.

        A port there opens that conductor on the side where its current leaves; what else is joined at the node stays
        with the side where it arrives.
        """
        along = wire[self.shape_in // 2] == wire[self.shape_out // 2]
        found = np.flatnonzero((self.node == node) & along)
        if len(found) != 1:
            raise OutOfRangeError(f"{len(found)} conductors pass through node {node}; a port needs exactly 1")
        return int(found[0])

    def gather(self, matrix: npt.NDArray[Number]) -> npt.NDArray[Number]:
        """From a (..., 2 n_segments, 2 n_segments) matrix over shapes to one over functions."""
        columns = self.sign_in * matrix[..., self.shape_in] + self.sign_out * matrix[..., self.shape_out]
        return np.asarray(
            self.sign_in[:, None] * columns[..., self.shape_in, :]
            + self.sign_out[:, None] * columns[..., self.shape_out, :]
        )

    def on_segments(self, n_segments: int) -> tuple[FloatArray, FloatArray]:
        """Mean current and charge of each function on each segment, both (n_functions, n_segments) [1].

        Charge counts the rise of the current from a segment's start to its end.
        """
        mean = np.zeros((len(self.node), n_segments))
        rise = np.zeros_like(mean)
        functions = np.arange(len(self.node))
        for shape, sign in ((self.shape_in, self.sign_in), (self.shape_out, self.sign_out)):
            mean[functions, shape // 2] += sign / 2.0
            rise[functions, shape // 2] += np.where(shape % 2 == 1, sign, -sign)
        return mean, rise

    def on_shapes(self, currents: npt.NDArray[np.complex128], n_segments: int) -> npt.NDArray[np.complex128]:
        """Currents at the start and end of each segment, along its direction.

        From function coefficients (..., n_functions, n_ports) to (..., n_segments, 2, n_ports). [A]
        """
        shape = (*currents.shape[:-2], 2 * n_segments, currents.shape[-1])
        out = np.zeros(shape, dtype=np.complex128)
        rows = np.moveaxis(out, -2, 0)
        values = np.moveaxis(currents, -2, 0)
        trailing = (slice(None),) + (None,) * (values.ndim - 1)
        np.add.at(rows, self.shape_in, self.sign_in[trailing] * values)
        np.add.at(rows, self.shape_out, self.sign_out[trailing] * values)
        return out.reshape(*currents.shape[:-2], n_segments, 2, currents.shape[-1])
