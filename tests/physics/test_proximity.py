# SPDX-License-Identifier: BSD-3-Clause
"""Close turns against an integral equation, a closed form far apart, and what symmetry asks."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import OutOfRangeError
from ringwright.physics.proximity import proximity_factor, proximity_inductance, proximity_losses
from tests.physics.row_of_wires import solve


@pytest.mark.parametrize(("count", "closeness"), [(2, 1.05), (3, 1.2), (5, 1.5), (8, 2.0), (4, 4.0)])
def test_every_turn_agrees_with_an_integral_equation(count, closeness):
    # 128 points a wire at 5 % of a radius of gap leave 1e-9, elsewhere rounding.
    expected, _ = solve(count, closeness)
    found = proximity_losses(count, spacing=2 * closeness, diameter=2.0)
    assert found == pytest.approx(expected, rel=1e-8, abs=0)


@pytest.mark.parametrize(("count", "closeness"), [(2, 1.05), (3, 1.2), (5, 1.5), (8, 2.0), (4, 4.0)])
def test_inductance_agrees_with_the_potentials_of_an_integral_equation(count, closeness):
    _, potentials = solve(count, closeness)
    apart = 2 * closeness * np.abs(np.subtract.outer(np.arange(count), np.arange(count)))
    thin = -np.log(apart + np.eye(count)).sum()  # radius 1: nothing of its own
    found = proximity_inductance(count, spacing=closeness, diameter=1.0) / 2e-7
    # A difference of logarithms, hence fewer digits than each; mu0 is 4 pi 1e-7 to 5e-10.
    assert found == pytest.approx(potentials.sum() - thin, rel=1e-7, abs=0)


def test_two_in_contact_have_the_logarithmic_capacity_of_tangent_circles():
    # pi a/2 (classical, by 1/z onto a strip) against a sqrt 2 of two thin wires; smooth at contact, straight to 1e-3.
    near, nearer = (proximity_inductance(2, spacing=c, diameter=1.0) / 2e-7 for c in (1.02, 1.01))
    at_contact = -4.0 * np.log((np.pi / 2.0) / np.sqrt(2.0))
    assert 2 * nearer - near == pytest.approx(at_contact, rel=1e-3, abs=0)


def test_far_apart_two_lose_inductance_as_a_cylinder_in_an_even_field():
    # A perfect cylinder in H = I/2 pi d is a line dipole: -(a/d)^2 of mu0/2 pi on each of two, d = 200 radii.
    found = proximity_inductance(2, spacing=200.0, diameter=2.0) / 2e-7
    assert found == pytest.approx(-2.0 / 200.0**2, rel=1e-3, abs=0)


def test_far_apart_two_lose_half_the_square_of_radius_over_half_spacing():
    # The neighbour's field H = I/2 pi d is even across a thin wire and adds 2 (a/d)^2 of its loss; d = 200 radii.
    assert proximity_factor(2, spacing=200.0, diameter=2.0) - 1 == pytest.approx(
        2 / 200.0**2, rel=1e-3, abs=0
    )


@given(st.integers(2, 10), st.floats(1.02, 50.0), st.floats(1.001, 3.0))
def test_nearer_costs_more_and_one_more_turn_costs_more(count, closeness, further):
    near = proximity_factor(count, spacing=closeness, diameter=1.0)
    assert near > proximity_factor(count, spacing=closeness * further, diameter=1.0) > 1.0
    assert proximity_factor(count + 1, spacing=closeness, diameter=1.0) > near


@given(st.integers(1, 10), st.floats(1.02, 50.0), st.floats(1e-4, 10.0))
def test_only_the_ratio_counts_and_the_row_is_symmetric(count, closeness, diameter):
    found = proximity_losses(count, spacing=closeness * diameter, diameter=diameter)
    assert found == pytest.approx(found[::-1], rel=1e-9, abs=0)
    assert found == pytest.approx(proximity_losses(count, spacing=closeness, diameter=1.0), rel=1e-9, abs=0)


def test_a_conductor_alone_has_no_neighbour():
    assert proximity_factor(1, spacing=1.1, diameter=1.0) == 1.0
    assert proximity_inductance(1, spacing=1.1, diameter=1.0) == 0.0


@pytest.mark.parametrize(
    ("count", "spacing", "diameter", "message"),
    [
        (0, 2.0, 1.0, "from 1 to 100, got 0"),
        (101, 2.0, 1.0, "got 101"),
        (2, 1.0, 1.0, "at least 1.01 diameters"),
        (2, np.nan, 1.0, "must be finite"),
        (2, np.inf, 1.0, "must be finite"),
        (2, 1.0, 0.0, "must be finite"),
        (2, -2.0, -1.0, "must be finite"),
    ],
)
def test_what_has_no_answer_is_refused(count, spacing, diameter, message):
    for function in (proximity_losses, proximity_inductance):
        with pytest.raises(OutOfRangeError, match=message):
            function(count, spacing=spacing, diameter=diameter)
