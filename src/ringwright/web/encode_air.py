# SPDX-License-Identifier: BSD-3-Clause
"""From what reports say to the message a page reads: rounded to what a screen can show."""

import math

import numpy as np

from ringwright.air.azimuthal import HALF_ROUND, polar
from ringwright.air.comparison import Comparison
from ringwright.air.sun import Light
from ringwright.air.verdict import more, verdict
from ringwright.air.world import BEARING_STEP, DISTANCE_STEP, World
from ringwright.desk.airing import AirView, PredictedPattern
from ringwright.physics.checks import FloatArray
from ringwright.web.messages.air import (
    AirAntenna,
    AirBand,
    AirCompared,
    AirLight,
    AirPattern,
    AirSeen,
    AirTimes,
    AirWorld,
    RejectedRow,
    ReportFile,
)

MOST_REJECTED = 500
_MAP_DIGITS = 4  # of the disc's radius: a tenth of a pixel


def air_seen(
    view: AirView,
    pattern: PredictedPattern | None,
    *,
    compare_problem: str | None,
    locator_problem: str | None,
) -> AirSeen:
    """The whole message."""
    reading = view.reading
    return AirSeen(
        files=[ReportFile(name=name, size_bytes=size) for name, size in view.files],
        read=reading.read,
        kept=len(reading.reports),
        rejected_count=len(reading.rejected),
        rejected=[
            RejectedRow(file=each.file, row=each.row, line=each.line, reason=each.reason)
            for each in reading.rejected[:MOST_REJECTED]
        ],
        locator=view.locator,
        bands=[
            AirBand(
                band=each.band,
                count=each.count,
                distance_max_m=each.distance_max,
                distance_median_m=each.distance_median,
                snr_median_db=each.snr_median,
            )
            for each in view.bands
        ],
        antennas=[AirAntenna(name=name, count=count) for name, count in view.antennas],
        shown=view.shown,
        times=None
        if view.times is None
        else AirTimes(start_s=view.times.start, end_s=view.times.end, counts=view.times.counts.tolist()),
        world=None if view.world is None else _world(view.world, view.coast),
        pattern=None if pattern is None else _pattern(pattern),
        light=_light(view.light) if view.light else None,
        compared=None if view.comparison is None else _compared(view.comparison),
        compare_problem=compare_problem,
        locator_problem=locator_problem,
    )


def _world(world: World, coast: tuple[tuple[FloatArray, FloatArray], ...]) -> AirWorld:
    x, y = polar(world.distance, world.bearing)
    return AirWorld(
        x=_rounded(x, _MAP_DIGITS),
        y=_rounded(y, _MAP_DIGITS),
        distance_m=_rounded(world.distance, 0),
        bearing_deg=_rounded(world.bearing, 1),
        count=world.count.tolist(),
        snr_db=[None if math.isnan(each) else round(each, 1) for each in world.snr.tolist()],
        distance_step_m=DISTANCE_STEP,
        by_distance=world.by_distance.tolist(),
        bearing_step_deg=BEARING_STEP,
        by_bearing=world.by_bearing.tolist(),
        placeless=world.placeless,
        coast=[_rounded(np.column_stack(line).ravel(), _MAP_DIGITS) for line in coast],
        half_round_m=HALF_ROUND,
    )


def _pattern(pattern: PredictedPattern) -> AirPattern:
    return AirPattern(
        band=pattern.band,
        elevation_deg=pattern.elevation_deg,
        bearing_deg=_rounded(pattern.bearing, 1),
        gain_dbi=_rounded(pattern.gain, 2),
    )


def _light(counts: dict[Light, int]) -> AirLight:
    return AirLight(day=counts[Light.DAY], grey_line=counts[Light.GREY_LINE], night=counts[Light.NIGHT])


def _compared(comparison: Comparison) -> AirCompared:
    found = comparison.found
    return AirCompared(
        a=comparison.first,
        b=comparison.second,
        difference_db=comparison.difference,
        low_db=None if found is None else found.low,
        high_db=None if found is None else found.high,
        pairs=comparison.pairs,
        receivers=comparison.receivers,
        more_needed=comparison.more_needed,
        verdict=verdict(comparison),
        more=more(comparison),
    )


def _rounded(values: FloatArray, digits: int) -> list[float]:
    rounded: list[float] = np.round(values, digits).tolist()
    return rounded
