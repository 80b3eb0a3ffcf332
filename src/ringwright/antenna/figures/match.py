# SPDX-License-Identifier: BSD-3-Clause
"""Figures of the resonance and of the match at the coupling."""

from ringwright.antenna.figures.figure import KILOHERTZ, MEGAHERTZ, NUMBER, Figure
from ringwright.antenna.figures.sources import POZAR, SOLUTION, THIN_WIRE, TUNING, YAGHJIAN_BEST

_AT_FEED = ("ring", "coupling", "capacitor", "feedline.impedance", "tuning.capacitance_f")
_AS_BUILT = THIN_WIRE + "; to the feedline's impedance, at the coupling, before any cable"

MATCH_FIGURES = (
    Figure(
        key="q_unloaded",
        label="unloaded Q",
        scale=NUMBER,
        digits=4,
        definition="Q of the ring with its capacitor and site, the coupling loop or arm open, a transformer's primary "
        "shorted.",
        formula="Q0 = f0 (dX/df)/(2 R), X and R in series at the gap",
        inputs=("ring", "capacitor", "resistance_ohm.total"),
        source=YAGHJIAN_BEST,
        validity=THIN_WIRE,
    ),
    Figure(
        key="bandwidth_half_power_hz",
        label="half-power bandwidth",
        scale=KILOHERTZ,
        digits=3,
        definition="f0/Q0 of the unloaded ring; a perfect match has 0.7071 of it at SWR 2, transmission twice it.",
        formula="f0/Q0",
        inputs=("q_unloaded", "frequency_hz"),
        source=f"{POZAR}, sec. 6.1",
        validity=THIN_WIRE,
    ),
    Figure(
        key="bandwidth_swr2_hz",
        label="width at SWR 2",
        scale=KILOHERTZ,
        digits=3,
        definition="Width in which the SWR at the feed stays below 2 with this coupling; none if it never does.",
        formula="match.swr2_high - match.swr2_low",
        inputs=("match.swr2_low_hz", "match.swr2_high_hz"),
        source=TUNING,
        validity=_AS_BUILT,
    ),
    Figure(
        key="match.swr_min",
        label="lowest SWR",
        scale=NUMBER,
        digits=3,
        definition="Lowest SWR over frequency with the capacitor left at its setting.",
        formula="(1 + |S|)/(1 - |S|), S = (Zin - R0)/(Zin + R0)",
        inputs=_AT_FEED,
        source=f"{POZAR}, sec. 2.3; {SOLUTION}",
        validity=_AS_BUILT,
    ),
    Figure(
        key="match.frequency_hz",
        label="lowest SWR at",
        scale=MEGAHERTZ,
        digits=7,
        definition="Frequency of the lowest SWR at that setting.",
        formula="where (1 + |S|)/(1 - |S|) is least",
        inputs=_AT_FEED,
        source=TUNING,
        validity=_AS_BUILT,
    ),
    Figure(
        key="match.swr2_low_hz",
        label="SWR 2, lower edge",
        scale=MEGAHERTZ,
        digits=7,
        definition="Lower edge of the range with SWR below 2; none if there is no such range.",
        formula="(1 + |S|)/(1 - |S|) = 2 below the lowest SWR",
        inputs=_AT_FEED,
        source=TUNING,
        validity=_AS_BUILT,
    ),
    Figure(
        key="match.swr2_high_hz",
        label="SWR 2, upper edge",
        scale=MEGAHERTZ,
        digits=7,
        definition="Upper edge of the range with SWR below 2; none if there is no such range.",
        formula="(1 + |S|)/(1 - |S|) = 2 above the lowest SWR",
        inputs=_AT_FEED,
        source=TUNING,
        validity=_AS_BUILT,
    ),
)
