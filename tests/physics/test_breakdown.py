# SPDX-License-Identifier: BSD-3-Clause
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import OutOfRangeError
from ringwright.physics.breakdown import air_density, uniform_gap_breakdown

GAPS = st.floats(2e-4, 0.1)


@given(GAPS, st.floats(0.5, 1.1))
def test_only_gap_times_density_counts(gap, density):
    # Paschen's similarity: half the density over twice the gap.
    thin = uniform_gap_breakdown(gap, air_density=density)
    assert thin == pytest.approx(float(uniform_gap_breakdown(gap * density)), rel=1e-12, abs=0)


@given(GAPS, st.floats(1.01, 1.9))
def test_twice_the_gap_stands_less_than_twice_the_voltage(gap, factor):
    short, long = uniform_gap_breakdown([gap, gap * factor])
    assert short < long < factor * short


def test_never_below_the_minimum_that_no_gap_in_air_undercuts():
    # Paschen's minimum of air, 327 V; the shortest gap admitted is well above it.
    assert uniform_gap_breakdown(1e-4) > 2 * 327


def test_centimetre_gaps_stand_about_three_kilovolts_a_millimetre():
    # Common practice, no source.
    assert uniform_gap_breakdown(10e-3) / 10 == pytest.approx(3e3, rel=0.02, abs=0)


@given(st.floats(-1000, 10_000), st.floats(-60, 100))
def test_air_thins_with_height_and_heat(altitude, celsius):
    here = air_density(altitude, temperature_c=celsius)
    assert air_density(altitude + 500, temperature_c=celsius) < here
    assert air_density(altitude, temperature_c=celsius + 10) < here


def test_arrays_broadcast():
    volts = uniform_gap_breakdown(np.array([[1e-3], [2e-3]]), air_density=[1.0, 0.9, 0.8])
    assert volts.shape == (2, 3)
    assert air_density([0.0, 1000.0], temperature_c=30.0).shape == (2,)


@pytest.mark.parametrize(
    ("gap", "density", "message"),
    [
        (0.09e-3, 1.0, "Paschen"),
        (0.11e-3, 0.88, "Paschen"),
        (0.25, 1.0, "longer than the 200 mm"),
        (-1e-3, 1.0, "gap must be finite and > 0"),
        (float("nan"), 1.0, "gap must be finite and > 0"),
        (1e-3, 0.0, "air_density must be finite and > 0"),
    ],
)
def test_gap_outside_the_law_is_refused(gap, density, message):
    with pytest.raises(OutOfRangeError, match=message):
        uniform_gap_breakdown(gap, air_density=density)


@pytest.mark.parametrize(
    ("altitude", "celsius", "message"),
    [
        (-1500, 20, "altitude"),
        (12_000, 20, "altitude"),
        (0, 200, "temperature_c"),
        (float("inf"), 20, "altitude"),
    ],
)
def test_air_outside_the_standard_atmosphere_is_refused(altitude, celsius, message):
    with pytest.raises(OutOfRangeError, match=message):
        air_density(altitude, temperature_c=celsius)
