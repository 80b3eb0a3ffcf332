# SPDX-License-Identifier: BSD-3-Clause
"""What a stepper drive does on one band: where it lands, how long it takes, whether it turns and what it stands."""

import math
from dataclasses import dataclass

import numpy as np

from ringwright.antenna.design import Design, Drive, Target
from ringwright.antenna.drive_resolution import Sweep, gearing_needed, shaft_turns, turns_per_step
from ringwright.antenna.drive_shaft import (
    DAMP_PER_VOLT,
    DRY_PER_VOLT,
    LET_GO,
    insulation,
    shaft_stiffness,
    torque_available,
    torque_needed,
    windup,
)
from ringwright.antenna.materials import MATERIALS
from ringwright.antenna.network import GAP
from ringwright.antenna.tuning import TunedRing
from ringwright.physics.drift import thermal_drift

MATCHED_WIDTH = 1.0 / math.sqrt(2.0)
"""SWR-2 width of a perfect match over the half-power bandwidth."""
_FULL_TURN = 2.0 * math.pi


@dataclass(frozen=True, slots=True, kw_only=True)
class DriveFigures:
    """A drive on one band; None where the capacitor's travel is not stated, does not reach, or nothing does it.

    Hertz unless said otherwise; `windup_angle_deg` [deg], times [s], torques and stiffness [N m], lengths [m].
    """

    step_low: float | None
    step_mid: float | None
    step_high: float | None
    step_worst: float | None
    backlash: float | None
    backlash_worst: float | None
    windup: float | None
    windup_worst: float | None
    windup_angle_deg: float
    windup_set_by: str
    lands_within: float | None
    width: float
    lands_within_pct: float | None
    step_of_half_power_pct: float | None
    reduction_needed: float | None
    reduction_needed_whole_steps: float | None
    microsteps_needed: int | None
    travel_time: float | None
    next_band_time: float | None
    torque_needed: float
    torque_available: float
    shaft_stiffness: float | None
    insulation: float | None
    insulation_needed: float
    insulation_needed_damp: float


def find_drive(
    design: Design,
    tuned: TunedRing,
    target: Target,
    *,
    half_power: float,
    swr2: float | None,
    moved: float | None,
    must_stand: float,
) -> DriveFigures | None:
    """Figures of the design's drive, None without one.

    `half_power` and `swr2` are the band's bandwidths [Hz], `moved` the part of the travel to the next band,
    `must_stand` what the capacitor must stand [V peak].
    """
    drive, capacitor = design.drive, design.capacitor
    if drive is None:
        return None
    per_turn = Sweep.along(tuned, capacitor, target)
    step = per_turn.times(turns_per_step(drive))
    backlash = per_turn.times(drive.backlash / _FULL_TURN)
    angle, set_by = windup(drive, capacitor)
    twist = per_turn.times(angle / _FULL_TURN)
    width = MATCHED_WIDTH * half_power if swr2 is None else swr2
    landing = _landing(drive, step.worst, twist.worst, width=width)
    across = shaft_turns(capacitor)
    full = None if across is None else across * drive.reduction / drive.speed
    return DriveFigures(
        step_low=step.low,
        step_mid=step.mid,
        step_high=step.high,
        step_worst=step.worst,
        backlash=backlash.mid,
        backlash_worst=backlash.worst,
        windup=twist.mid,
        windup_worst=twist.worst,
        windup_angle_deg=math.degrees(angle),
        windup_set_by=set_by,
        lands_within=landing.within,
        width=width,
        lands_within_pct=None if landing.within is None else 100.0 * landing.within / width,
        step_of_half_power_pct=None if step.worst is None else 100.0 * step.worst / half_power,
        reduction_needed=landing.reduction,
        reduction_needed_whole_steps=landing.reduction_whole_steps,
        microsteps_needed=landing.microsteps,
        travel_time=full,
        next_band_time=None if full is None or moved is None else full * moved,
        torque_needed=torque_needed(drive, capacitor),
        torque_available=torque_available(drive),
        shaft_stiffness=None if drive.shaft is None else shaft_stiffness(drive.shaft),
        insulation=insulation(drive.shaft),
        insulation_needed=must_stand * DRY_PER_VOLT,
        insulation_needed_damp=must_stand * DAMP_PER_VOLT,
    )


@dataclass(frozen=True, slots=True)
class _Landing:
    within: float | None = None
    reduction: float | None = None
    reduction_whole_steps: float | None = None
    microsteps: int | None = None


def _landing(drive: Drive, step: float | None, twist: float | None, *, width: float) -> _Landing:
    """Half a step, and what a twisted shaft lets go; backlash drops out where every target is reached from one side."""
    if step is None or twist is None:
        return _Landing()
    spring = LET_GO * twist
    reduction, microsteps = gearing_needed(drive, step=step, spring=spring, width=width)
    whole = None if reduction is None else reduction * drive.microsteps
    return _Landing(step / 2.0 + spring, reduction, whole, microsteps)


def drift_per_kelvin(design: Design, tuned: TunedRing) -> float:
    """Change of resonance as the ring's metal warms by one kelvin [Hz]; metal of no name counts as copper."""
    name = design.ring.conductor.material
    expansion = MATERIALS["copper" if name is None else name].expansion
    f, span = tuned.frequency, tuned.frequency * 1e-4
    below, here, above = tuned.network.impedance(f + span * np.array([-1.0, 0.0, 1.0]))[:, GAP, GAP].imag
    slope = f * float(above - below) / (2.0 * span) / float(here)
    return float(thermal_drift(f, expansion=expansion, slope=slope))
