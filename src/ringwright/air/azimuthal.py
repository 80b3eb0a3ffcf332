# SPDX-License-Identifier: BSD-3-Clause
"""The azimuthal equidistant map: distance and bearing from the middle are true, on a sphere that is near enough.

Snyder, Map Projections: A Working Manual, U.S. Geological Survey Professional Paper 1395 (1987), ch. 25.
"""

import numpy as np

from ringwright.air.coastline import coastlines
from ringwright.air.locator import Place
from ringwright.physics.checks import FloatArray

HALF_ROUND = 20_015_000.0
"""[m]: from a place to the one opposite, half of the sphere's round (mean radius 6371 km)."""
_LONGEST_STEP = 0.5


def on_map(home: Place, longitude: FloatArray, latitude: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Places [deg] on a disc of radius 1: x to the east, y to the north of `home` (Snyder 25-2 to 25-4, 5-3)."""
    phi, phi1 = np.deg2rad(latitude), np.deg2rad(home.latitude)
    apart = np.deg2rad(np.asarray(longitude) - home.longitude)
    cosine = np.sin(phi1) * np.sin(phi) + np.cos(phi1) * np.cos(phi) * np.cos(apart)
    east = np.cos(phi) * np.sin(apart)
    north = np.cos(phi1) * np.sin(phi) - np.sin(phi1) * np.cos(phi) * np.cos(apart)
    sine = np.hypot(east, north)
    distance = np.arctan2(sine, cosine) / np.pi
    factor = np.divide(distance, sine, out=np.zeros_like(distance), where=sine > 1e-12)
    return east * factor, north * factor


def polar(distance: FloatArray, bearing: FloatArray) -> tuple[FloatArray, FloatArray]:
    """A distance [m] and a true bearing [deg] on the same disc."""
    share, angle = np.asarray(distance) / HALF_ROUND, np.deg2rad(bearing)
    return share * np.sin(angle), share * np.cos(angle)


def land(home: Place) -> list[tuple[FloatArray, FloatArray]]:
    """Coastlines on the disc, broken where a step leaps across it."""
    drawn: list[tuple[FloatArray, FloatArray]] = []
    for line in coastlines():
        x, y = on_map(home, line[:, 0], line[:, 1])
        leaps = np.flatnonzero(np.hypot(np.diff(x), np.diff(y)) > _LONGEST_STEP) + 1
        drawn += [(a, b) for a, b in zip(np.split(x, leaps), np.split(y, leaps), strict=True) if len(a) > 1]
    return drawn
