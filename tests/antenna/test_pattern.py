# SPDX-License-Identifier: BSD-3-Clause
"""The strongest direction of fields whose maximum is known."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.antenna.pattern import find_pattern
from ringwright.physics.constants import ETA_0
from ringwright.physics.far_field import direction_vectors


def lobe(elevation, azimuth, sharpness):
    """A field with one maximum of 1 W/sr in a given direction."""
    centre = direction_vectors(np.array([elevation]), np.array([azimuth]))[0][0]

    def field_at(up, around):
        cosine = direction_vectors(up, around)[0] @ centre
        strength = np.sqrt(ETA_0) * np.exp(sharpness * (cosine - 1.0))
        return np.stack([strength + 0j, 0.0 * strength])

    return field_at


@given(st.floats(-1.5, 1.55), st.floats(0.0, 6.28), st.floats(0.5, 8.0))
def test_maximum_in_any_direction(elevation, azimuth, sharpness):
    found = find_pattern(lobe(elevation, azimuth, sharpness), 4.0 * np.pi, lowest_elevation=-np.pi / 2.0)
    assert -1e-3 < found.gain_max_dbi < 1e-9
    # Four zooms of three: 15/3^4 = 0.2 degrees on the sphere, of a lobe that is flat there.
    assert abs(found.elevation_deg - np.degrees(elevation)) < 0.4
    around = (found.azimuth_deg - np.degrees(azimuth) + 180.0) % 360.0 - 180.0
    assert abs(around) * np.cos(elevation) < 0.4


@given(st.floats(-0.5, 1.5), st.floats(0.0, 6.28))
def test_gain_at_20_degrees_is_the_best_over_azimuth(elevation, azimuth):
    found = find_pattern(lobe(elevation, azimuth, 2.0), 4.0 * np.pi, lowest_elevation=0.0)
    # The lobe's own azimuth is best; every 10 degrees leaves 5 of them: 2 (1 - cos 5 deg) of a neper at the horizon.
    best = 20.0 / np.log(10.0) * 2.0 * (np.cos(elevation - np.radians(20.0)) - 1.0)
    assert best - 0.07 < found.gain_20deg_dbi <= best + 1e-9


def test_nothing_below_the_lowest_elevation():
    found = find_pattern(lobe(-0.5, 1.0, 3.0), 4.0 * np.pi, lowest_elevation=0.0)
    assert found.elevation_deg == 0.0
    assert found.gain_max_dbi == pytest.approx(
        20.0 / np.log(10.0) * 3.0 * (np.cos(0.5) - 1.0), rel=1e-3, abs=0
    )


def test_azimuth_at_the_zenith_means_nothing_and_is_zero():
    assert find_pattern(lobe(np.pi / 2.0, 2.0, 3.0), 1.0, lowest_elevation=0.0).azimuth_deg == 0.0


def test_of_equal_lobes_the_first_counts():
    """Mirror lobes must not swap from run to run by rounding."""

    def field_at(up, around):
        strength = np.sqrt(ETA_0) * np.cos(up) * np.abs(np.cos(around))
        return np.stack([strength + 0j, 0.0 * strength])

    found = find_pattern(field_at, 4.0 * np.pi, lowest_elevation=0.0)
    assert (found.elevation_deg, found.azimuth_deg) == (0.0, 0.0)
