# SPDX-License-Identifier: BSD-3-Clause
"""The prediction document, `ringwright.prediction/1`: what `predict --json` prints and the pages show."""

from typing import Literal

from pydantic import Field

from ringwright.web.messages.base import Message


class Notice(Message):
    """Something the person should know; `band` is null where it concerns the whole design."""

    code: str
    text: str
    band: str | None


class Tuning(Message):
    capacitance_f: float
    reachable: bool
    at_travel: float | None
    tunes_from_hz: float | None
    tunes_to_hz: float | None
    capacitor_voltage_peak_v: float
    capacitor_current_rms_a: float
    ring_current_max_rms_a: float
    step_hz: float | None
    missing_f: float | None
    capacitance_lower_edge_f: float
    capacitance_upper_edge_f: float
    drift_per_kelvin_hz: float


class ResistanceOhm(Message):
    radiation: float
    ring: float
    joints: float
    capacitor: float
    earth: float | None
    metal: float | None
    coupling: float
    total: float


class WattsPct(Message):
    sky: float
    earth: float | None
    ring: float
    joints: float
    capacitor: float
    coupling: float
    metal: float | None
    sum: float


class Match(Message):
    swr_min: float
    frequency_hz: float
    swr2_low_hz: float | None
    swr2_high_hz: float | None


class Pattern(Message):
    gain_max_dbi: float
    elevation_deg: float
    azimuth_deg: float
    gain_20deg_dbi: float


class Limits(Message):
    power_max_w: float | None
    set_by: str | None
    eirp_w: float | None


class Capacitor(Message):
    stands_peak_v: float | None
    stands_set_by: str | None
    must_stand_peak_v: float
    must_carry_rms_a: float
    heat_w: float
    contact_heat_w: float | None
    temperature_rise_k: float | None
    variable_f: float
    variable_voltage_peak_v: float
    variable_current_rms_a: float
    fixed_current_rms_a: float | None
    fixed_heat_w: float | None
    series_voltage_peak_v: float | None
    series_heat_w: float | None
    lead_inductance_h: float | None


class Drive(Message):
    step_low_hz: float | None
    step_mid_hz: float | None
    step_high_hz: float | None
    step_worst_hz: float | None
    backlash_hz: float | None
    backlash_worst_hz: float | None
    windup_hz: float | None
    windup_worst_hz: float | None
    windup_angle_deg: float
    windup_set_by: str
    lands_within_hz: float | None
    width_hz: float
    lands_within_pct: float | None
    step_of_half_power_pct: float | None
    reduction_needed: float | None
    reduction_needed_whole_steps: float | None
    microsteps_needed: float | None
    travel_time_s: float | None
    next_band_time_s: float | None
    torque_needed_nm: float
    torque_available_nm: float
    shaft_stiffness_nm: float | None
    insulation_m: float | None
    insulation_needed_m: float
    insulation_needed_damp_m: float


class Band(Message):
    band: str | None
    frequency_hz: float
    tuning: Tuning
    resistance_ohm: ResistanceOhm
    watts_pct: WattsPct
    efficiency_free_space_pct: float
    efficiency_sky_pct: float
    q_unloaded: float
    bandwidth_half_power_hz: float
    bandwidth_swr2_hz: float | None
    match: Match
    pattern: Pattern
    limits: Limits
    capacitor: Capacitor
    drive: Drive | None
    cross_check: dict[str, float | None]
    range: dict[str, tuple[float, float]]
    range_led_by: dict[str, str]


class PredictionDocument(Message):
    schema_: Literal["ringwright.prediction/1"] = Field(alias="schema")
    design: str
    calibration: str | None
    defaults_used: list[str]
    warnings: list[Notice]
    bands: list[Band]
