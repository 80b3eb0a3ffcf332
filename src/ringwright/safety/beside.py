# SPDX-License-Identifier: BSD-3-Clause
"""Which piece of metal nearby a place lies beside, if any: where a distance reaches far, that is often why."""

import numpy as np

from ringwright.antenna.geometry import Address, Wires
from ringwright.physics.graph import FloatArray

BESIDE = 1.0 / 3.0
"""A place this near to metal, in parts of its distance from the ring's conductors, lies beside it: further off, the
ring's own field may as well be what reaches there. Our choice, no source."""
FEEDLINE = "feedline"


def metal_beside(wires: Wires, place: FloatArray) -> str | None:
    """The kind of the site's metal, or the feedline, that `place` (3,) [m] lies beside."""
    graph = wires.graph
    start = graph.nodes[graph.segments[:, 0]]
    along = np.clip(np.einsum("sc,sc->s", place - start, graph.tangents), 0.0, graph.lengths)
    apart = np.linalg.norm(place - start - along[:, None] * graph.tangents, axis=1)
    nearest = int(np.argmin(apart))
    if apart[nearest] > BESIDE * apart[graph.address <= Address.COUPLING].min():
        return None
    if graph.address[nearest] == Address.FEEDLINE:
        return FEEDLINE
    return wires.metal_wire(int(graph.wire[nearest])).kind
