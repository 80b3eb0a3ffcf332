# SPDX-License-Identifier: BSD-3-Clause
"""Soft and stiff shafts, torque, and the length that keeps the kilovolts off the motor."""

import math

import pytest

from ringwright.antenna.design import Drive, Shaft
from ringwright.antenna.design_file.models import CAPACITOR_KINDS
from ringwright.antenna.drive_shaft import (
    DAMP_PER_VOLT,
    DRY_PER_VOLT,
    insulation,
    shaft_stiffness,
    torque_available,
    torque_needed,
    usual_shaft_torque,
    windup,
)
from ringwright.antenna.shaft_materials import SHAFT_MATERIALS
from tests.antenna.builds import CAPACITOR

ROD = Shaft(material="POM", length=0.06, diameter=0.010)
HOSE = Shaft(material="rubber hose", length=0.10, diameter=0.008, bore=0.005)


def twist(shaft, torque=0.03):
    """In degrees."""
    return math.degrees(windup(Drive(shaft=shaft, shaft_torque=torque), CAPACITOR)[0])


def test_both_sides_of_the_advice():
    """Common practice: a coupling that twists makes tuning very hard, a stiff insulating one cures it."""
    # By hand: J = pi/32 D^4 = 981.7 mm^4 and (8^4 - 5^4): 340.8 mm^4; 1 GPa over 60 mm, 1 MPa over 100 mm.
    assert twist(ROD) == pytest.approx(math.degrees(0.03 / 16.362), rel=1e-4, abs=0)
    assert twist(HOSE) == pytest.approx(math.degrees(0.03 / 3.408e-3), rel=1e-3, abs=0)
    assert twist(HOSE) > 180.0  # more than such a capacitor's whole travel
    assert twist(ROD) < 0.2
    assert insulation(ROD) == 0.06


def test_hard_wood_is_about_as_stiff_as_hard_plastic():
    twists = [
        twist(Shaft(material=name, length=0.06, diameter=0.010))
        for name in ("beech", "birch", "POM", "PVC", "acrylic")
    ]
    assert max(twists) < 2.0 * min(twists)


def test_what_is_stated_wins_and_says_so():
    assert windup(Drive(windup=0.01, shaft=HOSE), CAPACITOR) == (0.01, "stated")
    assert windup(Drive(windup=0.0, shaft=HOSE), CAPACITOR) == (0.0, "stated")
    assert windup(Drive(shaft=ROD), CAPACITOR)[1] == "shaft"
    assert windup(Drive(), CAPACITOR) == (0.0, "none")
    assert shaft_stiffness(Shaft(stiffness=5.0)) == 5.0


def test_torque_through_a_reduction():
    # Energy: five turns of the motor for one of the shaft, less three tenths.
    assert torque_available(Drive(motor_torque=0.2, reduction=5.0, efficiency=0.7)) == pytest.approx(
        0.7, rel=1e-12, abs=0
    )
    assert torque_needed(Drive(shaft_torque=0.4), CAPACITOR) == 0.4
    assert torque_needed(Drive(), CAPACITOR) == usual_shaft_torque("air")


@pytest.mark.parametrize("kind", CAPACITOR_KINDS)
def test_every_kind_of_capacitor_has_a_usual_torque(kind):
    # From a finger's turn to a stiff vacuum capacitor's; common practice.
    assert 0.01 <= usual_shaft_torque(kind) <= 0.5


def test_lengths_per_kilovolt():
    # IEC TS 60815-1, 2008, from memory: 22 mm per kilovolt rms at very light pollution.
    assert pytest.approx(0.009, rel=1e-12, abs=0) == DRY_PER_VOLT * 3000.0
    assert DAMP_PER_VOLT * math.sqrt(2.0) * 1000.0 == pytest.approx(0.022, rel=1e-12, abs=0)


def test_metal_insulates_nothing():
    assert insulation(Shaft(material="brass", length=0.1, diameter=0.006)) == 0.0
    assert insulation(Shaft(stiffness=5.0)) is None
    assert insulation(Shaft(stiffness=5.0, material="FR4", length=0.05)) == 0.05
    assert insulation(None) is None


@pytest.mark.parametrize("name", SHAFT_MATERIALS)
def test_shear_moduli_are_those_of_their_kind(name):
    # Metals 20 to 90 GPa, rods 0.1 to 6 GPa, hoses thousands of times softer: a handbook's orders of magnitude.
    found = SHAFT_MATERIALS[name]
    low, high = (2e5, 2e7) if "hose" in name else (0.1e9, 6e9) if found.insulates else (20e9, 90e9)
    assert low <= found.shear_modulus <= high
    assert found.source


def test_beech_by_its_published_moduli():
    # J. Wood Science 65, 2019, table 1: 899 and 595 MPa; a round bar along the grain has their harmonic mean.
    assert SHAFT_MATERIALS["beech"].shear_modulus == pytest.approx(2e6 / (1 / 899 + 1 / 595), rel=0.01, abs=0)
