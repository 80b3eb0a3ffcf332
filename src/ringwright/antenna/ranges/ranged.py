# SPDX-License-Identifier: BSD-3-Clause
"""Predicted bands with the ranges of their figures, what leads each, and limits taken from the unfavourable ends."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ringwright.antenna.capacitor_stress import CURRENT, power_limits
from ringwright.antenna.design import Design
from ringwright.antenna.figures.table import FIGURES
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.antenna.prediction import BandPrediction
from ringwright.antenna.ranges.drawn_band import Drawn, DrawnBand
from ringwright.antenna.ranges.drawn_reach import drawn_reach
from ringwright.antenna.ranges.draws import Draws
from ringwright.antenna.ranges.spread import leaders, ranges_about
from ringwright.antenna.reach import ReachEnd
from ringwright.antenna.solution import SolutionMemory

GAP_VOLTAGE, GAP_CURRENT = "tuning.capacitor_voltage_peak_v", "tuning.capacitor_current_rms_a"
POWER_MAX = "limits.power_max_w"
FOLLOWS_EARTH = ("watts_pct.metal", "resistance_ohm.metal")
"""What hangs on a current that another earth changes at first order: no range is better than one far too narrow."""


def with_ranges(
    design: Design,
    bands: tuple[BandPrediction, ...],
    *,
    lone: Sequence[OperatingPoint | None],
    ends: tuple[ReachEnd | None, ReachEnd | None],
    memory: SolutionMemory,
) -> tuple[BandPrediction, ...]:
    """Bands with their ranges; `lone`: each ring tuned without earth and metal, None where the site has none.

    In a draw the ring is tuned anew for its lowest SWR, and the feed accepts the design's power.
    """
    laid = design.calibration
    draws = Draws.of(design.tolerance, design.site.earth, None if laid is None else laid.layer)
    reach = drawn_reach(design, ends, draws, memory=memory)
    found = []
    for band, alone in zip(bands, lone, strict=True):
        here = DrawnBand.of(band.point, draws, earth=design.site.earth, memory=memory)
        drawn = reach | here.tuned() | here.budget() | here.outside(band.pattern)
        drawn["efficiency_free_space_pct"] = (
            drawn["efficiency_sky_pct"]
            if alone is None
            else DrawnBand.of(alone, draws, earth=None, memory=memory).budget()["efficiency_sky_pct"]
        )
        if draws.has_uncertain_earth:
            drawn = {key: each for key, each in drawn.items() if key not in FOLLOWS_EARTH}
        found.append(_ranged(design, band, drawn, draws=draws))
    return tuple(found)


def with_safe_ends(
    bands: tuple[BandPrediction, ...], declared: tuple[BandPrediction, ...]
) -> tuple[BandPrediction, ...]:
    """Bands of a design with its layer, what must be stood and what may be fed from the worse of this and `declared`.

    A ring may get better after it was measured, and a layer may be wrong: no limit is ever looser for it.
    """
    return tuple(_with_safe_ends(band, other) for band, other in zip(bands, declared, strict=True))


def _with_safe_ends(band: BandPrediction, declared: BandPrediction) -> BandPrediction:
    here, there = band.capacitor, declared.capacitor
    capacitor = replace(
        here,
        must_stand_peak=max(here.must_stand_peak, there.must_stand_peak),
        must_carry_rms=max(here.must_carry_rms, there.must_carry_rms),
    )
    strict, limits = declared.limits.power_max, band.limits
    if strict is None or limits.power_max is None or strict >= limits.power_max:
        return replace(band, capacitor=capacitor)
    high = band.range[POWER_MAX][1]
    return replace(
        band,
        capacitor=capacitor,
        limits=replace(limits, power_max=strict, set_by=declared.limits.set_by),
        range=band.range | {POWER_MAX: (strict, high)},
    )


def _ranged(design: Design, band: BandPrediction, drawn: Drawn, *, draws: Draws) -> BandPrediction:
    ratings = [
        (watts, name, GAP_CURRENT if name == CURRENT else GAP_VOLTAGE)
        for watts, name in power_limits(design, band.point)
    ]
    if ratings:
        # Power goes with the square of current and of voltage.
        allowed = [watts * (drawn[key][0] / drawn[key]) ** 2 for watts, _, key in ratings]
        drawn = drawn | {POWER_MAX: np.asarray(np.min(allowed, axis=0))}
    ends, led_by = _spread(band, drawn, draws)
    limits = band.limits
    if ratings:
        power_max, set_by = min(
            (watts * (FIGURES[key].of(band) / ends[key][1]) ** 2, name) for watts, name, key in ratings
        )
        limits = replace(limits, power_max=power_max, set_by=set_by)
        ends[POWER_MAX] = power_max, ends[POWER_MAX][1]
    return replace(
        band,
        limits=limits,
        capacitor=replace(
            band.capacitor, must_stand_peak=ends[GAP_VOLTAGE][1], must_carry_rms=ends[GAP_CURRENT][1]
        ),
        range=ends,
        range_led_by=led_by,
    )


def _spread(
    band: BandPrediction, drawn: Drawn, draws: Draws
) -> tuple[dict[str, tuple[float, float]], dict[str, str]]:
    """Ends by key, and what leads each that moves, in the order of the prediction document."""
    values = {key: figure.of(band) for key, figure in FIGURES.items() if key in drawn}
    keys = [key for key, value in values.items() if value is not None]
    rows = np.array([drawn[key] for key in keys])
    low, high = ranges_about(np.array([values[key] for key in keys]), rows)
    ends = {key: (float(a), float(b)) for key, a, b in zip(keys, low, high, strict=True)}
    if not np.any(draws.scores):
        return ends, {}
    names = zip(keys, leaders(rows, draws.scores), strict=True)
    return ends, {key: name for key, name in names if ends[key][0] < ends[key][1]}
