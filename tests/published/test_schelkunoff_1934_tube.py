# SPDX-License-Identifier: BSD-3-Clause
"""S. A. Schelkunoff, Bell Syst. Tech. J. 13, 1934: surface impedance of a tube with external return.

Digits from the formula by another program with 40-figure arithmetic; the paper prints no table for these tubes.
"""

import numpy as np
import pytest

from ringwright.physics.conductors import skin_depth, surface_resistance, tube_impedance

IACS = 1 / 1.7241e-8


@pytest.mark.parametrize(
    ("diameter_mm", "frequency_mhz", "milliohm_per_metre", "over_thick"),
    [
        (22.0, 7.1, 10.069489, 10.069489 / 10.058141),
        (22.0, 14.2, 14.235705, 14.235705 / 14.224359),
        (15.0, 7.1, 14.776361, 14.776361 / 14.751940),
    ],
)
def test_water_tube_of_one_millimetre_wall(diameter_mm, frequency_mhz, milliohm_per_metre, over_thick):
    b, f = diameter_mm / 2e3, frequency_mhz * 1e6
    r = tube_impedance(f, radius=b, wall=1e-3, conductivity=IACS).real
    # mu0 was 4 pi 1e-7 there: 7e-11. Eight printed digits.
    assert 1e3 * r == pytest.approx(milliohm_per_metre, rel=1e-7, abs=0)
    assert r * 2 * np.pi * b / surface_resistance(f, IACS) == pytest.approx(over_thick, rel=2e-7, abs=0)


@pytest.mark.parametrize(
    ("wall_in_skin_depths", "over_thick"),
    [(0.5, 2.0122), (1.0, 1.0868), (np.pi / 2, 0.9183), (2.0, 0.9500), (3.0, 1.0045), (5.0, 1.0010)],
)
def test_wall_near_the_skin_depth(wall_in_skin_depths, over_thick):
    b, delta = 11e-3, 25e-6
    f = float(skin_depth(1.0, IACS)) ** 2 / delta**2
    r = tube_impedance(f, radius=b, wall=wall_in_skin_depths * delta, conductivity=IACS).real
    # Five printed digits; the last one may be off by one unit.
    assert r * 2 * np.pi * b * IACS * delta == pytest.approx(over_thick, rel=8e-5, abs=0)
