# SPDX-License-Identifier: BSD-3-Clause
"""What the person should know of a drive: too coarse, too soft, too weak, or a path for the kilovolts."""

import math
from collections.abc import Iterable, Sequence

from ringwright.antenna.design import Design
from ringwright.antenna.drive import DriveFigures
from ringwright.antenna.drive_resolution import SHARE_OF_WIDTH
from ringwright.antenna.drive_shaft import LET_GO, TORQUE_RESERVE
from ringwright.antenna.prediction import BandPrediction, Notice
from ringwright.antenna.shaft_materials import SHAFT_MATERIALS
from ringwright.physics.shaft import torsional_stiffness
from ringwright.units import format_quantity

_CURE = "beech"
_CURE_DIAMETERS = (0.006, 0.008, 0.010, 0.012, 0.016, 0.020, 0.025)
"""Dowels of hard wood as they are sold [m]."""


def drive_notices(design: Design, bands: Sequence[BandPrediction]) -> Iterable[Notice]:
    """Of the drive as a whole; none without one."""
    found = [band.drive for band in bands if band.drive is not None]
    if not found:
        return
    yield from _of_torque(found[0])
    worst = max(found, key=lambda each: each.insulation_needed)
    yield from _of_insulation(design, worst)
    if design.capacitor.travel is None:
        yield Notice(
            code="travel-unknown",
            text="Where the drive lands is not known without the capacitor's travel: state capacitor.travel, as in "
            '"16 turns".',
        )


def band_drive_notices(band: BandPrediction, name: str, *, insulation: float) -> Iterable[Notice]:
    """Of where the drive lands on one band; `insulation` [m] is what a shaft needs on the worst of all bands."""
    drive = band.drive
    if drive is None or drive.lands_within is None or drive.lands_within <= SHARE_OF_WIDTH * drive.width:
        return
    assert drive.step_worst is not None
    assert drive.windup_worst is not None
    lands = (
        f"{name}: the drive lands within {_hertz(drive.lands_within)}, more than a tenth of the "
        f"{_hertz(drive.width)} at SWR 2"
    )
    if drive.reduction_needed is None:
        yield Notice(
            code="shaft-twists",
            text=f"{lands}, and no gearing cures it: the shaft twists {drive.windup_angle_deg:.2g} deg, "
            f"{_hertz(drive.windup_worst)}, and lets go of {LET_GO:.0%} of that at once. "
            f"{_stiffer(drive, length=insulation)}",
            band=band.band,
        )
        return
    microsteps = "" if drive.microsteps_needed is None else f", or {drive.microsteps_needed} microsteps"
    yield Notice(
        code="step-too-wide",
        text=f"{lands}: one microstep is {_hertz(drive.step_worst)}. A reduction of {drive.reduction_needed:.3g} lands "
        f"there{microsteps}, which a loaded motor does not follow evenly; with whole steps alone it takes "
        f"{drive.reduction_needed_whole_steps:.3g}.",
        band=band.band,
    )


def _of_torque(drive: DriveFigures) -> Iterable[Notice]:
    has, needs = (
        format_quantity(each, "Nm", digits=2) for each in (drive.torque_available, drive.torque_needed)
    )
    if drive.torque_available < drive.torque_needed:
        yield Notice(
            code="drive-stalls",
            text=f"The drive has {has} at the capacitor's shaft, which takes {needs}: it stalls and loses steps. Use a "
            "larger reduction or a stronger motor.",
        )
    elif drive.torque_available < TORQUE_RESERVE * drive.torque_needed:
        yield Notice(
            code="drive-weak",
            text=f"The drive has {has} at the capacitor's shaft, which takes {needs}: less than the double that cold, "
            "dirt and age ask for.",
        )


def _of_insulation(design: Design, drive: DriveFigures) -> Iterable[Notice]:
    if drive.insulation is None:
        return
    assert design.drive is not None
    assert design.drive.shaft is not None
    material = design.drive.shaft.material
    if drive.insulation == 0.0:
        yield Notice(
            code="shaft-conducts",
            text=f"A shaft of {material} brings the capacitor's kilovolts to the motor and its cable: put "
            f"{format_quantity(drive.insulation_needed_damp, 'mm', digits=2)} or more of insulator between.",
        )
    elif drive.insulation < drive.insulation_needed_damp:
        lengths = [
            format_quantity(each, "mm", digits=3)
            for each in (drive.insulation, drive.insulation_needed, drive.insulation_needed_damp)
        ]
        place = "even clean and dry" if drive.insulation < drive.insulation_needed else "in the damp"
        yield Notice(
            code="shaft-short",
            text=f"{lengths[0]} of {material} are short for the peak voltage {place}: {lengths[1]} clean and dry, "
            f"{lengths[2]} outdoors.",
        )


def _stiffer(drive: DriveFigures, *, length: float) -> str:
    """The thinnest hard-wood shaft, as long as the voltage asks, whose twist leaves room for the steps."""
    assert drive.step_worst is not None
    assert drive.windup_worst is not None
    room = SHARE_OF_WIDTH * drive.width - drive.step_worst / 2.0
    if room <= 0.0:
        return (
            "The steps alone are too wide besides: take a stiffer shaft and a larger reduction, at least "
            f"{_reduction_for_steps(drive):.2g} times the present one."
        )
    enough = math.radians(drive.windup_angle_deg) * room / (LET_GO * drive.windup_worst)
    length = math.ceil(length * 1e3) / 1e3  # to the millimetre above, so that what is bought is not short
    for diameter in _CURE_DIAMETERS:
        stiffness = torsional_stiffness(
            SHAFT_MATERIALS[_CURE].shear_modulus, length=length, diameter=diameter
        )
        twist = drive.torque_needed / float(stiffness)
        if twist <= enough:
            return (
                f"A stiff insulating shaft does: {format_quantity(length, 'mm', digits=4)} of {_CURE}, "
                f"{format_quantity(diameter, 'mm')} thick, would twist {math.degrees(twist):.2g} deg."
            )
    thickest = format_quantity(_CURE_DIAMETERS[-1], "mm")
    return f"Ease the capacitor's bearings: a {_CURE} dowel of {thickest} would still twist too far."


def _reduction_for_steps(drive: DriveFigures) -> float:
    """How many times finer the steps must be to take half of the room and leave the other half to the shaft."""
    assert drive.step_worst is not None
    return drive.step_worst / (SHARE_OF_WIDTH * drive.width)


def _hertz(value: float) -> str:
    return format_quantity(value, "MHz" if value >= 1e6 else "kHz" if value >= 1e3 else "Hz", digits=3)
