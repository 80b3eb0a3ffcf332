# SPDX-License-Identifier: BSD-3-Clause
"""C. L. Holloway, E. F. Kuester, Radio Science 29, 539-559, 1994: edge loss of strips by a stopping distance.

The loss of a strip without thickness is integrated up to a distance from the edge that stands for the edge's real
shape; for a square edge, thick against the skin depth, that distance is t/290.8 (from memory; the conformal map that
our formula starts from gives 4 pi e^pi = 290.80 for it).
"""

import numpy as np
import pytest

from ringwright.physics.conductors import skin_depth, surface_resistance
from ringwright.physics.strip import strip_impedance

COPPER, F = 58.0e6, 14.2e6


@pytest.mark.parametrize("ratio", [200.0, 1000.0, 5000.0])
def test_strip_loss_is_the_integral_up_to_the_stopping_distance(ratio):
    thickness = 40.0 * float(skin_depth(F, COPPER))
    w = ratio * thickness
    stop = thickness / 290.8
    # Both faces carry half of I/(pi sqrt(w^2/4 - x^2)); the integral of its square by partial fractions.
    expected = surface_resistance(F, COPPER) / (np.pi**2 * w) * np.log((w - stop) / stop)
    r = strip_impedance(F, width=w, thickness=thickness, conductivity=COPPER).real
    # The map also keeps what the thickness adds to the equivalent radius, (t/pi w)(1 + ln(4 pi w/t)): 1.4 % at 200.
    kept = (1.0 + np.log(4.0 * np.pi * ratio)) / (np.pi * ratio)
    assert r == pytest.approx(expected, rel=kept, abs=0)
