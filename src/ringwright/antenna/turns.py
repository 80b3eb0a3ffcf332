# SPDX-License-Identifier: BSD-3-Clause
"""Several turns: what close turns add to each other's loss, and take off their inductance."""

import numpy as np
from numpy.typing import NDArray

from ringwright.antenna.design import Ring
from ringwright.antenna.geometry import Address, Wires
from ringwright.physics.graph import FloatArray
from ringwright.physics.proximity import proximity_factor, proximity_inductance
from ringwright.physics.thin_wire import PortSolution, current_overlap
from ringwright.physics.wave_kernel import ComplexArray


def turn_crowding(ring: Ring) -> float:
    """Factor by which close turns raise the loss of their conductor, on the average over all turns.

    A strip counts as the round conductor with the same field outside; edge to edge its true excess is about half as
    large (docs/explanation/thin-wire.md). A braid's own factor comes on top.
    """
    if ring.turns == 1:
        return 1.0
    spacing, diameter = _row_of_turns(ring)
    return proximity_factor(ring.turns, spacing=spacing, diameter=diameter)


def lossy_lengths(ring: Ring, wires: Wires) -> FloatArray:
    """Length of every segment [m] as its internal impedance counts it: turns by their crowding, leads as they are."""
    length = wires.graph.lengths * wires.graph.length_factor
    return np.asarray(np.where(_in_turns(ring, wires), turn_crowding(ring) * length, length))


def turn_reactance(ring: Ring, wires: Wires, solution: PortSolution) -> ComplexArray:
    """What crowding adds to the impedance between the ports outside the metal [ohm], (f, 2, 2), without watts.

    The solver's wires carry even currents; close ones that crowd to the outer sides have less inductance. To first
    order, which a transformer's currents, out of phase by its core's loss, do not allow: it is left out there.
    """
    if ring.turns == 1 or wires.core is not None:
        return np.zeros_like(solution.impedance)
    spacing, diameter = _row_of_turns(ring)
    row = proximity_inductance(ring.turns, spacing=spacing, diameter=diameter)
    length = wires.graph.lengths * wires.graph.length_factor
    overlap = current_overlap(solution.current, length, np.flatnonzero(_in_turns(ring, wires))).real
    return np.asarray(2j * np.pi * solution.frequency[:, None, None] * (row / ring.turns) * overlap)


def _row_of_turns(ring: Ring) -> tuple[float, float]:
    """Between the axes of neighbouring turns, and diameter of the round conductor that each counts as [m]."""
    assert ring.turn_spacing is not None
    return ring.turn_spacing, 2.0 * ring.conductor.electrical_radius


def _in_turns(ring: Ring, wires: Wires) -> NDArray[np.bool_]:
    """Which segments are of turns: not of a single one, and not of leads."""
    place = wires.graph.turn
    return np.asarray((wires.graph.address == Address.RING) & (place > 0.0) & (place < ring.turns))
