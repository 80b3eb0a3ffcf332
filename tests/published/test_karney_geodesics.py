# SPDX-License-Identifier: BSD-3-Clause
"""Geodesics on WGS84: C. F. F. Karney, Test set for geodesics (2010), doi 10.5281/zenodo.32156, as in the tests and the
documentation of his library."""

import numpy as np
import pytest

from ringwright.air.geodesy import distance_and_bearing
from ringwright.air.locator import Place

CASES = [
    ((35.60777, -139.44815), (-11.17491, -69.95921), 8_935_244.5604818, 111.098748429560326),
    ((55.52454, 106.05087), (77.03196, 197.18234), 4_105_086.1713924, 22.020059880982801),
    ((-66.99028, 112.2363), (-12.70631, 285.90344), 11_150_344.2312080, 173.734912408784),
    ((-41.32, 174.81), (40.96, -5.50), 19_959_679.267354, 161.067669986),
    ((40.6, -73.8), (51.6, -0.5), 5_551_759.400319, 51.1988828455),
]


def place(latitude: float, longitude: float) -> Place:
    return Place(latitude=latitude, longitude=longitude, uncertainty=0.0)


@pytest.mark.parametrize(("home", "there", "metres", "degrees"), CASES)
def test_distance_and_bearing(home, there, metres, degrees):
    distance, bearing = distance_and_bearing(place(*home), [place(*there)])
    assert distance[0] == pytest.approx(metres, rel=1e-12, abs=1e-5)
    assert bearing[0] == pytest.approx(degrees, rel=1e-9, abs=0)


def test_the_nearly_opposite_point_that_a_naive_iteration_never_finds():
    distance, _ = distance_and_bearing(place(0.0, 0.0), [place(0.5, 179.7)])
    # Printed as 19 944 127.420 750 m for the ellipsoid with flattening 1/298.257223563; the value is from memory.
    assert distance[0] == pytest.approx(19_944_127.420750, rel=0, abs=1e-5)


def test_bearings_count_from_north_through_east():
    distance, bearing = distance_and_bearing(
        place(0.0, 0.0), [place(10.0, 0.0), place(0.0, 10.0), place(0.0, -10.0)]
    )
    assert bearing == pytest.approx(np.array([0.0, 90.0, 270.0]), abs=1e-9)
    assert distance[1] == pytest.approx(np.deg2rad(10.0) * 6_378_137.0, rel=1e-9, abs=0)  # along the equator
