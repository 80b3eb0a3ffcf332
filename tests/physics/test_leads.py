# SPDX-License-Identifier: BSD-3-Clause
"""Inductance of short straps, against printed forms and Neumann's integral."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from ringwright.errors import OutOfRangeError
from ringwright.physics.constants import C_0
from ringwright.physics.leads import filament_pair_inductance, strap_pair_inductance

LENGTHS = st.floats(1e-3, 10.0)


def neumann(length, distance):
    """M = (mu0/4 pi) double integral dz dz'/R [H]; the inner integral over the difference of z."""
    inside, _ = quad(lambda s: (length - s) / np.hypot(s, distance), 0.0, length, limit=200)
    return 2.0 * 1e-7 * inside


@pytest.mark.parametrize(("length", "distance"), [(0.05, 0.03), (0.05, 0.005), (1.0, 0.002), (0.01, 0.2)])
def test_filaments_by_neumann_s_integral(length, distance):
    expected = neumann(length, distance)
    assert filament_pair_inductance(length, distance) == pytest.approx(expected, rel=1e-9, abs=0)


@pytest.mark.parametrize(("length", "width"), [(0.1, 0.005), (0.3, 0.03), (1.0, 0.1)])
def test_flat_strap_rosa_1908_even_current(length, width):
    """L = 0.002 l [ln(2 l/w) + 1/2 + 0.2235 w/l] uH, l in cm, thin (Rosa 1908; from memory).

    The geometric mean distance of a line of width w from itself is w e^(-3/2) = 0.2231 w; the form drops terms in
    (w/l)^2, 3e-4 of the bracket at w = l/10.
    """
    printed = 0.2e-6 * length * (np.log(2.0 * length / width) + 0.5 + 0.2235 * width / length)
    found = filament_pair_inductance(length, width * np.exp(-1.5))
    assert found == pytest.approx(printed, rel=5e-4, abs=0)


@pytest.mark.parametrize(("width", "tolerance"), [(0.001, 1e-3), (0.010, 0.01), (0.020, 0.025)])
def test_a_quarter_of_the_width_stands_for_the_strap_s_skin_current(width, tolerance):
    """The current of a thin perfect strap goes as 1/sqrt(1 - x^2); means over it, of filaments by Neumann's integral.

    The mean of ln|x - x'| is exact, that of |x - x'|/l is not w/4 but 0.405 w: 0.16 w/l of a bracket of about 3.
    """
    length, count = 0.060, 400
    angle = (np.arange(count) + 0.5) * np.pi / count
    x = width / 2.0 * np.cos(angle)
    # Half a step beside the first, so that no filament meets itself.
    y = width / 2.0 * np.cos(angle + np.pi / (2.0 * count))
    apart = abs(x[:, None] - y[None, :])
    mean = np.mean(filament_pair_inductance(length, apart))
    assert filament_pair_inductance(length, width / 4.0) == pytest.approx(mean, rel=tolerance, abs=0)


def test_a_long_pair_is_the_line_of_two_wires():
    """L' = (mu0/pi) ln(d/a) for d >> a; the ends of a pair 1000 d long take 1/1000 of it."""
    pair = strap_pair_inductance(30.0, width=0.004, distance=0.030) / 30.0
    assert pair == pytest.approx(4e-7 * np.log(0.030 / 0.001), rel=1e-3, abs=0)


@pytest.mark.parametrize(("wider", "excess"), [(1.0, 1.08), (1.5, 1.19)])
def test_two_strips_face_to_face_have_as_much_more_as_is_said(wider, excess):
    """Line of two strips, H. A. Wheeler 1965 as fitted by E. Hammerstad 1975: eta0/(u + 1.393 + 0.667 ln(u + 1.444)).

    That is a strip over its mirror plane, u its width over its height; two of them make the pair. From memory, 1 %.
    """
    u = 2.0 * wider
    impedance = 2.0 * 376.73 / (u + 1.393 + 0.667 * np.log(u + 1.444))
    ours = strap_pair_inductance(30.0, width=wider * 0.03, distance=0.03) / 30.0
    assert impedance / C_0 / ours == pytest.approx(excess, rel=0.015, abs=0)


@given(LENGTHS, st.floats(0.01, 1.4), st.floats(0.1, 10.0))
def test_scaling_and_sign(length, wider, size):
    one = strap_pair_inductance(length, width=wider * 0.03, distance=0.03)
    other = strap_pair_inductance(length * size, width=wider * 0.03 * size, distance=0.03 * size)
    assert one > 0.0
    # Short pairs are a difference of near equals, l/d down to 1/30: 1e3 of rounding.
    assert other == pytest.approx(size * one, rel=1e-9, abs=0)


def test_plates_and_nonsense_are_refused():
    with pytest.raises(OutOfRangeError, match=r"at most 1\.5 times the distance"):
        strap_pair_inductance(0.1, width=0.05, distance=0.03)
    with pytest.raises(OutOfRangeError):
        filament_pair_inductance(0.0, 0.03)
