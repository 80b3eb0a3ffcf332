# SPDX-License-Identifier: BSD-3-Clause
"""The ring as a two-port, feed and gap, that knows where its losses sit.

Everything the capacitor, the joints or a material change does is arithmetic on this network. It is solved at a few
frequencies across a band and interpolated between them; resistance is never interpolated across bands.
"""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.design import Conductor, ConductorKind, Design
from ringwright.antenna.geometry import OWN_WIRES, Address, Wires
from ringwright.antenna.turns import lossy_lengths
from ringwright.physics.conductors import conductivity_at, solid_wire_impedance, tube_impedance
from ringwright.physics.graph import FloatArray
from ringwright.physics.strip import strip_impedance
from ringwright.physics.thin_wire import PortSolution, current_overlap
from ringwright.physics.wave_kernel import ComplexArray

FEED, GAP = 0, 1
NODES_PER_BAND = 5
"""Chebyshev frequencies. Across 10 m and its margins they give Q of a 3 m ring to 4e-5 in the middle and 5e-4 at the
edges, on lower bands and smaller rings to 1e-5."""
NODES_OF_LONG_RING, LONG_RING = 12, 0.3
"""From this many wavelengths of wire on, where the ring's own resonance bends everything."""


LOWEST_SOLVED, HIGHEST_SOLVED = 1.77e6, 54.35e6
"""[Hz]: a little beyond 1.8 to 54 MHz, as far as the half-space tables are verified."""


def chebyshev_nodes(low: float, high: float, count: int = NODES_PER_BAND) -> FloatArray:
    """Chebyshev points of the second kind, from `low` to `high`."""
    angle = np.pi * np.arange(count) / (count - 1)
    return np.asarray((low + high) / 2.0 - (high - low) / 2.0 * np.cos(angle))


def internal_impedance(conductor: Conductor, frequency: FloatArray) -> ComplexArray:
    """Impedance per metre of a conductor by its kind [ohm/m], same shape as `frequency` [Hz]."""
    sigma = conductivity_at(
        conductor.temperature_c,
        conductivity=conductor.conductivity,
        temperature_coefficient=conductor.temperature_coefficient,
    )
    match conductor.kind:
        case ConductorKind.TUBE:
            assert conductor.diameter is not None
            assert conductor.wall is not None
            value = tube_impedance(
                frequency,
                radius=conductor.diameter / 2.0,
                wall=conductor.wall,
                conductivity=sigma,
                mu_r=conductor.mu_r,
            )
        case ConductorKind.STRIP:
            assert conductor.width is not None
            assert conductor.thickness is not None
            value = strip_impedance(
                frequency,
                width=conductor.width,
                thickness=conductor.thickness,
                conductivity=sigma,
                mu_r=conductor.mu_r,
            )
        case ConductorKind.SOLID | ConductorKind.BRAID:
            assert conductor.diameter is not None
            value = solid_wire_impedance(
                frequency, radius=conductor.diameter / 2.0, conductivity=sigma, mu_r=conductor.mu_r
            )
    return np.asarray(value.real * conductor.roughness_factor + 1j * value.imag)


def metal_impedance(wires: Wires, frequency: FloatArray) -> ComplexArray | None:
    """Internal impedance [ohm/m] of site metal, (f, n_segments); ring and coupling loop have theirs outside."""
    if not wires.metal:
        return None
    graph = wires.graph
    out = np.zeros((len(frequency), len(graph.segments)), dtype=np.complex128)
    # A mesh is many wires of one kind.
    kinds = [(piece.diameter / 2.0, piece.conductivity, piece.mu_r) for piece in wires.metal]
    per_kind = {
        kind: solid_wire_impedance(frequency, radius=kind[0], conductivity=kind[1], mu_r=kind[2])
        for kind in dict.fromkeys(kinds)
    }
    per_wire = np.stack([per_kind[kind] for kind in kinds], axis=1)
    foreign = graph.wire >= OWN_WIRES
    out[:, foreign] = per_wire[:, graph.wire[foreign] - OWN_WIRES]
    return out


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RingNetwork:
    """The two-port of one band.

    Attributes
    ----------
    nodes : ndarray of float64, shape (m,)
        Frequencies at which it was solved. [Hz]
    parts_at_nodes : dict of str to ndarray of complex128, shape (m, 2, 2)
        Impedance of each address, by name; `radiation` is what leaves the wires. [ohm]
    total_at_nodes : ndarray of complex128, shape (m, 2, 2)
        Their sum: the open-circuit impedance matrix without the capacitor. [ohm]
    """

    nodes: FloatArray
    parts_at_nodes: dict[str, ComplexArray]
    total_at_nodes: ComplexArray

    @classmethod
    def of(cls, design: Design, wires: Wires, solution: PortSolution) -> "RingNetwork":
        """Two-port of a design from a port solution over one band.

        Conductors and joints enter to first order in R/X, which leaves an error of its square.
        """
        f, current = solution.frequency, solution.current
        length = lossy_lengths(design.ring, wires)

        def along(conductor: Conductor, address: Address) -> ComplexArray:
            overlap = current_overlap(current, length, np.flatnonzero(wires.graph.address == address))
            return np.asarray(internal_impedance(conductor, f)[:, None, None] * overlap.real)

        joints = _joint_overlap(wires, current, design.ring.joints)
        parts = {
            "radiation": solution.impedance,
            "ring": along(design.ring.conductor, Address.RING),
            "coupling": along(design.coupling.conductor, Address.COUPLING),
            "joints": np.asarray(design.ring.joint_resistance * joints, dtype=np.complex128),
        }
        return cls(nodes=f, parts_at_nodes=parts, total_at_nodes=np.asarray(sum(parts.values())))

    def parts(self, frequency: float) -> dict[str, ComplexArray]:
        """Impedance (2, 2) [ohm] of each address at one frequency [Hz]; they sum to the network's."""
        weights = barycentric(self.nodes, np.array([frequency]))[0]
        return {name: np.tensordot(weights, part, axes=1) for name, part in self.parts_at_nodes.items()}

    def impedance(self, frequency: FloatArray) -> ComplexArray:
        """Open-circuit impedance matrix without the capacitor [ohm], shape (f, 2, 2)."""
        weights = barycentric(self.nodes, np.atleast_1d(np.asarray(frequency, dtype=float)))
        return np.asarray((weights @ self.total_at_nodes.reshape(len(self.nodes), 4)).reshape(-1, 2, 2))


def _joint_overlap(wires: Wires, current: ComplexArray, joints: int) -> FloatArray:
    """Sum over all joints of J_p J_q [1], shape (m, 2, 2)."""
    if not wires.joints:
        return np.zeros((len(current), 2, 2))
    segment = np.array([place[0] for place in wires.joints])
    fraction = np.array([place[1] for place in wires.joints])[:, None]
    there = current[:, segment, 0] * (1.0 - fraction) + current[:, segment, 1] * fraction
    return np.asarray(np.einsum("mkp,mkq->mpq", there.conj(), there).real * (joints / len(segment)))


def barycentric(nodes: FloatArray, x: FloatArray) -> FloatArray:
    """Weights (len(x), m) of the interpolating polynomial through Chebyshev points of the second kind [1].

    References
    ----------
    .. [1] J.-P. Berrut and L. N. Trefethen, "Barycentric Lagrange interpolation," SIAM Rev. 46(3), 2004, sec. 5.
    """
    signs = np.where(np.arange(len(nodes)) % 2 == 0, 1.0, -1.0)
    signs[[0, -1]] /= 2.0
    difference = x[:, None] - nodes
    exact = difference == 0.0
    terms = signs / np.where(exact, 1.0, difference)
    weights = terms / terms.sum(axis=1, keepdims=True)
    on_node = exact.any(axis=1)
    weights[on_node] = exact[on_node]
    return np.asarray(weights)
