# SPDX-License-Identifier: BSD-3-Clause
"""Fritsch and Carlson, SIAM J. Numer. Anal. 17(2), 238-246, 1980: monotone piecewise cubic interpolation.

Their example "RPN 14" (table 1, radiochemical data; the numbers from memory, as they are widely reprinted) is what an
ordinary spline overshoots; the condition is that of their section 4.
"""

import numpy as np
import pytest
from scipy.interpolate import CubicSpline, PchipInterpolator

from ringwright.tuner.table_monotone import Monotone

RPN_14 = np.array([
    (7.99, 0.0), (8.09, 2.76429e-5), (8.19, 4.37498e-2), (8.7, 0.169183), (9.2, 0.469428), (10.0, 0.943740),
    (12.0, 0.998636), (15.0, 0.999919), (20.0, 0.999994),
])  # fmt: skip
X, Y = RPN_14.T
FINE = np.linspace(X[0], X[-1], 4001)


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_rpn_14_rises_where_an_ordinary_spline_overshoots(sign):
    curve = Monotone(X, sign * Y)
    found = sign * np.array([curve.at(x) for x in FINE])
    assert np.all(np.diff(found) >= -1e-15)
    assert found.max() <= Y[-1] + 1e-15  # rounding
    assert CubicSpline(X, Y)(FINE).max() > 1.01 * Y[-1]


def test_the_slopes_meet_the_condition_of_section_4():
    curve = PchipInterpolator(X, Y)
    secant = np.diff(Y) / np.diff(X)
    alpha, beta = curve(X[:-1], 1) / secant, curve(X[1:], 1) / secant
    assert np.all((alpha >= 0.0) & (beta >= 0.0))
    assert np.all(
        np.maximum(alpha, beta) <= 3.0 + 1e-12
    )  # the square in their figure 2, which lies within region M


def test_ours_is_scipys_between_the_points_and_its_inverse_finds_back():
    curve, scipys = Monotone(X, Y), PchipInterpolator(X, Y)
    for x in FINE[::100]:
        assert curve.at(x) == pytest.approx(float(scipys(x)), rel=1e-12, abs=1e-15)
        # Where the curve is nearly level a rounding of the value is a long way.
        assert curve.at(curve.inverse(curve.at(x))) == pytest.approx(curve.at(x), rel=1e-9, abs=1e-12)
