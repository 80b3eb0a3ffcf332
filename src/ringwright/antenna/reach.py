# SPDX-License-Identifier: BSD-3-Clause
"""What a ring tunes with its capacitor, whatever the bands."""

import numpy as np

from ringwright.antenna.capacitor import range_at_gap
from ringwright.antenna.design import Design
from ringwright.antenna.geometry import Address, Wires
from ringwright.antenna.network import RingNetwork
from ringwright.antenna.solution import SolutionMemory
from ringwright.antenna.tuning import capacitance_of_best_match
from ringwright.physics.constants import C_0
from ringwright.physics.graph import FloatArray

SHORTEST, LONGEST = 0.004, 0.47
"""Wire length over wavelength between which a reach is sought: below, the solver loses digits; above lies the ring's
own half-wave resonance, which no capacitor passes."""
FIRST_LOOK = 20


def tuning_reach(design: Design, wires: Wires, memory: SolutionMemory) -> tuple[float | None, float | None]:
    """Lowest and highest frequency [Hz] the capacitor reaches; None where it lies beyond the method.

    The capacitance is that of best match, as everywhere.
    """
    own = wires.graph.address == Address.RING
    length = float(wires.graph.lengths[own].sum())

    def log_capacitance(log_frequency: FloatArray) -> FloatArray:
        frequency = np.exp(log_frequency)
        network = RingNetwork.of(design, wires, memory.solution(wires, frequency))
        return np.log(
            capacitance_of_best_match(
                network.total_at_nodes, design.capacitor, frequency, reference=design.feedline.impedance
            )
        )

    grid = np.linspace(np.log(SHORTEST * C_0 / length), np.log(LONGEST * C_0 / length), FIRST_LOOK)
    found = log_capacitance(grid)
    known = np.isfinite(found)
    grid, found = grid[known], found[known]
    low, high = range_at_gap(design.capacitor)
    wanted = np.log(np.array([high, low]))
    inside = (wanted < found[0]) & (wanted > found[-1])
    after = np.clip(np.searchsorted(-found, -wanted), 1, len(found) - 1)
    x0, x1, y0, y1 = grid[after - 1], grid[after], found[after - 1], found[after]
    for _ in range(4):
        x2 = x1 + (wanted - y1) * (x1 - x0) / np.where(y1 == y0, np.inf, y1 - y0)
        x2 = np.clip(x2, grid[0], grid[-1])
        x0, y0, x1, y1 = x1, y1, x2, log_capacitance(x2)
    from_hz, to_hz = (float(np.exp(x)) if ok else None for x, ok in zip(x1, inside, strict=True))
    return from_hz, to_hz
