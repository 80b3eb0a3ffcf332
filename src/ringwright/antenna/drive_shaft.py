# SPDX-License-Identifier: BSD-3-Clause
"""Motor, shaft and torque: what turns the capacitor, how far it twists on the way, and the volts it keeps away."""

import math

from ringwright.antenna.design import Capacitor, Drive, Shaft
from ringwright.antenna.shaft_materials import SHAFT_MATERIALS
from ringwright.physics.shaft import torsional_stiffness

DRY_PER_VOLT = 3e-6
"""Length of clean dry surface per volt of peak [m/V], 3 mm per kilovolt: three times what air alone needs over short
gaps; common practice, no source."""
DAMP_PER_VOLT = 22e-6 / math.sqrt(2.0)
"""The same outdoors, 22 mm per kilovolt rms: very light pollution, IEC TS 60815-1, 2008, from memory; it is for mains
frequency, and radio frequency heats what leaks."""
LET_GO = 0.3
"""Share of the windup that springs back when a sticking rotor breaks loose: friction in motion is about 0.7 of that at
rest; common practice, no source."""
TORQUE_RESERVE = 2.0
"""Times the torque needed that a drive should have: cold, dirt and age stiffen it; common practice, no source."""

_SHAFT_TORQUE = {
    "air": 0.03, "butterfly": 0.05, "split-stator": 0.05, "vacuum": 0.2, "trombone": 0.1, "coax stub": 0.1,
    "plate": 0.1,
}  # fmt: skip
"""[N m] to turn the capacitor by its kind, on the high side; common practice, no source."""


def usual_shaft_torque(kind: str) -> float:
    """What a capacitor of a kind takes to turn [N m]; common practice."""
    return _SHAFT_TORQUE[kind]


def torque_needed(drive: Drive, capacitor: Capacitor) -> float:
    """At the capacitor's shaft [N m]."""
    return usual_shaft_torque(capacitor.kind) if drive.shaft_torque is None else drive.shaft_torque


def torque_available(drive: Drive) -> float:
    """The motor's at the capacitor's shaft [N m], less what the reduction takes."""
    return drive.motor_torque * drive.reduction * drive.efficiency


def shaft_stiffness(shaft: Shaft) -> float:
    """Torque per angle [N m/rad]: as stated, or of a round shaft of its material."""
    if shaft.stiffness is not None:
        return shaft.stiffness
    assert shaft.material is not None
    assert shaft.length is not None
    assert shaft.diameter is not None
    return float(
        torsional_stiffness(
            SHAFT_MATERIALS[shaft.material].shear_modulus,
            length=shaft.length,
            diameter=shaft.diameter,
            bore=shaft.bore,
        )
    )


def windup(drive: Drive, capacitor: Capacitor) -> tuple[float, str]:
    """Angle the shaft twists before the rotor follows [rad], and what says so: "stated", "shaft" or "none"."""
    if drive.windup is not None:
        return drive.windup, "stated"
    if drive.shaft is None:
        return 0.0, "none"
    return torque_needed(drive, capacitor) / shaft_stiffness(drive.shaft), "shaft"


def insulation(shaft: Shaft | None) -> float | None:
    """Length that keeps the gap's voltage off the motor [m]: 0 for metal, None where nothing is known."""
    if shaft is None or shaft.material is None:
        return None
    return shaft.length if SHAFT_MATERIALS[shaft.material].insulates else 0.0
