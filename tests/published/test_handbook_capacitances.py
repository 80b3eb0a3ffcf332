# SPDX-License-Identifier: BSD-3-Clause
"""Handbook capacitances: area of plates over their distance, coaxial cable for each metre, squares by Nishiyama (1994).

Digits of plates and cables by another program from epsilon_0, impedance and velocity factor.
"""

import pytest

from ringwright.physics.capacitance import cable_capacitance, plate_capacitance

INCH = 25.4e-3


@pytest.mark.parametrize(("plates", "permittivity"), [(2, 1.0), (2, 2.1), (7, 1.0)])
def test_square_centimetre_at_a_millimetre(plates, permittivity):
    # Plates of 10 km, so that their edges are a millionth of the whole; six printed digits.
    side = 1e4
    per_square_centimetre = plate_capacitance(side, side, gap=1e-3, plates=plates, permittivity=permittivity)
    expected = 0.885419e-12 * permittivity * (plates - 1) * (side / 1e-2) ** 2
    assert per_square_centimetre == pytest.approx(expected, rel=3e-6, abs=0)


def test_handbook_formula_in_inches():
    # C = 0.2249 pF A (n - 1) / d with A in square inches, d in inches; four printed digits.
    side = 1e4
    picofarads = 1e12 * plate_capacitance(side, side, gap=0.1 * INCH, plates=5)
    assert picofarads == pytest.approx(0.2249 * (side / INCH) ** 2 * 4 / 0.1, rel=2.5e-4, abs=0)


@pytest.mark.parametrize("ratio", [0.1, 0.2, 0.3])
def test_squares_by_nishiyama_and_nakamura_1994(ratio):
    # H. Nishiyama, M. Nakamura, IEEE Trans. CPMT-A 17, 477, 1994: boundary elements, fitted by 1 + 2.343 (d/w)^0.891
    # (constants from memory). The fit is good to 2 %.
    edges = plate_capacitance(1.0, 1.0, gap=ratio) / plate_capacitance(1e4, 1e4, gap=ratio) * 1e8
    assert edges == pytest.approx(1 + 2.343 * ratio**0.891, rel=0.02, abs=0)


@pytest.mark.parametrize(
    ("impedance", "velocity_factor", "picofarads"),
    [(50, 0.66, 101.08), (50, 0.695, 95.99), (75, 0.66, 67.39), (50, 0.83, 80.38)],
)
def test_cable_for_each_metre(impedance, velocity_factor, picofarads):
    # Four to five printed digits.
    ours = 1e12 * cable_capacitance(impedance, velocity_factor=velocity_factor)
    assert ours == pytest.approx(picofarads, rel=8e-5, abs=0)
