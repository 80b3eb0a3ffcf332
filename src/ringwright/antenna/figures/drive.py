# SPDX-License-Identifier: BSD-3-Clause
"""Figures of the drive: where it lands, how long it takes, whether it turns, and what it keeps off the motor."""

from ringwright.antenna.figures.figure import (
    DEGREE_OF_TURN,
    HERTZ,
    MILLIMETRE,
    NEWTON_METRE,
    NUMBER,
    PER_CENT,
    SECOND,
    WORD,
    Figure,
)
from ringwright.antenna.figures.sources import EXACT

_PAGE = "docs/explanation/drive.md"
_TUNING = f"own derivation, {_PAGE}, Hertz per step"
_LANDING = f"own derivation, {_PAGE}, Where it lands"
_TORSION = "S. P. Timoshenko, Strength of Materials, part I, 3rd ed., Van Nostrand, 1955; material: " + _PAGE
_PRACTICE = "common practice, no source"
_LAW = "as far as the capacitor's law and travel that the design states"
_SLOPE = "|df/dC| |dC/d turn|"
_STEP_INPUTS = ("drive.steps_per_turn", "drive.microsteps", "drive.reduction", "capacitor", "frequency_hz")
_TWIST_INPUTS = ("drive.windup_angle_deg", "capacitor", "frequency_hz")


def _step(name: str, where: str) -> Figure:
    return Figure(
        key=f"drive.step_{name}_hz",
        label=f"one microstep, {where}",
        scale=HERTZ,
        digits=3,
        definition=f"Change of tuning for one microstep, {where}; none where the capacitor does not reach.",
        formula=f"{_SLOPE}/(steps per turn x microsteps x reduction)",
        inputs=_STEP_INPUTS,
        source=_TUNING,
        validity=_LAW + "; microsteps are even only without load",
    )


def _lost(what: str, name: str, where: str, *, angle: str, inputs: tuple[str, ...]) -> Figure:
    return Figure(
        key=f"drive.{name}_hz",
        label=f"{what}, {where}",
        scale=HERTZ,
        digits=3,
        definition=f"What the drive's {what} is worth in tuning, {where}; none where the capacitor does not reach.",
        formula=f"{_SLOPE} x {angle}/360 deg",
        inputs=inputs,
        source=_TUNING,
        validity=_LAW,
    )


def _insulation(name: str, what: str, *, per_kilovolt: str, source: str) -> Figure:
    return Figure(
        key=f"drive.insulation_needed{name}_m",
        label=f"insulation needed, {what}",
        scale=MILLIMETRE,
        digits=2,
        definition=f"Length of {what} surface that keeps the gap's peak voltage off the motor.",
        formula=f"{per_kilovolt} x must_stand_peak",
        inputs=("capacitor.must_stand_peak_v",),
        source=source,
        validity="smooth, unbroken surface; no guarantee: dirt, salt, dew and damp wood shorten it, edges in air too",
    )


DRIVE_FIGURES = (
    _step("low", "lower edge"),
    _step("mid", "mid-band"),
    _step("high", "upper edge"),
    _step("worst", "at its coarsest in the band"),
    _lost("backlash", "backlash", "mid-band", angle="backlash", inputs=("drive.backlash", "capacitor")),
    _lost(
        "backlash",
        "backlash_worst",
        "at its worst in the band",
        angle="backlash",
        inputs=("drive.backlash", "capacitor"),
    ),
    _lost("windup", "windup", "mid-band", angle="windup", inputs=_TWIST_INPUTS),
    _lost("windup", "windup_worst", "at its worst in the band", angle="windup", inputs=_TWIST_INPUTS),
    Figure(
        key="drive.windup_angle_deg",
        label="windup",
        scale=DEGREE_OF_TURN,
        digits=3,
        definition="Angle the shaft twists before the rotor follows.",
        formula="windup as stated, else shaft_torque/stiffness",
        inputs=("drive.windup", "drive.shaft", "drive.torque_needed_nm", "drive.shaft_stiffness_nm"),
        source=_TORSION,
        validity="ends that are held all round; grub screws and plugged ends give way on top",
    ),
    Figure(
        key="drive.windup_set_by",
        label="windup from",
        scale=WORD,
        digits=0,
        definition="Where the windup comes from: stated in the design, the shaft's dimensions, or nothing known.",
        formula="stated, else shaft, else none",
        inputs=("drive.windup", "drive.shaft"),
        source="the design",
        validity=EXACT,
    ),
    Figure(
        key="drive.lands_within_hz",
        label="lands within",
        scale=HERTZ,
        digits=3,
        definition="Furthest from the wanted frequency that the drive may end, at its worst in the band, every target "
        "reached from the same side.",
        formula="step/2 + 0.3 x windup, both at their worst; backlash drops out",
        inputs=("drive.step_worst_hz", "drive.windup_worst_hz"),
        source=f"{_LANDING}; 0.3 of the windup springs back when friction lets go, {_PRACTICE}",
        validity=_LAW + "; no lost steps, an even load",
    ),
    Figure(
        key="drive.width_hz",
        label="width to land in",
        scale=HERTZ,
        digits=4,
        definition="Bandwidth the drive is measured against: the SWR-2 width as found, or that of a perfect match.",
        formula="bandwidth_swr2, else 0.7071 bandwidth_half_power",
        inputs=("bandwidth_swr2_hz", "bandwidth_half_power_hz"),
        source=_LANDING,
        validity=EXACT,
    ),
    Figure(
        key="drive.lands_within_pct",
        label="lands within, of the width",
        scale=PER_CENT,
        digits=3,
        definition="The same over that width; a tenth of it is fine.",
        formula="100 lands_within/width",
        inputs=("drive.lands_within_hz", "drive.width_hz"),
        source=f"{_LANDING}; a tenth, {_PRACTICE}",
        validity=_LAW,
    ),
    Figure(
        key="drive.step_of_half_power_pct",
        label="one microstep, of the half-power bandwidth",
        scale=PER_CENT,
        digits=3,
        definition="Coarsest microstep in the band over the half-power bandwidth.",
        formula="100 step_worst/bandwidth_half_power",
        inputs=("drive.step_worst_hz", "bandwidth_half_power_hz"),
        source=_TUNING,
        validity=_LAW,
    ),
    Figure(
        key="drive.reduction_needed",
        label="reduction needed",
        scale=NUMBER,
        digits=3,
        definition="Least reduction that lands within a tenth of the width with the microsteps as they are; none where "
        "the shaft's twist alone is more.",
        formula="reduction x (step/2)/(width/10 - 0.3 x windup)",
        inputs=("drive.reduction", "drive.step_worst_hz", "drive.windup_worst_hz", "drive.width_hz"),
        source=_LANDING,
        validity=_LAW + "; microsteps are even only without load",
    ),
    Figure(
        key="drive.reduction_needed_whole_steps",
        label="reduction needed, whole steps",
        scale=NUMBER,
        digits=3,
        definition="The same if the motor is trusted with whole steps only, as under load it should be.",
        formula="reduction_needed x microsteps",
        inputs=("drive.reduction_needed", "drive.microsteps"),
        source=f"{_LANDING}; {_PRACTICE}",
        validity=_LAW,
    ),
    Figure(
        key="drive.microsteps_needed",
        label="microsteps needed",
        scale=NUMBER,
        digits=3,
        definition="Fewest microsteps of 1, 2, 4 ... 256 that land within a tenth of the width with the reduction as "
        "it is; none where 256 do not.",
        formula="least of 1, 2, 4 ... 256 with step/2 + 0.3 x windup <= width/10",
        inputs=("drive.microsteps", "drive.step_worst_hz", "drive.windup_worst_hz", "drive.width_hz"),
        source=_LANDING,
        validity=_LAW + "; microsteps are even only without load",
    ),
    Figure(
        key="drive.travel_time_s",
        label="time over the full travel",
        scale=SECOND,
        digits=3,
        definition="Time from one end of the capacitor to the other.",
        formula="travel turns x reduction/speed",
        inputs=("capacitor.travel", "drive.reduction", "drive.speed"),
        source="definition of speed",
        validity="without ramps",
    ),
    Figure(
        key="drive.next_band_time_s",
        label="time to the next band",
        scale=SECOND,
        digits=3,
        definition="Time to the setting of the next band of the design; none for the last, and out of reach.",
        formula="travel_time x |difference of at_travel|",
        inputs=("drive.travel_time_s", "tuning.at_travel"),
        source="definition of speed",
        validity="without ramps and without the run past the target that a way from one side takes",
    ),
    Figure(
        key="drive.torque_needed_nm",
        label="torque needed",
        scale=NEWTON_METRE,
        digits=2,
        definition="Torque that turns the capacitor's shaft.",
        formula="shaft_torque, or what is usual of its kind",
        inputs=("drive.shaft_torque", "capacitor.kind"),
        source=f"the design, or {_PRACTICE}",
        validity="measure it: a string on a drum of known radius and a spring balance",
    ),
    Figure(
        key="drive.torque_available_nm",
        label="torque available",
        scale=NEWTON_METRE,
        digits=2,
        definition="The motor's torque at the capacitor's shaft; twice what is needed is a sound reserve.",
        formula="motor_torque x reduction x efficiency",
        inputs=("drive.motor_torque", "drive.reduction", "drive.efficiency"),
        source=f"conservation of energy; reserve, {_PRACTICE}",
        validity="at the stated speed; a stepper's torque falls with it",
    ),
    Figure(
        key="drive.shaft_stiffness_nm",
        label="shaft stiffness, per radian",
        scale=NEWTON_METRE,
        digits=3,
        definition="Torque that would twist the shaft by one radian; none without a shaft.",
        formula="stiffness as stated, else G pi (D^4 - d^4)/(32 length)",
        inputs=("drive.shaft",),
        source=_TORSION,
        validity="ends that are held all round",
    ),
    Figure(
        key="drive.insulation_m",
        label="insulation",
        scale=MILLIMETRE,
        digits=3,
        definition="Length of insulator between capacitor and motor; 0 for metal, none where its material is unknown.",
        formula="length of an insulating shaft",
        inputs=("drive.shaft",),
        source="the design",
        validity="clear length between the fittings at both ends",
    ),
    _insulation("", "clean dry", per_kilovolt="3 mm/kV", source=_PRACTICE),
    _insulation(
        "_damp",
        "damp outdoor",
        per_kilovolt="22 mm/kV rms",
        source="IEC TS 60815-1, 2008, very light pollution, from memory; for mains frequency",
    ),
)
