# SPDX-License-Identifier: BSD-3-Clause
"""Figures of what leaves the ring, and of how much power it may be given."""

from ringwright.antenna.figures.figure import DBI, DEGREE, WATT, WORD, Figure
from ringwright.antenna.figures.sources import SOLUTION, TERMS, THIN_WIRE

_PATTERN_INPUTS = ("ring", "coupling", "site", "tuning.ring_current_max_rms_a")
_GAIN = "10 log10(4 pi U/power), U watts per steradian in that direction"

OUTSIDE_FIGURES = (
    Figure(
        key="pattern.gain_max_dbi",
        label="largest gain",
        scale=DBI,
        digits=2,
        definition="Power gain in the strongest direction: antenna losses included, mismatch not.",
        formula=_GAIN,
        inputs=_PATTERN_INPUTS,
        source=f"{TERMS} (gain); {SOLUTION}",
        validity=THIN_WIRE,
    ),
    Figure(
        key="pattern.elevation_deg",
        label="its elevation",
        scale=DEGREE,
        digits=0,
        definition="Elevation of the strongest direction above the horizontal.",
        formula="where U is largest",
        inputs=_PATTERN_INPUTS,
        source=SOLUTION,
        validity="in free space a ring radiates nearly alike all round its plane, and any of these may come out",
    ),
    Figure(
        key="pattern.azimuth_deg",
        label="its azimuth",
        scale=DEGREE,
        digits=0,
        definition="Azimuth of the strongest direction, turning from the x axis towards y.",
        formula="where U is largest",
        inputs=_PATTERN_INPUTS,
        source=SOLUTION,
        validity="0 where the strongest direction is straight up or down",
    ),
    Figure(
        key="pattern.gain_20deg_dbi",
        label="gain at 20 deg elevation",
        scale=DBI,
        digits=2,
        definition="Largest power gain over all azimuths at 20 degrees elevation.",
        formula=_GAIN,
        inputs=_PATTERN_INPUTS,
        source=f"{TERMS} (gain); {SOLUTION}",
        validity=THIN_WIRE,
    ),
    Figure(
        key="limits.power_max_w",
        label="power allowed",
        scale=WATT,
        digits=3,
        definition="Greatest peak envelope power that keeps what every part of the capacitor stands and carries, as "
        "far as it is known, at the unfavourable end of the stated tolerances; none where nothing is known.",
        formula="least of power (stands/found)^2 over the voltage and current of each part, found at the 90 % end",
        inputs=(
            "capacitor.stands_peak_v",
            "capacitor.rated_current",
            "tuning.capacitor_voltage_peak_v",
            "tuning.capacitor_current_rms_a",
            "tolerance",
        ),
        source="voltage and current go with the square root of power, Ohm's law",
        validity="for what is known only: it says nothing about exposure, heat, or a rating's own truth; a plate gap's "
        "is a guide",
    ),
    Figure(
        key="limits.set_by",
        label="set by",
        scale=WORD,
        digits=0,
        definition="What sets the power allowed.",
        formula="the rating with the least power",
        inputs=("limits.power_max_w",),
        source="voltage and current go with the square root of power, Ohm's law",
        validity="among what is rated",
    ),
    Figure(
        key="limits.eirp_w",
        label="EIRP",
        scale=WATT,
        digits=3,
        definition="Power that an isotropic radiator would need for the same field in the strongest direction.",
        formula="power x 10^(gain_max_dbi/10)",
        inputs=("power", "pattern.gain_max_dbi"),
        source="ITU Radio Regulations, No. 1.161",
        validity=THIN_WIRE + "; no loss of the feedline in it",
    ),
)
