# SPDX-License-Identifier: BSD-3-Clause
r"""The angle at which a path leaves the ground, by mirror reflection at a layer's virtual height.

.. math:: \Delta = \arctan\left(\cot\frac{d}{2 R_0} - \frac{R_0}{R_0 + h_r} \csc\frac{d}{2 R_0}\right)

with hop length d. It is a picture of the path, not a forecast of it: the layer's height changes with hour and season,
and waves take several paths at once.

References
----------
.. [1] Recommendation ITU-R P.533-14, Method for the prediction of the performance of HF circuits (2019), sec. 5.1
       (elevation angle) and 5.2.1 (mirror-reflection heights); the formula is cited from memory.
"""

from typing import Final

import numpy as np

from ringwright.physics.checks import FloatArray

EARTH_RADIUS: Final = 6371e3
F2_HEIGHT: Final = 300e3
"""[m]: a virtual height of the F2 layer that stands for most hours (common practice, no source)."""
F2_HEIGHTS: Final = (250e3, 400e3)
"""[m]: between a winter noon and a summer night (common practice, no source)."""
LOWEST_DEG: Final = 3.0
"""Hops are as long as this angle allows; lower rays graze too much ground (P.533 takes 3 degrees as least)."""
_MOST_HOPS = 12


def elevation_of_hop(hop: FloatArray, height: float) -> FloatArray:
    """Take-off angle [deg] of a hop [m] reflected at a virtual height [m]; negative beyond the horizon of the layer."""
    half = np.asarray(hop, dtype=float) / (2.0 * EARTH_RADIUS)
    half = np.maximum(half, 1e-9)
    ratio = EARTH_RADIUS / (EARTH_RADIUS + height)
    return np.asarray(np.rad2deg(np.arctan((np.cos(half) - ratio) / np.sin(half))))


def take_off(distance: FloatArray, height: float = F2_HEIGHT) -> FloatArray:
    """Take-off angle [deg] of a path [m] of the fewest equal hops that leave at 3 degrees or more; NaN stays NaN."""
    distance = np.asarray(distance, dtype=float)
    angle = np.full(distance.shape, np.nan)
    for hops in range(1, _MOST_HOPS + 1):
        of_hop = elevation_of_hop(distance / hops, height)
        angle = np.where(np.isnan(angle) & (of_hop >= LOWEST_DEG), of_hop, angle)
    return angle
