# SPDX-License-Identifier: BSD-3-Clause
"""A wire beside a thick conductor."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import OutOfRangeError
from ringwright.physics.constants import MU_0
from ringwright.physics.parallel_wires import image_inductance


@pytest.mark.parametrize("apart", [6.0, 10.0, 30.0])
def test_with_the_filaments_it_is_the_two_wire_line_of_pozar_2012_table_2_1(apart):
    """L = mu/pi arcosh(D/2a) of two wires with radius a; what the two images miss goes with (a/D)^4."""
    a = 2e-3
    filaments = MU_0 / np.pi * np.log(apart)
    found = filaments + 2.0 * image_inductance(a, apart * a)
    exact = MU_0 / np.pi * np.arccosh(apart / 2.0)
    assert abs(found - exact) < MU_0 / np.pi * 2.0 / apart**4
    assert abs(found - exact) < 0.2 * abs(filaments - exact)


def test_unequal_radii_are_the_eccentric_line():
    """Two cylinders side by side, arcosh((D^2 - a^2 - b^2)/(2 a b)): Smythe 1968, sec. 4.13 (from memory)."""
    a, b, d = 11e-3, 3e-3, 44e-3
    found = np.log(d * d / (a * b)) * MU_0 / (2.0 * np.pi) + image_inductance(a, d) + image_inductance(b, d)
    exact = MU_0 / (2.0 * np.pi) * np.arccosh((d * d - a * a - b * b) / (2.0 * a * b))
    assert found == pytest.approx(exact, rel=2e-4, abs=0)  # the images of the images


@given(st.floats(1e-3, 0.1), st.floats(1.01, 100.0), st.floats(0.1, 10.0))
def test_it_depends_on_the_ratio_and_falls_with_distance(radius, apart, scale):
    here = image_inductance(radius, apart * radius)
    assert here < 0.0
    assert image_inductance(scale * radius, apart * scale * radius) == pytest.approx(here, rel=1e-9, abs=0)
    assert image_inductance(radius, 1.5 * apart * radius) > here


@pytest.mark.parametrize(("radius", "distance"), [(0.0, 1.0), (1.0, 1.0), (1.0, 0.5), (np.nan, 1.0)])
def test_a_wire_inside_the_conductor_is_refused(radius, distance):
    with pytest.raises(OutOfRangeError):
        image_inductance(radius, distance)
