# SPDX-License-Identifier: BSD-3-Clause
"""A ring that is an inductance and nothing else, tuned: what closed forms of a resonant circuit can be held against."""

import numpy as np

from ringwright.antenna.design import Capacitor
from ringwright.antenna.network import RingNetwork, chebyshev_nodes
from ringwright.antenna.tuning import TunedRing

INDUCTANCE = 2310.022e-9  # of a 3 m ring of 22 mm tube by the thin form


def lumped_ring(
    capacitor: Capacitor, *, frequency: float = 14.2e6, around: tuple[float, float] = (0.9, 1.1)
) -> TunedRing:
    """Tuned to `frequency`, coupled so weakly that the match lies on the resonance."""
    nodes = chebyshev_nodes(around[0] * frequency, around[1] * frequency, 5)
    w = 2 * np.pi * nodes
    z = np.zeros((5, 2, 2), dtype=complex)
    z[:, 0, 0] = 1j * w * 10e-9 + 1e-3
    z[:, 0, 1] = z[:, 1, 0] = 1j * w * 0.1e-9
    z[:, 1, 1] = 0.1 + 1j * w * INDUCTANCE
    network = RingNetwork(nodes=nodes, parts_at_nodes={"ring": z}, total_at_nodes=z)
    return TunedRing.at(network, capacitor, frequency=frequency, reference=50.0)
