# SPDX-License-Identifier: BSD-3-Clause
"""The sun: J. Meeus, Astronomical Algorithms, 2nd ed. (1998), example 25.a; the almanac's rules for the seasons."""

from datetime import UTC, datetime

import numpy as np
import pytest

from ringwright.air.sun import GREY_LINE_DEG, Light, light, sun_elevation, sun_position


def test_example_25_a_1992_october_13():
    # Apparent alpha 198.38083 deg, delta -7.78507 deg, for 0h dynamical time, which is what the formula counts in.
    moment = datetime(1992, 10, 13, tzinfo=UTC).timestamp()
    ascension, declination = sun_position(np.array([moment]))
    assert np.rad2deg(ascension[0]) % 360.0 == pytest.approx(198.38083, rel=0, abs=2e-5)
    assert np.rad2deg(declination[0]) == pytest.approx(-7.78507, rel=0, abs=2e-5)


def test_sidereal_time_of_example_12_a():
    # Example 12.a: mean sidereal time at Greenwich 13h 10m 46.3668s for 1987 April 10, 0h UT. At that moment a place
    # whose longitude puts the sun on the meridian has it at 90 - |latitude - declination|.
    moment = np.array([datetime(1987, 4, 10, tzinfo=UTC).timestamp()])
    ascension, declination = sun_position(moment)
    sidereal = 15.0 * (13 + 10 / 60 + 46.3668 / 3600)
    longitude = np.rad2deg(ascension) - sidereal
    height = sun_elevation(moment, np.array([20.0]), longitude=longitude)
    assert height[0] == pytest.approx(90.0 - (20.0 - np.rad2deg(declination[0])), rel=0, abs=1e-6)
    east = sun_elevation(moment, np.array([20.0]), longitude=longitude + 1.0)
    assert east[0] < height[0]


def test_solstice_puts_the_midnight_sun_above_the_arctic_circle():
    moment = np.array([datetime(2026, 6, 21, tzinfo=UTC).timestamp()])
    around = np.arange(0.0, 360.0, 1.0)
    assert sun_elevation(moment, np.array([67.0]), longitude=around).min() > 0.0
    # Declination 23.44 deg at the solstice, so the sun stands at 23.44 deg all day at the pole.
    assert sun_elevation(moment, np.array([90.0]), longitude=around) == pytest.approx(
        np.full(360, 23.44), rel=0, abs=0.01
    )


def test_day_night_and_the_grey_line():
    heights = np.array(
        [-30.0, -GREY_LINE_DEG - 0.1, -GREY_LINE_DEG + 0.1, 0.0, GREY_LINE_DEG - 0.1, GREY_LINE_DEG + 0.1]
    )
    expected = [Light.NIGHT, Light.NIGHT, Light.GREY_LINE, Light.GREY_LINE, Light.GREY_LINE, Light.DAY]
    assert light(heights).tolist() == [each.value for each in expected]
