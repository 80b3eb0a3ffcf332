# SPDX-License-Identifier: BSD-3-Clause
"""What each of many rings reaches with the capacitor."""

import numpy as np

from ringwright.antenna.design import Design
from ringwright.antenna.ranges.drawn_earth import earth_change
from ringwright.antenna.ranges.drawn_ring import DrawnNetwork
from ringwright.antenna.ranges.draws import Draws
from ringwright.antenna.reach import ReachEnd
from ringwright.antenna.solution import SolutionMemory
from ringwright.physics.graph import FloatArray

_KEYS = ("tuning.tunes_from_hz", "tuning.tunes_to_hz")


def drawn_reach(
    design: Design,
    ends: tuple[ReachEnd | None, ReachEnd | None],
    draws: Draws,
    *,
    memory: SolutionMemory,
) -> dict[str, FloatArray]:
    """Lowest and highest frequency of every draw (n,) [Hz], by key; without an end that the method cannot tell."""
    found = {}
    for key, end in zip(_KEYS, ends, strict=True):
        if end is None:
            continue
        network = DrawnNetwork(
            network=end.network,
            capacitor=design.capacitor,
            draws=draws,
            earth_change=earth_change(
                draws, end.on, end.current, frequency=end.solved_at, earth=end.earth, memory=memory
            ),
        )
        there = np.array([end.solved_at])
        capacitance = network.best_capacitance(
            network.impedance(there), there, reference=design.feedline.impedance
        )
        found[key] = end.frequency(capacitance)
    return found
