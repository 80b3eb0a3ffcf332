# SPDX-License-Identifier: BSD-3-Clause
"""E. B. Rosa, F. W. Grover, Bull. Bureau of Standards 8, 1-237, 1912 (Sci. Paper 169).

Formulas for coaxial circles, the circular ring and the rectangle. Where the paper's own example is known it is named;
the other digits were computed from its formulas by another program with 30-figure arithmetic and mu0 = 4 pi 1e-7, which
differs from ours by 1.3e-10.
"""

import numpy as np
import pytest

from ringwright.physics.constants import MU_0
from ringwright.physics.graph import chain, join
from ringwright.physics.inductance import polygon_inductance, rectangle_inductance, ring_inductance
from ringwright.physics.mutual_inductance import mutual_inductance_circles, mutual_inductance_coaxial
from tests.physics.wires import circle, ring, solve


def test_coaxial_circles_of_25_and_20_cm_10_cm_apart():
    # The paper's worked example, 248.787 (from memory, confirmed by the elliptic integrals).
    assert 1e9 * mutual_inductance_coaxial(0.25, 0.20, distance=0.10) == pytest.approx(
        248.787, rel=2e-6, abs=0
    )


@pytest.mark.parametrize(
    ("a", "b", "d", "nanohenry"),
    [
        (0.25, 0.20, 0.10, 248.787359),
        (0.25, 0.25, 0.20, 167.085784),
        (0.25, 0.25, 0.01, 1036.664849),
        (1.00, 1.00, 1.00, 494.078463),
        (0.50, 0.10, 0.00, 40.085844),
        (0.50, 0.10, 0.02, 39.983778),
        (0.50, 0.10, 0.10, 37.662874),
    ],
)
def test_coaxial_circles_by_maxwell_s_formula(a, b, d, nanohenry):
    # Eight or more printed digits, the last rounded.
    assert 1e9 * mutual_inductance_coaxial(a, b, distance=d) == pytest.approx(nanohenry, rel=1.5e-8, abs=0)


def test_thin_ring_is_the_paper_s_skin_effect_form():
    # mu0 R [ln(8R/a) - 2], from memory; what we add is of the order (a/R)^2 ln^2(8R/a)/4: 8 parts in 1e5 at 1/100.
    for thinness, tolerance in ((0.01, 2e-4), (0.001, 4e-6)):
        expected = MU_0 * (np.log(8 / thinness) - 2)
        assert ring_inductance(1.0, thinness) == pytest.approx(expected, rel=tolerance, abs=0)


@pytest.mark.parametrize(("circumference", "nanohenry"), [(3.0, 2310.022), (6.0, 5451.821)])
def test_rings_of_22_mm_tube(circumference, nanohenry):
    # Thin form. Crowding takes 8e-4 off at a/R = 0.023 and 2e-4 at 0.0115 (exact torus); nothing else differs.
    value = 1e9 * ring_inductance(circumference / (2 * np.pi), 0.011)
    assert value == pytest.approx(nanohenry, rel=1e-3, abs=0)
    assert value < nanohenry


def test_rectangle_of_1_by_half_a_metre():
    value = 1e9 * rectangle_inductance(1.0, 0.5, wire_radius=0.011)
    assert value == pytest.approx(2003.906, rel=3e-7, abs=0)


def test_a_square_is_a_rectangle_and_a_polygon():
    value = 1e9 * rectangle_inductance(0.75, 0.75, wire_radius=0.011)
    assert value == pytest.approx(2068.899, rel=3e-7, abs=0)
    assert 1e9 * polygon_inductance(4, side=0.75, wire_radius=0.011) == pytest.approx(value, rel=1e-12, abs=0)


LOW = 1e5
"""Frequency at which a wavelength is three kilometres and rings are inductors. [Hz]"""


@pytest.mark.parametrize("thinness", [0.001, 0.004])
def test_solved_ring_is_the_inductor(thinness):
    z = solve(ring(2 * np.pi, thinness, 96), [0], LOW).impedance[0, 0, 0]
    expected = MU_0 * (np.log(8 / thinness) - 2)  # from memory, as above
    # A polygon of the circle's area in 96 sides: 6e-5 of its inductance; the thin form is within 1.6e-5 at 0.004.
    assert z.imag / (2 * np.pi * LOW) == pytest.approx(expected, rel=2e-4, abs=0)


@pytest.mark.parametrize(
    "centre",
    [(0.0, 0.0, 0.10), (0.0, 0.0, 0.02), (0.20, 0.0, 0.0), (0.38, 0.0, 0.0), (0.62, 0.0, 0.0)],
    ids=["coaxial", "nearly coplanar", "eccentric", "beside the conductor", "outside"],
)
def test_two_solved_rings_have_maxwell_s_mutual_inductance(centre):
    graphs = [
        chain(circle(radius, segments=n, centre=at), radius=0.002, closed=True)
        for radius, n, at in ((0.5, 96, (0.0, 0.0, 0.0)), (0.1, 48, centre))
    ]
    z = solve(join(graphs), [0, 96], LOW).impedance[0]
    expected = mutual_inductance_circles(0.5, 0.1, centre=centre)
    # Polygons of equal area; 3e-5 where the rims are 20 mm apart and a side is 13 mm.
    assert z[0, 1].imag / (2 * np.pi * LOW) == pytest.approx(expected, rel=1e-4, abs=0)
