# SPDX-License-Identifier: BSD-3-Clause
"""P. S. Carter, Proc. IRE 20, 1004-1041, 1932: impedances of half-wave dipoles by the induced-EMF method.

First the oracle against the printed and recomputed values, which write eta_0 = 120 pi.
"""

import numpy as np
import pytest

from ringwright.physics.constants import ETA_0
from tests.published.emf_dipole import mutual_impedance, self_impedance, side_by_side

BOOK = 120 * np.pi / ETA_0


def test_self_impedance_of_a_half_wave():
    assert BOOK * self_impedance() == pytest.approx(73.129602 + 42.544547j, rel=2e-8, abs=0)
    assert self_impedance() == pytest.approx(73.07901 + 42.51511j, rel=2e-7, abs=0)


@pytest.mark.parametrize(
    ("distance", "ohm"),
    [
        (0.10, 67.333615 + 7.537792j),
        (0.25, 40.785720 - 28.349052j),
        (0.50, -12.532077 - 29.928641j),
        (0.75, -22.496807 + 6.632232j),
        (1.00, 4.011631 + 17.742029j),
    ],
)
def test_side_by_side_by_formula_and_by_quadrature(distance, ohm):
    # -12.532 - j29.929 at half a wave is in every handbook; the other digits by another program.
    assert BOOK * side_by_side(distance) == pytest.approx(ohm, rel=3e-8, abs=0)
    assert mutual_impedance(distance) == pytest.approx(side_by_side(distance), rel=1e-8, abs=0)


@pytest.mark.parametrize(
    ("spacing", "ohm"),
    [(0.5, 26.414254 + 20.162129j), (0.75, 2.045675 - 7.970969j), (1.0, -4.118780 - 0.722054j)],
)
def test_collinear_by_quadrature(spacing, ohm):
    # The second dipole is 1e-7 wavelengths aside, for the ends that touch; digits by another program.
    assert BOOK * mutual_impedance(1e-7, spacing) == pytest.approx(ohm, rel=3e-7, abs=0)
