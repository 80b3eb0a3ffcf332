# SPDX-License-Identifier: BSD-3-Clause
"""Free convection of a cylinder."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import OutOfRangeError
from ringwright.physics.heat import cylinder_temperature_rise

# Air at the mean of surface and room [K]: kinematic viscosity [m^2/s], conductivity [W/(m K)], Prandtl number; F. P.
# Incropera and D. P. DeWitt, Fundamentals of Heat and Mass Transfer, table A.4 (from memory).
AIR = {300.0: (15.89e-6, 26.3e-3, 0.707), 350.0: (20.92e-6, 30.0e-3, 0.700)}


@pytest.mark.parametrize("diameter", [0.03, 0.06, 0.12])
@pytest.mark.parametrize("film", AIR)
def test_churchill_and_chu_1975(diameter, film):
    """Their correlation for a lying cylinder, any Rayleigh number; the simplified one is within 15 % of it."""
    viscosity, conductivity, prandtl = AIR[film]
    rise = 2.0 * (film - 280.0)
    rayleigh = 9.81 / film * rise * diameter**3 / viscosity**2 * prandtl
    bracket = (1.0 + (0.559 / prandtl) ** (9 / 16)) ** (16 / 9)
    nusselt = (0.60 + 0.387 * (rayleigh / bracket) ** (1 / 6)) ** 2
    length = 0.1
    area = np.pi * diameter * length + np.pi * diameter**2 / 2.0
    power = nusselt * conductivity / diameter * area * rise
    assert cylinder_temperature_rise(power, diameter=diameter, length=length) == pytest.approx(
        rise, rel=0.15, abs=0
    )


@given(st.floats(0.1, 100.0), st.floats(0.01, 0.2), st.floats(0.02, 0.5))
def test_the_heat_that_leaves_is_the_power(power, diameter, length):
    rise = cylinder_temperature_rise(power, diameter=diameter, length=length)
    area = np.pi * diameter * (length + diameter / 2.0)
    assert 1.32 * (rise / diameter) ** 0.25 * area * rise == pytest.approx(power, rel=1e-12, abs=0)


def test_no_power_no_rise_and_no_negative_power():
    assert cylinder_temperature_rise(0.0, diameter=0.05, length=0.1) == 0.0
    with pytest.raises(OutOfRangeError):
        cylinder_temperature_rise(-1.0, diameter=0.05, length=0.1)
