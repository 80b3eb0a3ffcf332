# SPDX-License-Identifier: BSD-3-Clause
"""What a ring tunes with its capacitor, whatever the bands."""

import numpy as np

from ringwright.antenna.capacitor import range_at_gap
from ringwright.antenna.design import Design
from ringwright.antenna.geometry import Address, Wires
from ringwright.antenna.network import RingNetwork, barycentric, chebyshev_nodes
from ringwright.antenna.solution import SolutionMemory
from ringwright.antenna.tuning import capacitance_of_best_match
from ringwright.physics.constants import C_0
from ringwright.physics.graph import FloatArray

SHORTEST, LONGEST = 0.004, 0.45
"""Wire length over wavelength between which a reach is sought: below, the solver loses digits; above lies the ring's
own half-wave resonance, which no capacitor passes."""
FIRST_LOOK = 10


def tuning_reach(design: Design, wires: Wires, memory: SolutionMemory) -> tuple[float | None, float | None]:
    """Lowest and highest frequency [Hz] the capacitor reaches; None where it lies beyond the method.

    The capacitance C(f) is that of best match, as everywhere. C f^2, which would be constant without the ring's own
    capacitance, is a smooth function of f^2: a polynomial through it gives the frequencies, one more solution mends them.
    """
    own = wires.graph.address == Address.RING
    length = float(wires.graph.lengths[own].sum())

    def c_f_squared(frequency: FloatArray) -> FloatArray:
        network = RingNetwork.of(design, wires, memory.solution(wires, frequency))
        impedance, reference = network.total_at_nodes, design.feedline.impedance
        farads = capacitance_of_best_match(impedance, design.capacitor, frequency, reference=reference)
        return np.asarray(farads * frequency**2)

    lowest, highest = SHORTEST * C_0 / length, LONGEST * C_0 / length
    nodes = chebyshev_nodes(lowest**2, highest**2, FIRST_LOOK)
    at_nodes = c_f_squared(np.sqrt(nodes))
    squares = np.geomspace(lowest**2, highest**2, 2000)
    known = barycentric(nodes, squares) @ at_nodes
    wanted = np.array(range_at_gap(design.capacitor)[::-1])
    roots, slopes = np.transpose([_first_root(squares, known - farads * squares) for farads in wanted])
    mended = roots - (c_f_squared(np.sqrt(np.nan_to_num(roots, nan=nodes[0]))) - wanted * roots) / slopes
    low, high = (None if np.isnan(square) else float(np.sqrt(square)) for square in mended)
    return low, high


def _first_root(x: FloatArray, y: FloatArray) -> tuple[float, float]:
    """Where sampled values first fall through zero, and the slope there; nan and 1 where they do not."""
    after = int(np.argmax(y < 0.0))
    if after == 0:
        return np.nan, 1.0
    slope = (y[after] - y[after - 1]) / (x[after] - x[after - 1])
    return float(x[after] - y[after] / slope), float(slope)
