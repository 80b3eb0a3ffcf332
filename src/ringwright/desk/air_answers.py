# SPDX-License-Identifier: BSD-3-Clause
"""What reports answer to a question of their own: the null, the promise of two designs, the past, a plan, a map."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import numpy as np

from ringwright.air.comparison import compare, compared_pairs
from ringwright.air.expected import Expected, Promise, expected
from ringwright.air.history import History, against_history
from ringwright.air.locator import place_of
from ringwright.air.map_drawing import map_drawing
from ringwright.air.null_fit import NullFit, fit_null
from ringwright.air.reports import Reports
from ringwright.air.slots import draw_slots, slots_text
from ringwright.air.summary import Paths
from ringwright.air.world import world
from ringwright.antenna.design import Design
from ringwright.antenna.directions import Null, azimuth_cut, quietest, true_bearing
from ringwright.antenna.far_side import FarSide, far_side
from ringwright.antenna.prediction import Prediction
from ringwright.errors import ReportsError
from ringwright.physics.checks import FloatArray
from ringwright.units import shown

LOW_DEG = 20.0
"""Elevation at which the predicted pattern is drawn, that of middling paths."""
SVG, PNG = "svg", "png"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PredictedPattern:
    """Gains [dBi] at true bearings [deg] of one band at a take-off angle."""

    band: str | None
    elevation_deg: float
    bearing: FloatArray
    gain: FloatArray


def predicted_pattern(design: Design, prediction: Prediction, band: str | None) -> PredictedPattern:
    """How the ring fires round the horizon on a band of its own; on its first where it has no such band."""
    of = next((each for each in prediction.bands if each.band == band), prediction.bands[0])
    return pattern_of(design, far_side(of.point, earth=design.site.earth), of.band)


def pattern_of(design: Design, far: FarSide, band: str | None) -> PredictedPattern:
    """The pattern of a far field, by true bearing."""
    azimuth, gain = azimuth_cut(far, design.power, LOW_DEG)
    bearing = np.array([true_bearing(design, float(each)) for each in azimuth])
    order = np.argsort(bearing)
    return PredictedPattern(band=band, elevation_deg=LOW_DEG, bearing=bearing[order], gain=gain[order])


def predicted_nulls(promise: Promise) -> tuple[tuple[str, Null], ...]:
    """The quietest low direction of a design on each of its bands."""
    return tuple((band, quietest(promise.design, far, LOW_DEG)) for band, far in promise.far.items())


def seen_from(paths: Paths | None) -> Paths:
    """The paths, where one's own place is known.

    Raises
    ------
    ReportsError
        If it is not.
    """
    if paths is None:
        raise ReportsError("this needs your own place; give your locator with --locator, or on the page")
    return paths


def made_from(reports: Reports, locator: str | None) -> Reports:
    """The reports as of one's own place, where they tell none.

    Raises
    ------
    LocatorError
        If the place is none.
    """
    if locator is None or reports.own_locator is not None:
        return reports
    place_of(locator)
    return replace(reports, own_locator=locator)


def made_with(reports: Reports, antenna: str) -> Reports:
    """The reports of one antenna.

    Raises
    ------
    ReportsError
        If there is none.
    """
    mine = reports.of_antenna(antenna)
    if not mine.any():
        known = ", ".join(map(shown, reports.antennas)) or "none"
        raise ReportsError(f"no report was made with the antenna {shown(antenna)}; the reports name {known}")
    return reports.only(mine)


def null_of(reports: Reports, of: Paths, turned: Mapping[str, float]) -> NullFit:
    """The null of a ring whose plane had such true bearings [deg] while the reports named it so; "" is every report.

    Raises
    ------
    ReportsError
        If no report names one of them, or there are too few.
    """
    angle = np.full(len(reports), np.nan)
    for antenna, degrees in turned.items():
        made = reports.of_antenna(antenna) if antenna else np.ones(len(reports), dtype=bool)
        if not made.any():
            raise ReportsError(
                f"no report was made with the antenna {shown(antenna)} that a bearing is given for"
            )
        angle[made] = degrees
    return fit_null(reports, of, turned=angle, rng=np.random.default_rng(0))


def past_of(reports: Reports, since: datetime, *, antenna: str | None) -> History:
    """Reports from a moment on against those before it, of one antenna where it is named."""
    return against_history(reports if antenna is None else made_with(reports, antenna), since)


def promised(
    first: Promise, second: Promise, *, reports: Reports, of: Paths, names: tuple[str, str]
) -> Expected:
    """What two designs promise over the pairs of two antennas, beside what these say."""
    comparison = compare(reports, *names)
    pairs = compared_pairs(reports, comparison)
    return expected(first, second, reports=reports, of=of, pairs=pairs, comparison=comparison)


def picture(
    reports: Reports, of: Paths, *, locator: str | None, pattern: PredictedPattern | None, kind: str
) -> bytes:
    """The map as a file, `kind` SVG or PNG."""
    title = f"Heard from {locator}" if locator else "Heard"
    over = None if pattern is None else (pattern.bearing, pattern.gain)
    drawn = map_drawing(title, of.home, world(reports, of), pattern=over)
    if kind == SVG:
        return drawn.encode("utf-8")
    from ringwright.sheet.picture import png_of  # 80 MB of library: only where it is asked for

    return png_of(drawn)


def plan_text(
    names: Sequence[str], *, start: datetime | None, length: float, count: int, seed: int | None
) -> str:
    """A plan for alternating two antennas, from the next minute on where no start is named."""
    first, second = names
    now = datetime.now(UTC).replace(second=0, microsecond=0)
    begin = now + timedelta(minutes=1) if start is None else start
    rng = np.random.default_rng(seed)
    return slots_text(draw_slots(first, second, start=begin, length=length, count=count, rng=rng))
