# SPDX-License-Identifier: BSD-3-Clause
"""A round shaft in torsion against its polar moment by quadrature, a handbook's steel shaft, and its limits."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from ringwright.errors import OutOfRangeError
from ringwright.physics.shaft import torsional_stiffness

SIZES = st.floats(1e-3, 0.1)


def test_steel_bar_of_ten_millimetres():
    # From first principles by hand: J = pi 10^4/32 = 981.7 mm^4; 79.3 GPa over 1 m gives 77.85 N m a radian.
    assert torsional_stiffness(79.3e9, length=1.0, diameter=0.01) == pytest.approx(77.85, rel=1e-4, abs=0)


def test_hollow_shaft_by_adding_up_its_rings():
    moment = quad(lambda r: 2 * np.pi * r**3, 0.004, 0.006)[0]
    found = torsional_stiffness(1e9, length=0.15, diameter=0.012, bore=0.008)
    assert found == pytest.approx(1e9 * moment / 0.15, rel=1e-12, abs=0)


def test_a_thin_tube_has_its_circumference_at_its_radius():
    # 2 pi r^3 t, r the mean radius, to (t/2r)^2.
    found = torsional_stiffness(1e9, length=1.0, diameter=0.0202, bore=0.0198)
    assert found == pytest.approx(1e9 * 2 * np.pi * 0.010**3 * 0.0002, rel=2e-4, abs=0)


@given(SIZES, SIZES, st.floats(1.01, 3.0))
def test_springs_in_series_and_fourth_power_of_the_diameter(length, diameter, ratio):
    one = torsional_stiffness(1e9, length=length, diameter=diameter)
    rest = torsional_stiffness(1e9, length=length * (ratio - 1), diameter=diameter)
    whole = torsional_stiffness(1e9, length=length * ratio, diameter=diameter)
    assert 1 / whole == pytest.approx(1 / one + 1 / rest, rel=1e-12, abs=0)
    assert torsional_stiffness(1e9, length=length, diameter=ratio * diameter) == pytest.approx(
        ratio**4 * one, rel=1e-12, abs=0
    )


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"shear_modulus": 0.0}, "shear_modulus must be"),
        ({"length": -1.0}, "length must be"),
        ({"diameter": np.nan}, "diameter must be"),
        ({"bore": 0.01}, "must be less than the diameter"),
        ({"bore": -0.001}, "bore must be"),
    ],
)
def test_what_is_no_shaft_is_refused(changed, message):
    values = {"shear_modulus": 1e9, "length": 0.1, "diameter": 0.01} | changed
    with pytest.raises(OutOfRangeError, match=message):
        torsional_stiffness(values.pop("shear_modulus"), **values)
