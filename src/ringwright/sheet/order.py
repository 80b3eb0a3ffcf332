# SPDX-License-Identifier: BSD-3-Clause
"""The order of tests from the bench to full power, each with what to expect and when to stop."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ringwright.antenna.design import CouplingKind, Design
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.prediction import BandPrediction, Prediction
from ringwright.safety.mechanics import Mechanics
from ringwright.sheet.measures import minutes

_STEPS = (5.0, 30.0)
"""Watts at which one stops and looks, before the whole power."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Test:
    """`expect` has one entry per line: what should be read."""

    title: str
    how: str
    expect: tuple[str, ...]
    stop: str


def order_of_tests(design: Design, prediction: Prediction, mechanics: Mechanics) -> tuple[Test, ...]:
    """From continuity to full power."""
    return (*_bench(design, prediction), *_powered(design, prediction, mechanics))


def figure_text(key: str, band: BandPrediction) -> str:
    """A predicted figure as `predict` says it."""
    figure = FIGURES[key]
    return figure.text(figure.of(band))


def named(band: BandPrediction) -> str:
    return band.band if band.band is not None and band.is_whole_band else figure_text("frequency_hz", band)


def _bench(design: Design, prediction: Prediction) -> Iterator[Test]:
    ohms = "a dead short, below what the meter's leads have"
    yield Test(
        title="Continuity, nothing connected",
        how="Ohmmeter from one end of the ring at the gap to the other, then along the coupling.",
        expect=(
            f"ring: {ohms}",
            f"coupling: {ohms}"
            if design.coupling.kind is not CouplingKind.TRANSFORMER
            else ("primary: a short; to the ring: open"),
            "across the capacitor alone: open at every position",
        ),
        stop="Any reading that changes when a joint is bent: solder or clamp it again.",
    )
    yield Test(
        title="Insulation and clearance",
        how="Rule and eye: bare metal of the two ends, shaft, walls; turn the capacitor through its whole travel.",
        expect=("every distance of the wiring page, at every position",),
        stop="A distance that is short, or a plate that touches.",
    )
    yield Test(
        title="Resonance with the meter",
        how="Antenna analyser at the coupling, ring in its place, nobody and no tools near it; tune for the dip.",
        expect=tuple(
            f"{named(band)}: dip at {figure_text('match.frequency_hz', band)}, SWR "
            f"{figure_text('match.swr_min', band)}, "
            f"{figure_text('tuning.capacitance_f', band)} across the gap"
            for band in prediction.bands
        ),
        stop="No dip within a tenth of the frequency, or SWR above 3 at best: find out why before any power.",
    )
    yield Test(
        title="Q and width",
        how="On the same dip, the two frequencies at which SWR is 2; ringwright prove reads whole sweeps.",
        expect=tuple(
            f"{named(band)}: {_width(band)}; Q unloaded {figure_text('q_unloaded', band)}"
            for band in prediction.bands
        ),
        stop="Much wider than this at the same best SWR: watts go where they should not; look at the joints first.",
    )


def _powered(design: Design, prediction: Prediction, mechanics: Mechanics) -> Iterator[Test]:
    worst = max(prediction.bands, key=lambda band: band.tuning.capacitor_voltage_peak)
    most = min((design.power, *(band.limits.power_max for band in prediction.bands if band.limits.power_max)))
    levels = [watts for watts in _STEPS if watts < most]
    names = {5.0: "5 W, ten seconds", 30.0: "30 W, half a minute"}
    for watts in levels:
        yield Test(
            title=names[watts],
            how="Everybody at the distance that the command keepout tells; key from there, look, unkey, then touch.",
            expect=(
                f"SWR as with the meter; {_volts(worst, watts, design.power)} on {named(worst)} at the gap",
                "no smell, no sound, no crackle, and joints cold to the hand once it is off",
            ),
            stop="SWR that jumps or wanders: an arc or a bad joint. Off, and look.",
        )
    drift = ", ".join(_drift(prediction, mechanics))
    yield Test(
        title=f"Full power: {_full(design, prediction)}",
        how="In steps, a minute each, never more than the band takes, the SWR meter in sight all the time.",
        expect=(
            (
                f"{figure_text('tuning.capacitor_voltage_peak_v', worst)} peak at the gap on {named(worst)}; "
                f"{figure_text('tuning.capacitor_current_rms_a', worst)} in the capacitor"
            ),
            *(f"{named(band)} takes {_taken(band)}" for band in prediction.bands),
            f"drift in ten minutes: {drift}",
        ),
        stop="Any jump of the SWR, any arc, any warm insulator.",
    )


def _full(design: Design, prediction: Prediction) -> str:
    """No more than a band takes, nor than the design's power."""
    at_most = {
        named(band): min(design.power, band.limits.power_max or design.power) for band in prediction.bands
    }
    if min(at_most.values()) >= design.power:
        return f"{design.power:.4g} W"
    return ", ".join(f"{name} {math.floor(watts * 10.0) / 10.0:.4g} W" for name, watts in at_most.items())


def _width(band: BandPrediction) -> str:
    if band.bandwidth_swr2 is None:
        return f"SWR never below 2, half-power bandwidth {figure_text('bandwidth_half_power_hz', band)}"
    return f"SWR below 2 for {figure_text('bandwidth_swr2_hz', band)}"


def _volts(band: BandPrediction, watts: float, power: float) -> str:
    return FIGURES["tuning.capacitor_voltage_peak_v"].text(
        band.tuning.capacitor_voltage_peak * (watts / power) ** 0.5
    )


def _taken(band: BandPrediction) -> str:
    if band.limits.power_max is None:
        return "what the capacitor stands, which the design does not say: ask its maker"
    return f"{figure_text('limits.power_max_w', band)} (set by the {figure_text('limits.set_by', band)})"


def _drift(prediction: Prediction, mechanics: Mechanics) -> Iterator[str]:
    for band, warmth in zip(prediction.bands, mechanics.warmth, strict=True):
        if warmth.drift_allowed is None:
            yield f"{named(band)} no width here"
        elif warmth.time_to_drift is None:
            yield f"{named(band)} less than a tenth of the width"
        else:
            yield f"{named(band)} a tenth of the width after {minutes(warmth.time_to_drift)}"
