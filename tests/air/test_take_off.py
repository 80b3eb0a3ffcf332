# SPDX-License-Identifier: BSD-3-Clause
"""Take-off angles: the triangle of the mirror, and the longest hops that handbooks state."""

import numpy as np
import pytest

from ringwright.air.take_off import EARTH_RADIUS, LOWEST_DEG, elevation_of_hop, take_off


def test_a_short_hop_is_that_over_a_flat_earth():
    # tan(elevation) = 2 h / d where d is far below the radius.
    assert elevation_of_hop(np.array([20e3]), 10e3)[0] == pytest.approx(
        np.rad2deg(np.arctan(2.0 * 10e3 / 20e3)), rel=5e-3, abs=0
    )


@pytest.mark.parametrize("height", [110e3, 300e3])
def test_the_triangle_of_the_mirror_closes(height):
    # Law of sines in the triangle earth's centre, ground, mirror: the angle at the ground is 90 deg + elevation.
    hop = np.array([500e3, 1500e3])
    elevation = np.deg2rad(elevation_of_hop(hop, height))
    at_centre = hop / (2.0 * EARTH_RADIUS)
    at_mirror = np.pi - at_centre - (np.pi / 2.0 + elevation)
    side = np.sin(np.pi / 2.0 + elevation) / np.sin(at_mirror) * EARTH_RADIUS
    assert side == pytest.approx(np.full(2, EARTH_RADIUS + height), rel=1e-9, abs=0)


def test_the_horizon_of_a_layer_is_where_handbooks_put_its_longest_hop():
    # ITU-R P.533 takes 4000 km by F2 and 2000 km by E as longest hops; at 0 deg: 2 R arccos(R / (R + h)).
    for height, longest in ((300e3, 4000e3), (110e3, 2000e3)):
        horizon = 2.0 * EARTH_RADIUS * np.arccos(EARTH_RADIUS / (EARTH_RADIUS + height))
        assert elevation_of_hop(np.array([horizon]), height)[0] == pytest.approx(0.0, abs=1e-6)
        assert horizon == pytest.approx(longest, rel=0.2, abs=0)


def test_long_paths_take_as_many_hops_as_the_lowest_angle_needs():
    angle = take_off(np.array([500e3, 3000e3, 5000e3, 18_000e3, np.nan]))
    assert np.all(angle[:4] >= LOWEST_DEG)
    assert angle[0] > 40.0
    assert angle[2] == pytest.approx(elevation_of_hop(np.array([2500e3]), 300e3)[0], rel=1e-12, abs=0)
    assert np.isnan(angle[4])
