# SPDX-License-Identifier: BSD-3-Clause
"""Galerkin solution of Maxwell's equations for thin wires, as a multiport.

Mixed potentials, rooftop currents, e^{+jwt}. Lumped parts and the wires' own resistance stay outside: one
solution gives the impedance between the ports and the current that a unit current in each port drives, and because
the impedance form is stationary, resistances enter to first order in R/X (10^-3 here, error 10^-6) as
Z + z_i <J, J>: no later change of material, joint or capacitor needs a new solution.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ringwright.errors import OutOfRangeError
from ringwright.physics.constants import C_0, EPS_0, MU_0
from ringwright.physics.graph import FloatArray, IntArray, Rooftops, WireGraph
from ringwright.physics.static_kernel import static_integrals
from ringwright.physics.wave_kernel import ComplexArray, ShapeProducts, WaveKernel


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PortSolution:
    """The wires seen from their ports, at several frequencies.

    Attributes
    ----------
    frequency : ndarray of float64, shape (f,)
        [Hz]
    impedance : ndarray of complex128, shape (f, p, p)
        Open-circuit impedance matrix; ring and coupling loop without resistance. [ohm]
    current : ndarray of complex128, shape (f, n_segments, 2, p)
        Current at the start and end of each segment, along it, for 1 A into one port, the others open. [1]
    """

    frequency: FloatArray
    impedance: ComplexArray
    current: ComplexArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ShortedPorts:
    """The same wires with every port closed: two ports in one conductor still have exact digits here.

    Attributes
    ----------
    frequency : ndarray of float64, shape (f,)
        [Hz]
    admittance : ndarray of complex128, shape (f, p, p)
        Short-circuit admittance matrix. [S]
    current : ndarray of complex128, shape (f, n_segments, 2, p)
        Current at the start and end of each segment, along it, for 1 V at one port, the others shorted. [S]
    """

    frequency: FloatArray
    admittance: ComplexArray
    current: ComplexArray

    def opened(self) -> PortSolution:
        """Per ampere into one port with the others open, instead of per volt."""
        between = np.asarray(np.linalg.inv(self.admittance), dtype=complex)
        return PortSolution(
            frequency=self.frequency, impedance=between, current=self.current @ between[:, None]
        )


class ThinWire:
    """The geometry's part of the solution; kept as long as the geometry stays.

    Parameters
    ----------
    graph : WireGraph
        The conductors. [m]
    ports : sequence of int
        Nodes at which the one conductor that passes is opened.
    """

    def __init__(self, graph: WireGraph, ports: Sequence[int]) -> None:
        self.graph = graph
        self.rooftops = Rooftops.on(graph)
        self.ports = np.array([self.rooftops.at_node(node, graph.wire) for node in ports], dtype=np.int64)
        currents, charges = ShapeProducts(graph).apply_true(static_integrals(graph))
        self._static = self.rooftops.gather(currents), self.rooftops.gather(charges)
        self._wave = WaveKernel(graph)
        empty = np.empty((0, len(self.rooftops.node), len(self.rooftops.node)))
        self._moments = empty, empty

    def solve(
        self,
        frequency: FloatArray,
        *,
        lossy: ComplexArray | None = None,
        lumped: Mapping[int, complex] | None = None,
        reflected: ComplexArray | None = None,
    ) -> PortSolution:
        """Impedance between the ports and the currents behind it; as `shorted`, seen the other way.

        Returns
        -------
        PortSolution
        """
        return self.shorted(frequency, lossy=lossy, lumped=lumped, reflected=reflected).opened()

    def shorted(
        self,
        frequency: FloatArray,
        *,
        lossy: ComplexArray | None = None,
        lumped: Mapping[int, complex] | None = None,
        reflected: ComplexArray | None = None,
    ) -> ShortedPorts:
        """Admittance between the ports and the currents behind it.

        Parameters
        ----------
        frequency : ndarray of float64, shape (f,)
            > 0. [Hz]
        lossy : ndarray of complex128, shape (f, n_segments), optional
            Internal impedance of wires whose loss is not small against their reactance. [ohm/m]
        lumped : mapping of int to complex, optional
            Impedance in series with the conductor that passes through a node. [ohm]
        reflected : ndarray of complex128, shape (f, n_functions, n_functions), optional
            What the earth adds, by `GroundReaction`; free space without it. [ohm]

        Returns
        -------
        ShortedPorts

        Raises
        ------
        OutOfRangeError
            If a frequency is not finite and > 0.
        """
        f = np.atleast_1d(np.asarray(frequency, dtype=float))
        if not np.all(np.isfinite(f) & (f > 0)):
            raise OutOfRangeError(f"frequency must be finite and > 0, got {frequency!r}")
        matrix = self._interaction(f)
        if reflected is not None:
            matrix += reflected
        if lossy is not None:
            matrix += self._internal(np.asarray(lossy))
        for node, impedance in (lumped or {}).items():
            function = self.rooftops.at_node(node, self.graph.wire)
            matrix[:, function, function] += impedance
        unit = np.zeros((len(self.rooftops.node), len(self.ports)))
        unit[self.ports, np.arange(len(self.ports))] = 1.0
        driven = np.asarray(
            np.linalg.solve(matrix, np.broadcast_to(unit, (len(f), *unit.shape))), dtype=complex
        )
        admittance = driven[:, self.ports, :]
        return ShortedPorts(
            frequency=f,
            admittance=(admittance + np.swapaxes(admittance, 1, 2)) / 2.0,
            current=self.rooftops.on_shapes(driven, len(self.graph.segments)),
        )

    def _interaction(self, frequency: FloatArray) -> ComplexArray:
        """Impedance between all functions in free space [ohm], shape (f, n, n)."""
        omega = 2.0 * np.pi * frequency[:, None, None]
        currents, charges = self._kernels(2.0 * np.pi * frequency / C_0)
        return np.asarray(
            1j * omega * MU_0 / (4.0 * np.pi) * currents + charges / (4j * np.pi * omega * EPS_0)
        )

    def _kernels(self, k: FloatArray) -> tuple[ComplexArray, ComplexArray]:
        terms = self._wave.terms_needed(float(k.max()))
        if terms == 0:
            direct = [self._wave.direct(float(each)) for each in k]
            remainder = [self.rooftops.gather(np.stack([pair[part] for pair in direct])) for part in (0, 1)]
        else:
            if terms > len(self._moments[0]):
                currents, charges = self._wave.moments(terms)
                self._moments = self.rooftops.gather(currents), self.rooftops.gather(charges)
            factors = _series_factors(k * self._wave.size, terms)
            remainder = [_weighted_sum(factors, part[:terms]) for part in self._moments]
        return remainder[0] + self._static[0], remainder[1] + self._static[1]

    def _internal(self, lossy: ComplexArray) -> ComplexArray:
        """Internal impedance of each segment overlapped with the functions [ohm], shape (f, n, n)."""
        length = self.graph.lengths * self.graph.length_factor
        mean, rise = self.rooftops.on_segments(len(length))
        out = np.zeros((len(lossy), len(mean), len(mean)), dtype=np.complex128)
        # Conductors of one kind share their overlap, whose lengths alone count.
        kinds, kind = np.unique(lossy, axis=1, return_inverse=True)
        for number, ohms in enumerate(kinds.T):
            if np.any(ohms):
                own = kind == number
                m, r, metres = mean[:, own], rise[:, own], length[own]
                # Of two currents linear along a segment, the product's mean is that of means and a twelfth of rises'.
                overlap = (m * metres) @ m.T + (r * metres / 12.0) @ r.T
                out += ohms[:, None, None] * overlap
        return out


def _series_factors(x: FloatArray, terms: int) -> ComplexArray:
    """(-jx)^m / m! for m = 1..terms, shape (f, terms)."""
    order = np.arange(1, terms + 1)
    steps = -1j * x[:, None] / order
    return np.asarray(np.cumprod(steps, axis=1))


def _weighted_sum(factors: ComplexArray, matrices: FloatArray) -> ComplexArray:
    """sum_m factors[f, m] matrices[m] without making the matrices complex."""
    flat = matrices.reshape(len(matrices), -1)
    both = np.concatenate([factors.real, factors.imag]) @ flat
    n = len(factors)
    return np.asarray((both[:n] + 1j * both[n:]).reshape(n, *matrices.shape[1:]))


def current_overlap(current: ComplexArray, length: FloatArray, chosen: IntArray | slice) -> ComplexArray:
    r"""Integral of J_p^* J_q over chosen segments: times a resistance per metre, the power matrix of the ports.

    Parameters
    ----------
    current : ndarray of complex128, shape (..., n_segments, 2, p)
        As in `PortSolution`. [1]
    length : ndarray of float64, shape (n_segments,)
        True length of each segment. [m]
    chosen : index into the segments
        Those to sum over. [1]

    Returns
    -------
    ndarray of complex128, shape (..., p, p)
        Hermitian. [m]

    Notes
    -----
    Exact for currents linear along each segment.
    """
    return _integrated(current.conj(), current, length=length, chosen=chosen)


def current_product(current: ComplexArray, length: FloatArray, chosen: IntArray | slice) -> ComplexArray:
    r"""Integral of J_p J_q over chosen segments: times an impedance per metre, what it adds between the ports.

    Parameters
    ----------
    current : ndarray of complex128, shape (..., n_segments, 2, p)
        As in `PortSolution`. [1]
    length : ndarray of float64, shape (n_segments,)
        True length of each segment. [m]
    chosen : index into the segments
        Those to sum over. [1]

    Returns
    -------
    ndarray of complex128, shape (..., p, p)
        Symmetric; the same as `current_overlap` where all currents are in phase. [m]

    Notes
    -----
    First order in the impedance, by reciprocity; exact for currents linear along each segment.
    """
    return _integrated(current, current, length=length, chosen=chosen)


def _integrated(
    left: ComplexArray, right: ComplexArray, *, length: FloatArray, chosen: IntArray | slice
) -> ComplexArray:
    h = length[chosen, None] / 3.0
    a, b = right[..., chosen, 0, :], right[..., chosen, 1, :]
    to_a, to_b = (np.swapaxes(left[..., chosen, end, :] * h, -1, -2) for end in (0, 1))
    return np.asarray(to_a @ (a + b / 2.0) + to_b @ (b + a / 2.0))
