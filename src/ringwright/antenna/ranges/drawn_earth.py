# SPDX-License-Identifier: BSD-3-Clause
"""What another earth does to a ring, seen from its ports."""

import numpy as np

from ringwright.antenna.design import Earth
from ringwright.antenna.geometry import Wires
from ringwright.antenna.ranges.draws import Draws
from ringwright.antenna.solution import SolutionMemory
from ringwright.physics.wave_kernel import ComplexArray


def earth_change(
    draws: Draws,
    wires: Wires,
    current: ComplexArray,
    *,
    frequency: float,
    earth: Earth | None,
    memory: SolutionMemory,
) -> ComplexArray | float:
    """What every draw's earth adds to the impedance over the design's own (n, 2, 2) [ohm]; 0 for free space, a mirror.

    `current` (n_segments, 2, 2) per ampere into feed and gap over the design's own earth: to first order in how it
    changes, which leaves the square of that.
    """
    if earth is None or earth.perfect:
        return 0.0
    through = memory.through_earth(wires, current, frequency, earths=draws.earths(frequency))
    return np.asarray(through - through[0])
