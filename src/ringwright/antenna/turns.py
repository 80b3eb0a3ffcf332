# SPDX-License-Identifier: BSD-3-Clause
"""Several turns: what close turns add to each other's loss."""

import numpy as np

from ringwright.antenna.design import Ring
from ringwright.antenna.geometry import Address, Wires
from ringwright.physics.graph import FloatArray
from ringwright.physics.proximity import proximity_factor


def turn_crowding(ring: Ring) -> float:
    """Factor by which close turns raise the loss of their conductor, on the average over all turns.

    A strip counts as the round conductor with the same field outside; edge to edge its true excess is about half as
    large (docs/explanation/thin-wire.md). A braid's own factor comes on top.
    """
    if ring.turns == 1:
        return 1.0
    assert ring.turn_spacing is not None
    diameter = 2.0 * ring.conductor.electrical_radius
    return proximity_factor(ring.turns, spacing=ring.turn_spacing, diameter=diameter)


def lossy_lengths(ring: Ring, wires: Wires) -> FloatArray:
    """Length of every segment [m] as its internal impedance counts it: turns by their crowding, leads as they are."""
    length = wires.graph.lengths * wires.graph.length_factor
    place = wires.graph.turn
    in_turns = (wires.graph.address == Address.RING) & (place > 0.0) & (place < ring.turns)
    return np.asarray(np.where(in_turns, turn_crowding(ring) * length, length))
