# SPDX-License-Identifier: BSD-3-Clause
"""[drive] and [drive.shaft] as they are written: units, defaults with reasons, one sentence for every slip."""

import math

import pytest

from ringwright.antenna.design_file import parse_design
from ringwright.errors import DesignError

RING = """
format = 1
name = "driven"
bands = ["40m"]
[ring]
perimeter = "3 m"
[coupling]
diameter = "0.15 m"
[capacitor]
kind = "vacuum"
minimum = "10 pF"
maximum = "500 pF"
travel = "16 turns"
[drive]
"""
SHAFT = '[drive.shaft]\nmaterial = "POM"\nlength = "60 mm"\ndiameter = "10 mm"\n'


def design(drive):
    return parse_design(RING + drive, source="driven.toml")


def read(drive):
    found = design(drive).drive
    assert found is not None
    return found


def test_everything_stated():
    found = read(
        'reduction = 5\nspeed = "300 rpm"\nmotor_torque = "40 Ncm"\nefficiency = 0.5\nshaft_torque = "150 mNm"\n'
        'windup = "0.2 deg"\n[drive.shaft]\nmaterial = "birch"\nlength = "8 cm"\ndiameter = "12 mm"\nbore = "4 mm"\n'
    )
    assert found.speed == pytest.approx(5.0, rel=1e-12, abs=0)
    assert found.motor_torque == pytest.approx(0.4, rel=1e-12, abs=0)
    assert found.shaft_torque == pytest.approx(0.15, rel=1e-12, abs=0)
    assert found.efficiency == 0.5
    assert found.windup == pytest.approx(math.radians(0.2), rel=1e-12, abs=0)
    assert found.shaft is not None
    assert (found.shaft.material, found.shaft.length, found.shaft.diameter, found.shaft.bore) == (
        "birch",
        0.08,
        0.012,
        0.004,
    )


def test_speed_in_whole_steps():
    assert read('steps_per_turn = 400\nspeed = "1000 steps/s"\n').speed == pytest.approx(
        2.5, rel=1e-12, abs=0
    )


def test_stiffness_of_a_data_sheet():
    found = read('[drive.shaft]\nstiffness = "0.5 Nm/deg"\n').shaft
    assert found is not None
    assert found.stiffness == pytest.approx(0.5 * 180.0 / math.pi, rel=1e-12, abs=0)


def test_defaults_are_told_with_their_reasons():
    notes = "\n".join(design("reduction = 3\n").defaults_used)
    for text in (
        "drive.speed = 120 rpm",
        "drive.motor_torque = 0.2 Nm",
        "drive.efficiency = 0.7",
        "drive.shaft_torque = 0.2 Nm (to turn a capacitor of kind vacuum, common practice)",
        "drive.windup = 0 deg (neither it nor a shaft is stated)",
    ):
        assert text in notes
    assert "drive.efficiency" not in "\n".join(design("").defaults_used)  # nothing geared, nothing lost
    assert "drive.windup" not in "\n".join(design(SHAFT).defaults_used)


@pytest.mark.parametrize(
    ("drive", "sentence"),
    [
        ('speed = "120"', 'drive.speed: "120" has no unit'),
        (
            "speed = 120",
            'drive.speed: 120 has no unit; write it in quotes and with its unit, as in "120 rpm"',
        ),
        ('speed = "0 rpm"', "drive.speed"),
        ('speed = "-5 steps/s"', "must be more than 0"),
        ('speed = "3 Hz"', "drive.speed"),
        ('motor_torque = "0.2 N"', 'drive.motor_torque: "0.2 N" is a force, but a torque is needed'),
        ('motor_torque = "0 Nm"', "must be more than 0 Nm"),
        ('shaft_torque = "30 nm"', "drive.shaft_torque"),
        ("efficiency = 1.2", "drive.efficiency: 1.2 must be at most 1"),
        ("efficiency = 0", "drive.efficiency: 0 must be more than 0"),
        ("microsteps = 0", "drive.microsteps: 0 must be from 1 to 256"),
        ("shaft = 1", "drive.shaft"),
        ("[drive.shaft]", "drive.shaft.material is missing; a shaft needs material, length and diameter"),
        ('[drive.shaft]\nmaterial = "POM"\ndiameter = "8 mm"', "drive.shaft.length is missing"),
        ('[drive.shaft]\nmaterial = "beach"', 'did you mean "beech"?'),
        (SHAFT + 'bore = "10 mm"', "drive.shaft.bore of 10 mm must be less than the diameter of 10 mm"),
        (SHAFT + 'stiffness = "5 Nm/rad"', "drive.shaft.diameter and stiffness are both given"),
        (
            '[drive.shaft]\nstiffness = "5 Nm/rad"\nbore = "1 mm"',
            "drive.shaft.bore and stiffness are both given",
        ),
        ('[drive.shaft]\nstiffness = "5 Nm/rad"\nlength = "50 mm"', "drive.shaft.material is missing"),
        ('[drive.shaft]\nstiffness = "5 Nm/rad"\nmaterial = "FR4"', "drive.shaft.length is missing"),
        ('[drive.shaft]\nstiffness = "5 Nm"', 'drive.shaft.stiffness: "5 Nm" is a torque'),
        ('[drive.shaft]\nlenght = "50 mm"', "length"),
    ],
)
def test_a_slip_is_one_sentence(drive, sentence):
    with pytest.raises(DesignError) as refused:
        design(drive + "\n")
    assert sentence in str(refused.value)
    assert "\n" not in str(refused.value)
