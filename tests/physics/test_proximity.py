# SPDX-License-Identifier: BSD-3-Clause
"""Close turns against an integral equation, a closed form far apart, and what symmetry asks."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import OutOfRangeError
from ringwright.physics.proximity import proximity_factor, proximity_losses
from tests.physics.row_of_wires import losses


@pytest.mark.parametrize(("count", "closeness"), [(2, 1.05), (3, 1.2), (5, 1.5), (8, 2.0), (4, 4.0)])
def test_every_turn_agrees_with_an_integral_equation(count, closeness):
    # 128 points a wire at 5 % of a radius of gap leave 1e-9, elsewhere rounding.
    expected = losses(count, closeness)
    found = proximity_losses(count, spacing=2 * closeness, diameter=2.0)
    assert found == pytest.approx(expected, rel=1e-8, abs=0)


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
    with pytest.raises(OutOfRangeError, match=message):
        proximity_losses(count, spacing=spacing, diameter=diameter)
