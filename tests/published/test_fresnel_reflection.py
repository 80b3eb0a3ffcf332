# SPDX-License-Identifier: BSD-3-Clause
"""Fresnel's reflection coefficients of an earth, computed from their formulas (Stratton 1941, sec. 9.5) elsewhere.

Magnetic-field convention for vertical polarisation: +1 on a perfect conductor, -1 at grazing.
"""

import numpy as np
import pytest

from ringwright.physics.half_space import PERFECT_EARTH, complex_permittivity
from ringwright.physics.half_space.sky import fresnel

AVERAGE, DRY, SEA = (13.0, 5e-3), (5.0, 1e-3), (80.0, 5.0)


@pytest.mark.parametrize(
    ("earth", "elevation_deg", "horizontal", "vertical"),
    [
        (AVERAGE, 5.0, -0.95504 + 0.01086j, -0.49441 - 0.08005j),
        (AVERAGE, 10.0, -0.91233 + 0.02065j, -0.19183 - 0.10200j),
        (AVERAGE, 20.0, -0.83438 + 0.03711j, 0.14599 - 0.10436j),
        (AVERAGE, 30.0, -0.76720 + 0.04970j, 0.32466 - 0.09649j),
        (AVERAGE, 90.0, -0.58851 + 0.07469j, 0.58851 - 0.07469j),
        (DRY, 30.0, -0.61825 + 0.04488j, 0.10124 - 0.05113j),
        (SEA, 5.0, -0.99844 + 0.00154j, 0.79866 - 0.16528j),
    ],
)
def test_coefficients_at_14_2_mhz(earth, elevation_deg, horizontal, vertical):
    got = fresnel(np.radians(elevation_deg), complex_permittivity(14.2e6, *earth))
    # Five decimals printed.
    assert abs(got[0] - horizontal) < 1e-5
    assert abs(got[1] - vertical) < 1e-5


@pytest.mark.parametrize(
    ("eps_c", "angle_deg"),
    [
        (complex_permittivity(7.1e6, *AVERAGE), 13.31),
        (complex_permittivity(14.2e6, *AVERAGE), 14.78),
        (complex_permittivity(28.5e6, *AVERAGE), 15.31),
        (complex_permittivity(14.2e6, *DRY), 23.83),
        (complex_permittivity(14.2e6, *SEA), 0.72),
        (13.0 + 0j, 15.501),
    ],
)
def test_pseudo_brewster_angle(eps_c, angle_deg):
    elevation = np.radians(np.arange(0.05, 45.0, 0.001))
    least = np.degrees(elevation[np.argmin(np.abs(fresnel(elevation, eps_c)[1]))])
    assert least == pytest.approx(angle_deg, rel=0.006 / angle_deg, abs=0)  # two decimals printed


def test_a_perfect_conductor_reflects_all():
    horizontal, vertical = fresnel(np.radians([1.0, 60.0]), PERFECT_EARTH)
    assert horizontal.tolist() == [-1.0, -1.0]
    assert vertical.tolist() == [1.0, 1.0]
