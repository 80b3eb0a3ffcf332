# SPDX-License-Identifier: BSD-3-Clause
"""Limits, scaling and refusals of the small-loop forms; the values are in tests/published."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import jv

from ringwright.errors import OutOfRangeError
from ringwright.physics.constants import C_0, ETA_0
from ringwright.physics.inductance import ring_inductance
from ringwright.physics.small_loop import (
    gap_radiation_resistance,
    line_reactance,
    lowest_loop_q,
    lowest_q,
    small_loop_radiation_resistance,
    tuning_capacitance,
    uniform_loop_directivity,
    uniform_loop_radiation_resistance,
)

SIZES = st.floats(1e-4, 5.0)


@given(SIZES)
def test_uniform_loop_radiates_what_its_far_field_carries(size):
    """Power through the sphere of the far field E ~ J1(x sin theta), by quadrature over the angle."""
    power, _ = quad(
        lambda t: jv(1, size * np.sin(t)) ** 2 * np.sin(t), 0, np.pi, epsabs=0, epsrel=1e-11, limit=200
    )
    expected = np.pi * ETA_0 / 2 * size**2 * power
    assert uniform_loop_radiation_resistance(C_0, circumference=size) == pytest.approx(
        expected, rel=1e-8, abs=0
    )
    assert uniform_loop_directivity(C_0, circumference=size) == pytest.approx(
        2 * jv(1, size) ** 2 / power, rel=1e-8, abs=0
    )


@given(st.floats(1e-4, 0.02))
def test_every_radiation_resistance_tends_to_the_small_loop_s(size):
    small = small_loop_radiation_resistance(C_0, area=size**2 / (4 * np.pi))
    # The next term of the series is -(C/lambda)^2/5.
    assert uniform_loop_radiation_resistance(C_0, circumference=size) == pytest.approx(
        small, rel=size**2 / 4 + 1e-12, abs=0
    )
    assert uniform_loop_directivity(C_0, circumference=size) == pytest.approx(1.5, rel=1e-4, abs=0)


@given(st.floats(0.05, 0.2))
def test_the_true_current_radiates_more_than_a_uniform_one_of_the_gap_s_size(size):
    uniform = uniform_loop_radiation_resistance(C_0, circumference=size)
    assert gap_radiation_resistance(C_0, circumference=size) > uniform


def test_n_turns_radiate_n_squared_times():
    one, eight = small_loop_radiation_resistance(7e6, area=0.7, turns=[1, 8])
    assert eight / one == pytest.approx(64.0, rel=1e-14, abs=0)


@given(st.floats(1e6, 6e7), st.floats(0.5, 5.0), st.floats(0.1, 10.0))
def test_scaling_with_wavelength(frequency, circumference, scale):
    for form in (uniform_loop_radiation_resistance, uniform_loop_directivity):
        one = form(frequency, circumference=circumference)
        assert form(frequency / scale, circumference=circumference * scale) == pytest.approx(
            one, rel=1e-11, abs=0
        )


@given(st.floats(1e-4, 0.01))
def test_line_reactance_tends_to_that_of_the_inductance(size):
    radius = 0.5
    f = size * C_0 / (2 * np.pi * radius)
    inductance = ring_inductance(radius, 0.01)
    lumped = 2 * np.pi * f * inductance
    x = line_reactance(f, inductance=inductance, circumference=2 * np.pi * radius)
    assert x == pytest.approx(lumped, rel=4 * size**2, abs=0)  # tan y = y + y^3/3
    assert x > lumped
    assert tuning_capacitance(f, lumped) == pytest.approx(
        1 / ((2 * np.pi * f) ** 2 * inductance), rel=1e-14, abs=0
    )


@given(st.floats(1e-3, 1.0), st.floats(1.01, 2.0))
def test_bounds_on_q_fall_with_size_and_keep_their_order(x, larger):
    assert lowest_loop_q(x) > 2.99 * lowest_q(x)
    if x * larger <= 1.0:
        assert lowest_loop_q(x * larger) < lowest_loop_q(x)


@pytest.mark.parametrize("size", [0.0, -1.0, np.nan, np.inf, 1.01])
def test_bounds_on_q_are_refused_outside_their_range(size):
    for bound in (lowest_q, lowest_loop_q):
        with pytest.raises(OutOfRangeError, match="size"):
            bound(size)


def test_forms_are_refused_where_they_mean_nothing():
    with pytest.raises(OutOfRangeError, match="less than half a wavelength"):
        line_reactance(C_0, inductance=1e-6, circumference=0.5)
    with pytest.raises(OutOfRangeError, match=r"at most 0\.2 wavelengths"):
        gap_radiation_resistance(C_0, circumference=0.201)
    with pytest.raises(OutOfRangeError, match="at most 10 wavelengths"):
        uniform_loop_radiation_resistance(C_0, circumference=10.1)


def test_shapes_broadcast():
    assert uniform_loop_radiation_resistance([[7e6], [14e6]], circumference=[1.0, 2.0, 3.0]).shape == (2, 3)
    assert np.asarray(uniform_loop_radiation_resistance(7e6, circumference=3.0)).shape == ()
