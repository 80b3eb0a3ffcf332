# SPDX-License-Identifier: BSD-3-Clause
"""Figures of the capacitor: what it stands, what each part of it sees, how warm it gets."""

from ringwright.antenna.figures.figure import (
    AMPERE,
    KELVIN,
    KILOVOLT,
    NANOHENRY,
    PICOFARAD,
    WATT,
    WORD,
    Figure,
)
from ringwright.antenna.figures.sources import ADDRESSES, THIN_WIRE

_PAGE = "docs/explanation/capacitor.md"
_DIVIDES = f"own bookkeeping, {_PAGE}, What each part sees; Kirchhoff's laws"
_SHARES = THIN_WIRE + "; shares of the capacitances alone, an error of 1/Q squared"
_GAP_VOLTAGE, _GAP_CURRENT = "tuning.capacitor_voltage_peak_v", "tuning.capacitor_current_rms_a"
_SETTING = ("capacitor", "tuning.capacitance_f")
_AVERAGED = "mode factor x transmit_share"


CAPACITOR_FIGURES = (
    Figure(
        key="capacitor.stands_peak_v",
        label="capacitor stands, peak",
        scale=KILOVOLT,
        digits=2,
        definition="Peak voltage across the gap that every part of known rating stands; none where nothing is known.",
        formula="least over the parts of (what it stands)/(its share of the gap's voltage); a plate gap stands "
        "0.75 x 0.6 x 0.75 x gaps in series x (24.22 d + 6.08 sqrt(d)) kV, d in cm times the air's density; a rated "
        "voltage falls with the air's density",
        inputs=(
            "capacitor.rated_voltage",
            "capacitor.plate_gap",
            "capacitor.air_temperature",
            "site.altitude",
            "tuning.capacitance_f",
        ),
        source="breakdown: E. Kuffel, W. S. Zaengl, J. Kuffel, High Voltage Engineering: Fundamentals, 2nd ed., "
        "Newnes, 2000, ch. 5 (from memory), after W. O. Schumann, 1923; air density: IEC 60060-1 (from memory), ICAO "
        "Doc 7488; the allowances 0.75 (radio frequency), 0.6 (edges), 0.75 (dust, moisture): common practice, no "
        "source",
        validity="clean, dry plates without burrs; arcs start at edges, dust and dew. A guide, no test of yours",
    ),
    Figure(
        key="capacitor.stands_set_by",
        label="stood by",
        scale=WORD,
        digits=0,
        definition="What sets the voltage the capacitor stands: its rated voltage, its plate gap, or another part.",
        formula="the part with the least voltage across the gap",
        inputs=("capacitor.stands_peak_v",),
        source=_DIVIDES,
        validity="among the parts whose rating is known",
    ),
    Figure(
        key="capacitor.must_stand_peak_v",
        label="capacitor must stand, peak",
        scale=KILOVOLT,
        digits=3,
        definition="Peak voltage that the capacitor must stand at the design's power: the unfavourable end of the "
        "gap's voltage.",
        formula="90 % end of tuning.capacitor_voltage_peak_v; with a calibration not below the one without",
        inputs=(_GAP_VOLTAGE, "tolerance"),
        source="own full-wave solution, docs/explanation/thin-wire.md; stated tolerances, docs/explanation/ranges.md",
        validity=THIN_WIRE,
    ),
    Figure(
        key="capacitor.must_carry_rms_a",
        label="capacitor must carry, rms",
        scale=AMPERE,
        digits=3,
        definition="Current that the capacitor must carry at the design's power: the unfavourable end of the gap's "
        "current, with which all fields grow.",
        formula="90 % end of tuning.capacitor_current_rms_a; with a calibration not below the one without",
        inputs=(_GAP_CURRENT, "tolerance"),
        source="own full-wave solution, docs/explanation/thin-wire.md; stated tolerances, docs/explanation/ranges.md",
        validity=THIN_WIRE,
    ),
    Figure(
        key="capacitor.heat_w",
        label="heat in the capacitor",
        scale=WATT,
        digits=3,
        definition="Heat in all capacitors at the gap at the averaged power, without rotor contact and leads.",
        formula=f"|I_gap|^2 x (resistance of the capacitors) x {_AVERAGED}",
        inputs=(
            *_SETTING,
            _GAP_CURRENT,
            "mode",
            "transmit_share",
        ),
        source=ADDRESSES,
        validity="as far as the Q or ESR that the design states",
    ),
    Figure(
        key="capacitor.contact_heat_w",
        label="heat in the rotor's contact",
        scale=WATT,
        digits=3,
        definition="Heat in the rotor's contact at the averaged power, one of the joints; none if not stated.",
        formula=f"(|I_variable|^2 x contact_resistance) x {_AVERAGED}",
        inputs=(
            "capacitor.contact_resistance",
            "capacitor.variable_current_rms_a",
            "mode",
            "transmit_share",
        ),
        source=ADDRESSES,
        validity="as far as the resistance that the design states; contacts age",
    ),
    Figure(
        key="capacitor.temperature_rise_k",
        label="temperature rise",
        scale=KELVIN,
        digits=3,
        definition="Rise of the variable one's surface above still air after long use; none without its size.",
        formula="(P D^(1/4)/(1.32 A))^(4/5), P the variable one's heat with its contact, A the body's surface",
        inputs=(
            "capacitor.body_diameter",
            "capacitor.body_length",
            "capacitor.heat_w",
        ),
        source="J. P. Holman, Heat Transfer, 10th ed., McGraw-Hill, 2010, table 7-2 (from memory)",
        validity="free convection of a smooth cylinder, no radiation; air in a box is warmer, spots are hotter",
    ),
    Figure(
        key="capacitor.variable_f",
        label="variable capacitor alone",
        scale=PICOFARAD,
        digits=3,
        definition="Capacitance of the variable capacitor itself; out of reach that of its nearer end.",
        formula="C_b = C - fixed - stray; C_b series/(series - C_b) with one in series",
        inputs=(*_SETTING,),
        source=_DIVIDES,
        validity="as the design states fixed, series and stray",
    ),
    Figure(
        key="capacitor.variable_voltage_peak_v",
        label="on the variable one, peak",
        scale=KILOVOLT,
        digits=3,
        definition="Peak voltage across the variable capacitor itself at the design's power.",
        formula="U (1 - C_b/series), C_b the capacitance of its branch",
        inputs=(
            *_SETTING,
            _GAP_VOLTAGE,
        ),
        source=_DIVIDES,
        validity=_SHARES,
    ),
    Figure(
        key="capacitor.variable_current_rms_a",
        label="in the variable one, rms",
        scale=AMPERE,
        digits=3,
        definition="RMS current through the variable capacitor and its rotor's contact at the design's power.",
        formula="I C_b/C",
        inputs=(
            *_SETTING,
            _GAP_CURRENT,
        ),
        source=_DIVIDES,
        validity=_SHARES,
    ),
    Figure(
        key="capacitor.fixed_current_rms_a",
        label="in the fixed one, rms",
        scale=AMPERE,
        digits=3,
        definition="RMS current through the fixed capacitor in parallel at the design's power; none without one.",
        formula="I fixed/C",
        inputs=(
            *_SETTING,
            _GAP_CURRENT,
        ),
        source=_DIVIDES,
        validity=_SHARES,
    ),
    Figure(
        key="capacitor.fixed_heat_w",
        label="heat in the fixed one",
        scale=WATT,
        digits=3,
        definition="Heat in the fixed capacitor at the averaged power; none where its own Q or ESR is not stated.",
        formula=f"(|I_fixed|^2 x (fixed_esr, or 1/(2 pi f fixed fixed_q))) x {_AVERAGED}",
        inputs=(
            *_SETTING,
            "capacitor.fixed_current_rms_a",
        ),
        source=_DIVIDES,
        validity=_SHARES,
    ),
    Figure(
        key="capacitor.series_voltage_peak_v",
        label="on the series one, peak",
        scale=KILOVOLT,
        digits=3,
        definition="Peak voltage across the fixed capacitor in series at the design's power; none without one.",
        formula="U C_b/series",
        inputs=(
            *_SETTING,
            _GAP_VOLTAGE,
        ),
        source=_DIVIDES,
        validity=_SHARES,
    ),
    Figure(
        key="capacitor.series_heat_w",
        label="heat in the series one",
        scale=WATT,
        digits=3,
        definition="Heat in the series capacitor at the averaged power; none where its own Q or ESR is not stated.",
        formula=f"(|I_variable|^2 x (series_esr, or 1/(2 pi f series series_q))) x {_AVERAGED}",
        inputs=(
            *_SETTING,
            "capacitor.variable_current_rms_a",
        ),
        source=_DIVIDES,
        validity=_SHARES,
    ),
    Figure(
        key="capacitor.lead_inductance_h",
        label="inductance of the leads",
        scale=NANOHENRY,
        digits=3,
        definition="What both straps add to the straight conductor across the gap; none without lead_length.",
        formula="2 [M(l, w/4) - M(l, gap_width)], M of two parallel filaments",
        inputs=(
            "capacitor.lead_length",
            "capacitor.lead_width",
            "capacitor.gap_width",
        ),
        source="E. B. Rosa, Bull. Bureau of Standards 4, 301-344, 1908",
        validity="two straps of equal length side by side, up to 1.5 times as wide as their distance",
    ),
)
