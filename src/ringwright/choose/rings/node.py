# SPDX-License-Identifier: BSD-3-Clause
"""One full-wave solution of a search: a lossless ring with its coupling loop on the site, at every target's frequency.

What a candidate's metal, joints and capacitor do to it is arithmetic on the two-port (`ringwright.antenna.network`).
"""

import hashlib
from dataclasses import dataclass, replace

import numpy as np

from ringwright.antenna.design import Conductor, ConductorKind, Design
from ringwright.antenna.far_side import far_side_of
from ringwright.antenna.geometry import Address, Wires, build_wires
from ringwright.antenna.network import GAP, metal_impedance
from ringwright.antenna.solution import SolutionMemory, permittivity_of
from ringwright.antenna.turns import lossy_lengths
from ringwright.errors import DesignError
from ringwright.physics.far_field import current_elements
from ringwright.physics.graph import FloatArray
from ringwright.physics.ground_near_field import ground_near_field
from ringwright.physics.half_space.sky import field_over_earth, sky_power
from ringwright.physics.near_field import near_field
from ringwright.physics.thin_wire import PortSolution, current_overlap
from ringwright.physics.wave_kernel import ComplexArray

VERSION = 1
"""Raise it when what a node holds, or how it is found, changes: what was kept of older ones is then not used."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NodeTask:
    """`design` to solve; `is_seen` from afar and by people, too, which hardly depends on the coupling."""

    design: Design
    is_seen: bool

    @property
    def key(self) -> str:
        """A name for all that the solution depends on."""
        design = self.design
        parts = (
            VERSION,
            self.is_seen,
            [target.frequency for target in design.targets],
            max(target.high for target in design.targets) if design.site.metal else 0.0,
            (design.ring, design.coupling, design.feedline.runs_down),
            (design.site.height, design.site.turn, design.site.earth, design.site.metal),
            [person.at for person in design.site.people] if self.is_seen else [],
        )
        return hashlib.sha256(repr(parts).encode()).hexdigest()[:32]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Node:
    """A solution at f frequencies.

    `outside` (f, 2, 2) is the two-port without any loss in ring and coupling [ohm]; `ring`, `coupling` (f, 2, 2) are
    the overlaps of the ports' currents along each [m], `joints` at each place of a joint [1]; `sky` (f,) the watts into
    the sky, `metal` (f,) those in metal nearby, `fields` (f, people, 2) E [V/m] and H [A/m], all for 1 A rms in the
    gap, the feed open. Where nobody looked, the last three are empty. `refusal`: why there is no solution.
    """

    outside: ComplexArray
    ring: FloatArray
    coupling: FloatArray
    joints: FloatArray
    sky: FloatArray
    metal: FloatArray
    fields: FloatArray
    refusal: str | None = None


def bare(design: Design, *, perimeter: float, radius: float, coupling_diameter: float) -> Design:
    """A design with a ring of round conductor, whose loss does not count."""
    conductor = Conductor(kind=ConductorKind.SOLID, diameter=2.0 * radius, conductivity=58e6)
    ring = replace(design.ring, perimeter=perimeter, conductor=conductor)
    return replace(design, ring=ring, coupling=replace(design.coupling, diameter=coupling_diameter))


def solve_node(task: NodeTask) -> Node:
    """Solve one; what cannot be built is a node with a refusal."""
    design = task.design
    frequency = np.array([target.frequency for target in design.targets])
    try:
        wires = build_wires(design)
    except DesignError as exc:
        return _refused(len(frequency), len(design.site.people), str(exc))
    solution = SolutionMemory().solution(wires, frequency, design.site.earth)
    length = lossy_lengths(design.ring, wires)
    ring, coupling = (
        current_overlap(solution.current, length, np.flatnonzero(wires.graph.address == address)).real
        for address in (Address.RING, Address.COUPLING)
    )
    seen = (
        [_seen(design, wires, solution, number=number) for number in range(len(frequency))]
        if task.is_seen
        else []
    )
    return Node(
        outside=solution.impedance,
        ring=ring,
        coupling=coupling,
        joints=_at_joints(wires, solution.current),
        sky=np.array([each[0] for each in seen]),
        metal=np.array([each[1] for each in seen]),
        fields=np.array([each[2] for each in seen]),
    )


def _refused(count: int, people: int, why: str) -> Node:
    nothing = np.zeros((count, 2, 2))
    return Node(
        outside=nothing.astype(complex),
        ring=nothing,
        coupling=nothing,
        joints=nothing,
        sky=np.zeros(count),
        metal=np.zeros(count),
        fields=np.zeros((count, people, 2)),
        refusal=why,
    )


def _at_joints(wires: Wires, current: ComplexArray) -> FloatArray:
    """Sum over the joints' places of the products of the ports' currents (f, 2, 2) [1]."""
    segment = np.array([place[0] for place in wires.joints], dtype=np.int64)
    fraction = np.array([place[1] for place in wires.joints])[:, None]
    there = current[:, segment, 0] * (1.0 - fraction) + current[:, segment, 1] * fraction
    return np.asarray(np.einsum("mkp,mkq->mpq", there.conj(), there).real)


def _seen(
    design: Design, wires: Wires, solution: PortSolution, *, number: int
) -> tuple[float, float, FloatArray]:
    """Watts into the sky and into metal, and fields where people are, for 1 A in the gap at one frequency."""
    frequency = float(solution.frequency[number])
    current = np.ascontiguousarray(solution.current[number, :, :, GAP])
    return (
        _sky(design, wires, current, frequency=frequency),
        _metal(wires, solution.current[number], frequency),
        _fields(design, wires, current, frequency=frequency),
    )


def _sky(design: Design, wires: Wires, current: ComplexArray, *, frequency: float) -> float:
    earth = design.site.earth
    if earth is None:
        return far_side_of(wires.graph, current, frequency=frequency, earth=None).sky
    points, moments = current_elements(wires.graph, current)
    eps_c = permittivity_of(earth, frequency)
    field_at = field_over_earth(points, moments, frequency=frequency, eps_c=eps_c)
    return sky_power(field_at, points=points, frequency=frequency)


def _metal(wires: Wires, per_ampere: ComplexArray, frequency: float) -> float:
    per_metre = metal_impedance(wires, np.array([frequency]))
    if per_metre is None:
        return 0.0
    overlap = current_overlap(per_ampere, per_metre[0].real * wires.graph.lengths, slice(None))
    return float(overlap[GAP, GAP].real)


def _fields(design: Design, wires: Wires, current: ComplexArray, *, frequency: float) -> FloatArray:
    people = design.site.people
    if not people:
        return np.zeros((0, 2))
    places = np.array([person.at for person in people])
    electric, magnetic = near_field(wires.graph, current, frequency)(places)
    if design.site.earth is not None:
        eps_c = permittivity_of(design.site.earth, frequency)
        more = ground_near_field(wires.graph, current, frequency, eps_c=eps_c)(places)
        electric, magnetic = electric + more[0], magnetic + more[1]
    return np.stack([np.linalg.norm(electric, axis=1), np.linalg.norm(magnetic, axis=1)], axis=1)
