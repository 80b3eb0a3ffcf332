# SPDX-License-Identifier: BSD-3-Clause
"""What the earth adds to the interaction of wires above it."""

from collections.abc import Callable

import numpy as np
from scipy.sparse import coo_array, csr_array
from scipy.sparse.csgraph import connected_components

from ringwright.physics.constants import EPS_0, MU_0
from ringwright.physics.graph import FloatArray, IntArray, Rooftops, WireGraph
from ringwright.physics.half_space import GroundPart
from ringwright.physics.static_kernel import gauss_unit
from ringwright.physics.wave_kernel import ComplexArray

__all__ = ["GroundReaction"]

Ground = Callable[[FloatArray, FloatArray], GroundPart]
"""Prepares the ground part for pairs at horizontal distances and sums of heights [m]."""

SHORT = 0.125
"""Segments shorter than this share of their height are one point each to their image."""


class GroundReaction:
    """Impedance through the earth between the rooftops of a graph.

    One point stands for each segment of a conductor whose segments are all short against their height, two for those
    of any other. Within a conductor the rule is one: where it changed, it would leave a charge.

    Parameters
    ----------
    graph : WireGraph
        Conductors above the earth at z = 0. [m]
    rooftops : Rooftops
        Its current functions.
    prepare : callable
        From pairs (rho, h) to their ground part, as `GroundOperator.build`.
    """

    def __init__(self, graph: WireGraph, rooftops: Rooftops, prepare: Ground) -> None:
        segment, fraction, weight = _elements(graph)
        self._segment, self._fraction, self._weight = segment, fraction, weight
        points = graph.nodes[graph.segments[segment, 0]] + fraction[:, None] * graph.vectors[segment]
        moments = graph.vectors[segment]
        mean, rise = (table[:, segment] for table in rooftops.on_segments(len(graph.segments)))
        # Sparse: a point belongs to the two functions of its segment, or a few at a joint.
        self._current = csr_array((mean + (fraction - 0.5) * rise) * weight)
        self._charge = csr_array(rise * weight)
        self._count = len(points)
        self._upper = np.triu_indices(len(points))
        first, second = (points[index] for index in self._upper)
        offset = first[:, :2] - second[:, :2]
        self._part = prepare(np.hypot(offset[:, 0], offset[:, 1]), first[:, 2] + second[:, 2])
        m, n = (moments[index] for index in self._upper)
        self._horizontal = np.sum(m[:, :2] * n[:, :2], axis=1)
        self._vertical = m[:, 2] * n[:, 2]
        self._crossed = np.sum(offset * (m[:, :2] * n[:, 2:] - m[:, 2:] * n[:, :2]), axis=1)

    def reflected(self, frequency: float, eps_c: complex) -> ComplexArray:
        """Impedance between functions through the earth [ohm], shape (n_functions, n_functions).

        `eps_c` is the earth's complex relative permittivity at `frequency` [Hz].
        """
        kernels = self._part.evaluate(frequency, eps_c)
        currents = kernels.k_xx * self._horizontal + kernels.k_zz * self._vertical + kernels.w * self._crossed
        omega = 2.0 * np.pi * frequency
        return np.asarray(
            1j * omega * MU_0 * self._between(self._current, currents)
            + self._between(self._charge, kernels.k_phi) / (1j * omega * EPS_0)
        )

    def between(self, current: ComplexArray, frequency: float, *, eps_c: ComplexArray) -> ComplexArray:
        """Impedance between given currents through each of many earths [ohm], shape (n, p, p).

        `current` (n_segments, 2, p) as of a `PortSolution`, `eps_c` (n,) at `frequency` [Hz]. The impedance form is
        stationary: with the currents of one earth it is that of another to the square of what they differ by.
        """
        first, second = np.triu_indices(current.shape[2])
        begin, end = current[self._segment, 0], current[self._segment, 1]
        carried = (begin + (end - begin) * self._fraction[:, None]) * self._weight[:, None]
        let_go = (end - begin) * self._weight[:, None]
        flows = self._products(carried, first, second)
        omega = 2.0 * np.pi * frequency
        charges = self._products(let_go, first, second) / (1j * omega * EPS_0)
        geometry = np.stack([self._horizontal, self._vertical, self._crossed], axis=1)
        by_flows = 1j * omega * MU_0 * geometry[:, :, None] * flows[:, None, :]
        found = self._part.summed(frequency, eps_c, np.concatenate([charges[:, None, :], by_flows], axis=1))
        out = np.empty((len(eps_c), current.shape[2], current.shape[2]), dtype=np.complex128)
        out[:, first, second] = out[:, second, first] = found
        return out

    def _products(self, x: ComplexArray, first: IntArray, second: IntArray) -> ComplexArray:
        """x_p x_q of both ways round each pair of points, (n_pairs, n); a point with itself counts once."""
        i, j = self._upper
        once = np.where(i == j, 0.5, 1.0)[:, None]
        return np.asarray((x[i][:, first] * x[j][:, second] + x[j][:, first] * x[i][:, second]) * once)

    def _between(self, functions: csr_array, upper: ComplexArray) -> ComplexArray:
        """From a symmetric kernel between points, by its upper triangle, to one between functions."""
        square = np.empty((self._count, self._count), dtype=np.complex128)
        square[self._upper] = upper
        square.T[self._upper] = upper
        return np.asarray(functions @ np.ascontiguousarray((functions @ square).T))


def _elements(graph: WireGraph) -> tuple[IntArray, FloatArray, FloatArray]:
    """Segment, place along it and weight of every point that stands for a segment, Gauss's where there are two."""
    conductor = _conductors(graph)
    is_long = np.isin(conductor, conductor[graph.lengths > SHORT * graph.centres[:, 2]])
    one, two = np.flatnonzero(~is_long), np.flatnonzero(is_long).repeat(2)
    places, weights = (np.tile(each, len(two) // 2) for each in gauss_unit(2))
    return (
        np.concatenate([one, two]),
        np.concatenate([np.full(len(one), 0.5), places]),
        np.concatenate([np.ones(len(one)), weights]),
    )


def _conductors(graph: WireGraph) -> IntArray:
    """Number of the joined conductor that each segment belongs to."""
    start, end = graph.segments.T
    joined = coo_array((np.ones(len(start)), (start, end)), shape=(len(graph.nodes),) * 2)
    return np.asarray(connected_components(joined, directed=False)[1][start], dtype=np.int64)
