# SPDX-License-Identifier: BSD-3-Clause
"""From the table [drive] to the drive of a design."""

from ringwright.antenna.design import Capacitor, Drive, Shaft
from ringwright.antenna.design_file.models import DriveTable, ShaftTable
from ringwright.antenna.design_file.place import Place
from ringwright.antenna.drive_shaft import usual_shaft_torque
from ringwright.errors import DesignError
from ringwright.units import format_quantity

_USUAL_EFFICIENCY = (0.7, "spur gears; a worm has 0.3 to 0.5, common practice")
_DIMENSIONS = ("material", "length", "diameter")


def read_drive(table: DriveTable | None, capacitor: Capacitor, place: Place) -> Drive | None:
    """The drive of [drive] and [drive.shaft]; None where there is none."""
    if table is None:
        return None
    place.note_unset(table)
    shaft = None if table.shaft is None else _shaft(table.shaft, place.under("shaft"))
    if shaft is None and table.windup is None:
        place.note("windup", "0 deg", "neither it nor a shaft is stated")
    if table.shaft_torque is None:
        usual = format_quantity(usual_shaft_torque(capacitor.kind), "Nm")
        place.note("shaft_torque", usual, f"to turn a capacitor of kind {capacitor.kind}, common practice")
    return Drive(
        steps_per_turn=table.steps_per_turn,
        microsteps=table.microsteps,
        reduction=table.reduction,
        backlash=table.backlash,
        windup=table.windup,
        speed=_speed(table),
        motor_torque=table.motor_torque,
        efficiency=_efficiency(table, place),
        shaft_torque=table.shaft_torque,
        shaft=shaft,
    )


def _speed(table: DriveTable) -> float:
    """Turns of the motor per second."""
    speed, unit = table.speed
    return speed / 60.0 if unit == "rpm" else speed / table.steps_per_turn


def _efficiency(table: DriveTable, place: Place) -> float:
    if table.efficiency is not None:
        return table.efficiency
    if table.reduction == 1.0:
        return 1.0
    place.note("efficiency", *_USUAL_EFFICIENCY)
    return _USUAL_EFFICIENCY[0]


def _shaft(table: ShaftTable, place: Place) -> Shaft:
    sized = [key for key in ("diameter", "bore") if getattr(table, key) is not None]
    if table.stiffness is not None and sized:
        raise DesignError(
            f"{place.key(sized[0])} and stiffness are both given; leave one of them out, stiffness is the whole shaft's"
        )
    if table.stiffness is None:
        missing = [key for key in _DIMENSIONS if getattr(table, key) is None]
        if missing:
            raise DesignError(
                f"{place.key(missing[0])} is missing; a shaft needs material, length and diameter, as in "
                'material = "POM", length = "60 mm", diameter = "10 mm", or a stiffness = "5 Nm/rad" from its data'
            )
    elif (table.material is None) != (table.length is None):
        key = "material" if table.material is None else "length"
        raise DesignError(
            f"{place.key(key)} is missing; what a shaft insulates needs both material and length"
        )
    if table.diameter is not None and table.bore is not None and table.bore >= table.diameter:
        raise DesignError(
            f"{place.key('bore')} of {format_quantity(table.bore, 'mm')} must be less than the diameter of "
            f"{format_quantity(table.diameter, 'mm')}; leave it out for a solid shaft"
        )
    return Shaft(
        material=table.material,
        length=table.length,
        diameter=table.diameter,
        bore=table.bore or 0.0,
        stiffness=table.stiffness,
    )
