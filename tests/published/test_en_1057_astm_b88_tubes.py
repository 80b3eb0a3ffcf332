# SPDX-License-Identifier: BSD-3-Clause
"""Masses of copper tubes: EN 1057 sizes in kg/m and ASTM B88 sizes in lb/ft, as the tables print them."""

import pytest

from ringwright.antenna.design import Conductor, ConductorKind
from ringwright.safety.mechanics.masses import mass_per_metre

# Outer diameter and wall [mm], kg/m as printed to two digits in tube makers' tables after EN 1057.
EN_1057 = [(12, 1.0, 0.31), (15, 1.0, 0.39), (18, 1.0, 0.48), (28, 1.2, 0.90)]
# Outer diameter and wall [in], lb/ft as ASTM B88 prints them, types K, L, M of nominal 3/8, 1/2, 3/4.
ASTM_B88 = [
    (0.500, 0.049, 0.269), (0.500, 0.035, 0.198), (0.500, 0.025, 0.145),
    (0.625, 0.049, 0.344), (0.625, 0.040, 0.285), (0.625, 0.028, 0.204),
    (0.875, 0.065, 0.641), (0.875, 0.045, 0.455), (0.875, 0.032, 0.328),
]  # fmt: skip
INCH, POUND, FOOT = 0.0254, 0.45359237, 0.3048


def tube(diameter: float, wall: float) -> Conductor:
    return Conductor(
        kind=ConductorKind.TUBE, diameter=diameter, wall=wall, conductivity=48e6, material="water tube copper"
    )


@pytest.mark.parametrize(("diameter", "wall", "printed"), EN_1057)
def test_en_1057_mass_per_metre(diameter, wall, printed):
    # Printed to 0.01 kg/m.
    assert mass_per_metre(tube(diameter * 1e-3, wall * 1e-3)) == pytest.approx(printed, abs=0.006, rel=0)


@pytest.mark.parametrize(("diameter", "wall", "printed"), ASTM_B88)
def test_astm_b88_mass_per_foot(diameter, wall, printed):
    per_foot = mass_per_metre(tube(diameter * INCH, wall * INCH)) * FOOT / POUND
    # Printed to 0.001 lb/ft, of 0.323 lb/in3 (8941 kg/m3).
    assert per_foot == pytest.approx(printed, abs=0.0012, rel=0)


def test_22_mm_tube_by_hand():
    # rho pi (D - t) t with 8940 kg/m3: 0.5898 kg/m.
    assert mass_per_metre(tube(0.022, 0.001)) == pytest.approx(0.5898, abs=5e-5, rel=0)
