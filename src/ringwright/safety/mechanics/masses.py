# SPDX-License-Identifier: BSD-3-Clause
"""What everything weighs."""

import math
from dataclasses import dataclass

from ringwright.antenna.design import Conductor, ConductorKind, Design
from ringwright.antenna.geometry import Address, Wires
from ringwright.antenna.metals import metal_of

CAPACITOR_MASS = {
    "air": 0.6, "butterfly": 0.8, "split-stator": 0.8, "vacuum": 1.2, "trombone": 1.5, "coax stub": 0.3, "plate": 1.0,
}  # fmt: skip
"""[kg] by kind, for a few kilovolts; common practice, no source: weigh yours."""
MOTOR_MASS = 0.4
"""[kg] of a stepper of 42 mm with its reduction; common practice, no source."""
BRAID_WALL = 0.04
"""Of the solid wall that has a braid's metal, over its diameter; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Masses:
    """[kg]; `head` is all above the mast: ring, coupling, capacitor, box and drive. `total` is all that stands."""

    ring_per_metre: float
    ring: float
    coupling: float
    capacitor: float
    box: float
    drive: float
    head: float
    stand: float
    ballast: float
    total: float


def mass_per_metre(conductor: Conductor) -> float:
    """Of a conductor [kg/m]: density times the metal's cross-section."""
    return metal_of(conductor.material).density * metal_section(conductor)


def metal_section(conductor: Conductor) -> float:
    """Cross-section of metal [m^2]."""
    if conductor.kind is ConductorKind.STRIP:
        assert conductor.width is not None
        assert conductor.thickness is not None
        return conductor.width * conductor.thickness
    assert conductor.diameter is not None
    match conductor.kind:
        case ConductorKind.SOLID:
            return math.pi * conductor.diameter**2 / 4.0
        case ConductorKind.TUBE:
            assert conductor.wall is not None
            wall = conductor.wall
        case _:
            wall = BRAID_WALL * conductor.diameter
    return math.pi * (conductor.diameter - wall) * wall


def conductor_length(wires: Wires, address: Address) -> float:
    """Along the true curve [m], for which the graph's chords stand: all turns and leads."""
    graph = wires.graph
    own = graph.address == address
    return float((graph.lengths * graph.length_factor)[own].sum())


def find_masses(design: Design, wires: Wires) -> Masses:
    """Of a design; what it leaves open weighs what is usual."""
    building, stand = design.building, design.stand
    per_metre = mass_per_metre(design.ring.conductor)
    ring = per_metre * conductor_length(wires, Address.RING)
    of_coupling = design.coupling.conductor
    length = conductor_length(wires, Address.COUPLING)
    coupling = 0.0 if of_coupling is None else mass_per_metre(of_coupling) * length
    capacitor = building.capacitor_mass
    if capacitor is None:
        capacitor = CAPACITOR_MASS[design.capacitor.kind]
    drive = 0.0 if design.drive is None else MOTOR_MASS
    head = ring + coupling + capacitor + building.box_mass + drive
    of_stand, ballast = (0.0, 0.0) if stand is None else (stand.mass, stand.ballast)
    return Masses(
        ring_per_metre=per_metre,
        ring=ring,
        coupling=coupling,
        capacitor=capacitor,
        box=building.box_mass,
        drive=drive,
        head=head,
        stand=of_stand,
        ballast=ballast,
        total=head + of_stand + ballast,
    )
