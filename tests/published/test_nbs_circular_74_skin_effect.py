# SPDX-License-Identifier: BSD-3-Clause
"""NBS Circular 74 (Radio Instruments and Measurements, 1918), table of the skin effect in round wire.

x = a sqrt(w mu0 sigma). The six-digit values are Kelvin's functions computed anew by another program; the Circular's
table, which prints four to five digits, agrees as far as it is remembered.
"""

import numpy as np
import pytest

from ringwright.physics.conductors import solid_wire_impedance
from ringwright.physics.constants import MU_0

SIGMA, RADIUS = 58.0e6, 1e-3

TABLE = [  # x, R/R0, L/L0 (internal)
    (0.5, 1.000325, 0.999837),
    (1.0, 1.005187, 0.997408),
    (2.0, 1.078159, 0.961135),
    (3.0, 1.318095, 0.845167),
    (4.0, 1.677869, 0.686323),
    (5.0, 2.042725, 0.555968),
    (8.0, 3.094446, 0.351072),
    (10.0, 3.798576, 0.281619),
    (20.0, 7.327672, 0.141279),
    (100.0, 35.60667, 0.028283),
]


@pytest.mark.parametrize(("x", "resistance", "inductance"), TABLE)
def test_round_wire_follows_the_table(x, resistance, inductance):
    f = x**2 / (2 * np.pi * MU_0 * SIGMA * RADIUS**2)
    z = solid_wire_impedance(f, radius=RADIUS, conductivity=SIGMA)
    # Half a unit of the last of the digits above: 5e-7 of 1, 2e-5 of 0.028.
    assert z.real * np.pi * RADIUS**2 * SIGMA == pytest.approx(resistance, rel=6e-7, abs=0)
    assert z.imag / (f * MU_0 / 4) == pytest.approx(inductance, rel=2e-5, abs=0)


@pytest.mark.parametrize(
    ("x", "printed"),
    [(1.0, 1.0052), (2.0, 1.0782), (3.0, 1.3181), (4.0, 1.6779), (10.0, 3.799), (100.0, 35.607)],
)
def test_round_wire_rounds_to_what_the_circular_prints(x, printed):
    # From memory of the Circular; 4 digits.
    f = x**2 / (2 * np.pi * MU_0 * SIGMA * RADIUS**2)
    r = solid_wire_impedance(f, radius=RADIUS, conductivity=SIGMA).real * np.pi * RADIUS**2 * SIGMA
    assert r == pytest.approx(printed, rel=1.5e-4, abs=0)
