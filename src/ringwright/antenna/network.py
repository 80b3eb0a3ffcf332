# SPDX-License-Identifier: BSD-3-Clause
"""The ring as a two-port, feed and gap, that knows where its losses sit.

Everything the capacitor, the joints or a material change does is arithmetic on this network. It is solved at a few
frequencies across a band and interpolated between them; resistance is never interpolated across bands.
"""

from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np

from ringwright.antenna.coupling_core import core_share
from ringwright.antenna.design import Conductor, ConductorKind, Design
from ringwright.antenna.geometry import Address, Wires
from ringwright.antenna.turns import lossy_lengths, turn_reactance
from ringwright.physics.conductors import conductivity_at, solid_wire_impedance, tube_impedance
from ringwright.physics.graph import FloatArray
from ringwright.physics.parallel_wires import image_inductance
from ringwright.physics.strip import strip_impedance
from ringwright.physics.thin_wire import PortSolution, current_overlap, current_product
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
    """Internal impedance [ohm/m] of site metal, (f, n_segments); ring and coupling have theirs outside."""
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
    foreign = graph.wire >= wires.own
    out[:, foreign] = per_wire[:, graph.wire[foreign] - wires.own]
    return out


def solved_impedance(wires: Wires, frequency: FloatArray) -> ComplexArray | None:
    """What the solution itself must know per metre of each segment [ohm/m], (f, n_segments), None where nothing.

    That is site metal, and what a tapped coupling's arm and the ring beside it keep out of each other's tubes.
    """
    metal = metal_impedance(wires, frequency)
    if wires.beside is None:
        return metal
    graph, apart = wires.graph, wires.beside.apart
    ring = np.array(wires.beside.ring)
    arm = np.flatnonzero(graph.address == Address.COUPLING)[1:-1]  # the first and the last cross to the ring
    inductance = np.zeros(len(graph.segments))
    inductance[arm] = image_inductance(graph.radius[ring[0]], apart)
    inductance[ring] = image_inductance(graph.radius[arm[0]], apart)
    images = np.asarray(2j * np.pi * frequency[:, None] * inductance)
    return images if metal is None else np.asarray(metal + images)


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
    power_at_nodes : dict of str to ndarray of complex128, shape (m, 2, 2)
        Hermitian form in the ports' currents of the watts that stay at each address, by name. [ohm]
    rests_shorted : bool
        Whether the ring is left alone by closing the feed, as a transformer's primary, instead of opening it.
    """

    nodes: FloatArray
    parts_at_nodes: dict[str, ComplexArray]
    total_at_nodes: ComplexArray
    power_at_nodes: dict[str, ComplexArray] = field(default_factory=dict)
    rests_shorted: bool = False

    @classmethod
    def of(cls, design: Design, wires: Wires, solution: PortSolution) -> "RingNetwork":
        """Two-port of a design from a port solution over one band.

        Conductors and joints enter to first order in R/X, which leaves an error of its square.
        """
        losses = _losses(design, wires, solution)
        parts = {name: np.asarray(loss.impedance * loss.product) for name, loss in losses.items()}
        power = {name: np.asarray(loss.impedance.real * loss.overlap) for name, loss in losses.items()}
        outside = solution.impedance + turn_reactance(design.ring, wires, solution)
        total = np.asarray(sum(parts.values(), start=outside))
        if wires.core is not None:
            core = core_share(wires.core, solution.frequency, total[:, FEED])
            parts["coupling"], power["coupling"] = core.impedance, core.power
        parts["radiation"] = outside - parts["coupling"] if wires.core else outside
        return cls(
            nodes=solution.frequency,
            parts_at_nodes=parts,
            total_at_nodes=total,
            power_at_nodes=power,
            rests_shorted=wires.core is not None,
        )

    def parts(self, frequency: float) -> dict[str, ComplexArray]:
        """Impedance (2, 2) [ohm] of each address at one frequency [Hz]; they sum to the network's."""
        weights = barycentric(self.nodes, np.array([frequency]))[0]
        return {name: np.tensordot(weights, part, axes=1) for name, part in self.parts_at_nodes.items()}

    def power(self, frequency: float) -> dict[str, ComplexArray]:
        """Hermitian form (2, 2) [ohm] of the watts that stay at each address at one frequency [Hz]."""
        weights = barycentric(self.nodes, np.array([frequency]))[0]
        return {name: np.tensordot(weights, form, axes=1) for name, form in self.power_at_nodes.items()}

    def gap_impedance(self, frequency: FloatArray) -> ComplexArray:
        """At the gap without the capacitor, the coupling left to itself [ohm]."""
        z = self.impedance(frequency)
        open_feed = z[:, GAP, GAP]
        return open_feed - z[:, FEED, GAP] ** 2 / z[:, FEED, FEED] if self.rests_shorted else open_feed

    def impedance(self, frequency: FloatArray) -> ComplexArray:
        """Open-circuit impedance matrix without the capacitor [ohm], shape (f, 2, 2)."""
        weights = barycentric(self.nodes, np.atleast_1d(np.asarray(frequency, dtype=float)))
        return np.asarray((weights @ self.total_at_nodes.reshape(len(self.nodes), 4)).reshape(-1, 2, 2))


class _Loss(NamedTuple):
    """An impedance [ohm/m], or [ohm], and the sums of J_p J_q and of J_p^* J_q [m], or [1], it stands before."""

    impedance: ComplexArray
    product: ComplexArray
    overlap: ComplexArray


def _losses(design: Design, wires: Wires, solution: PortSolution) -> dict[str, _Loss]:
    """Ring, coupling and joints, by name."""
    current, length = solution.current, lossy_lengths(design.ring, wires)
    at_joints = _at_joints(wires, current)
    each_joint = design.ring.joint_resistance * design.ring.joints / max(len(wires.joints), 1)
    found = {
        "joints": _Loss(
            np.array(each_joint, dtype=np.complex128),
            _summed(at_joints, at_joints),
            _summed(at_joints.conj(), at_joints),
        )
    }
    for address, conductor in (
        (Address.RING, design.ring.conductor),
        (Address.COUPLING, design.coupling.conductor),
    ):
        if conductor is not None:
            chosen = np.flatnonzero(wires.graph.address == address)
            found[address.name.lower()] = _Loss(
                internal_impedance(conductor, solution.frequency)[:, None, None],
                current_product(current, length, chosen),
                current_overlap(current, length, chosen),
            )
    if wires.core is not None:
        return found
    # All currents are in phase but for what they radiate; one real form for both keeps the books closed.
    in_phase = {name: loss.overlap.real.astype(np.complex128) for name, loss in found.items()}
    return {
        name: loss._replace(product=in_phase[name], overlap=in_phase[name]) for name, loss in found.items()
    }


def _summed(left: ComplexArray, right: ComplexArray) -> ComplexArray:
    return np.asarray(np.einsum("mkp,mkq->mpq", left, right))


def _at_joints(wires: Wires, current: ComplexArray) -> ComplexArray:
    """Current of each port at each joint [1], shape (m, joints, 2)."""
    segment = np.array([place[0] for place in wires.joints], dtype=np.int64)
    fraction = np.array([place[1] for place in wires.joints])[:, None]
    return np.asarray(current[:, segment, 0] * (1.0 - fraction) + current[:, segment, 1] * fraction)


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
