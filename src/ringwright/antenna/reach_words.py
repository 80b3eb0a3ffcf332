# SPDX-License-Identifier: BSD-3-Clause
"""Where the capacitor stops, and what to take off or add so that it does not."""

from ringwright.antenna.capacitor_parts import range_at_gap
from ringwright.antenna.design import Capacitor, Design
from ringwright.antenna.prediction import BandPrediction
from ringwright.units import format_quantity


def least_margin(design: Design, band: BandPrediction) -> float:
    """How far the nearer end of the capacitor lies beyond what the band needs [F]; negative where it is missed."""
    low, high = range_at_gap(design.capacitor)
    return min(band.tuning.capacitance_upper_edge - low, high - band.tuning.capacitance_lower_edge)


def out_of_reach(design: Design, band: BandPrediction, name: str) -> str:
    """Which end of the band is missed, by how much, and the remedy."""
    capacitor, tuning = design.capacitor, band.tuning
    low, high = range_at_gap(capacitor)
    if tuning.missing is None:
        return f"{name} is out of reach: the ring is past its own resonance there; make it smaller."
    target = band.point.target
    if tuning.missing < 0.0:
        edge = f"{target.high / 1e6:.5g} MHz"
        stop = f"stops at {tuning.tunes_to / 1e6:.4g} MHz" if tuning.tunes_to else f"does not reach {edge}"
        what = f"with its least {_picofarads(low)} the ring {stop}; take off {_picofarads(-tuning.missing)} to reach "
        cure = edge + _how_to_take_off(capacitor, tuning.missing, most_needed=tuning.capacitance_lower_edge)
    else:
        edge = f"{target.low / 1e6:.5g} MHz"
        start = (
            f"starts at {tuning.tunes_from / 1e6:.4g} MHz" if tuning.tunes_from else f"does not reach {edge}"
        )
        what = f"with its greatest {_picofarads(high)} the ring {start}; add {_picofarads(tuning.missing)} to reach "
        cure = f"{edge} (a fixed one in parallel)"
    span = tuning.capacitance_lower_edge - tuning.capacitance_upper_edge
    if span > high - low:
        cure += (
            f". All of the band takes a range of {_picofarads(span)}, this capacitor has {_picofarads(high - low)}: "
            "nothing in parallel reaches both"
        )
    return f"{name} is out of reach: {what}{cure}."


def _how_to_take_off(capacitor: Capacitor, missing: float, *, most_needed: float) -> str:
    """From what is in parallel; or by a capacitor in series, where the band's lower edge stays in reach with it."""
    where = "of the fixed one" if capacitor.fixed >= -missing else "stray or minimum"
    always = capacitor.stray + capacitor.fixed
    branch = capacitor.minimum + missing
    if capacitor.series is not None or branch <= 0.0:
        return f" ({where})"
    series = capacitor.minimum * branch / -missing
    greatest = capacitor.maximum * series / (capacitor.maximum + series) + always
    if greatest < most_needed:
        return f" ({where})"
    return f" ({where}; or put {_picofarads(series)} in series with the variable one)"


def _picofarads(farads: float) -> str:
    return format_quantity(farads, "pF", digits=3 if farads >= 10e-12 else 2)
