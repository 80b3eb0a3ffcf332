# SPDX-License-Identifier: BSD-3-Clause
"""From what reports say to the message a page reads: rounded to what a screen can show."""

import math
from collections.abc import Sequence

import numpy as np

from ringwright.air.azimuthal import HALF_ROUND, polar
from ringwright.air.comparison import Comparison
from ringwright.air.expected import Expected
from ringwright.air.history import History
from ringwright.air.null_fit import NullFit
from ringwright.air.sentences import (
    history_words,
    null_words,
    pattern_limits,
    predicted_null_words,
    promise_words,
)
from ringwright.air.summary import LightTable
from ringwright.air.verdict import more, verdict
from ringwright.air.world import BEARING_STEP, DISTANCE_STEP, World
from ringwright.antenna.directions import Null
from ringwright.desk.air_answers import PredictedPattern
from ringwright.desk.airing import AirView
from ringwright.physics.checks import FloatArray
from ringwright.web.messages.air import (
    AirAntenna,
    AirBand,
    AirCompared,
    AirHistory,
    AirLight,
    AirNull,
    AirPattern,
    AirPlan,
    AirPromised,
    AirSeen,
    AirTimes,
    AirWorld,
    RejectedRow,
    ReportFile,
)

MOST_REJECTED = 500
_MAP_DIGITS = 4  # of the disc's radius: a tenth of a pixel


def air_seen(view: AirView, pattern: PredictedPattern | None, *, locator_problem: str | None) -> AirSeen:
    """The whole message."""
    reading = view.reading
    return AirSeen(
        files=[ReportFile(name=name, size_bytes=size) for name, size in view.files],
        plan=None if view.plan is None else AirPlan(name=view.plan[0], slots=view.plan[1]),
        total=view.total,
        recorded=view.recorded,
        unkept=view.unkept,
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
        light=None if view.light is None else _light(view.light),
        compared=None if view.comparison is None else _compared(view.comparison),
        fairness=list(view.fairness),
        history=None if view.history is None else _history(view.history),
        history_problem=view.history_problem,
        compare_problem=view.compare_problem,
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


def _light(table: LightTable) -> AirLight:
    day, grey_line, night = table.here
    return AirLight(
        day=day,
        grey_line=grey_line,
        night=night,
        there=list(table.there),
        both=[list(row) for row in table.both],
        place_unknown=sum(table.placeless),
    )


def _history(history: History) -> AirHistory:
    found = history.found
    return AirHistory(
        difference_db=None if found is None else found.value,
        low_db=None if found is None else found.low,
        high_db=None if found is None else found.high,
        pairs=history.pairs,
        words=list(history_words(history)),
    )


def null_found(found: NullFit, predicted: Sequence[tuple[str, Null]]) -> AirNull:
    """The null beside the predicted ones."""
    plane = "from the bearing that was given" if found.is_turned else "from the plane"
    return AirNull(
        bearing_deg=found.bearing,
        bearing_low_deg=found.bearing_low,
        bearing_high_deg=found.bearing_high,
        depth_db=found.depth,
        depth_low_db=found.depth_low,
        depth_high_db=found.depth_high,
        words=null_words(found, plane=plane),
        predicted=list(predicted_null_words(predicted)),
        limits=pattern_limits(),
    )


def promise_found(found: Expected) -> AirPromised:
    """The designs' own difference beside the one that was found."""
    return AirPromised(
        difference_db=found.difference,
        low_db=found.low,
        high_db=found.high,
        is_met=found.is_met,
        words=promise_words(found),
    )


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
