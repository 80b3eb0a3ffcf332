# SPDX-License-Identifier: BSD-3-Clause
"""Distance and bearing on the ellipsoid WGS84, and bearings counted from the plane of a ring."""

from collections.abc import Sequence

import numpy as np
from geographiclib.geodesic import Geodesic

from ringwright.air.locator import Place
from ringwright.physics.checks import FloatArray

_WANTED = Geodesic.DISTANCE | Geodesic.AZIMUTH


def distance_and_bearing(home: Place, places: Sequence[Place]) -> tuple[FloatArray, FloatArray]:
    """Length of the shortest line from `home` to each place [m] and true bearing at home [deg, 0 to 360].

    One solution a place: hand over each place once, however many reports came from it.
    """
    distance, bearing = np.empty(len(places)), np.empty(len(places))
    for number, place in enumerate(places):
        line = Geodesic.WGS84.Inverse(home.latitude, home.longitude, place.latitude, place.longitude, _WANTED)
        distance[number], bearing[number] = line["s12"], line["azi1"] % 360.0
    return distance, bearing


def from_plane(bearing: FloatArray, plane_bearing: float) -> FloatArray:
    """Angle between a bearing and the plane of a ring, whose two ends are alike [deg, 0 in the plane to 90 across]."""
    off = np.abs((np.asarray(bearing) - plane_bearing) % 180.0)
    return np.asarray(np.minimum(off, 180.0 - off))
