# SPDX-License-Identifier: BSD-3-Clause
"""The reports that lie on the table: files added and taken off, looked at band by band and stretch by stretch."""

import threading
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from ringwright.air.azimuthal import land
from ringwright.air.columns import Columns
from ringwright.air.comparison import Comparison, compare
from ringwright.air.files import Delivered, read_reports
from ringwright.air.locator import place_of
from ringwright.air.report_bands import BAND_NAMES
from ringwright.air.reports import Reading, Reports
from ringwright.air.summary import BandSummary, Paths, band_summaries, lights, paths
from ringwright.air.sun import Light
from ringwright.air.world import World, world
from ringwright.antenna.design import Design
from ringwright.antenna.directions import azimuth_cut, true_bearing
from ringwright.antenna.far_side import far_side
from ringwright.antenna.prediction import Prediction
from ringwright.desk.own_locator import own_locator
from ringwright.desk.report_columns import ReportColumns
from ringwright.errors import NoSuchEntryError
from ringwright.physics.checks import FloatArray
from ringwright.units import shown

STRETCHES = 120
"""Parts that the whole time is counted in."""
PATTERN_ELEVATION_DEG = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class AirLook:
    """What a page wants to see: own place, a band, a stretch of time [s since 1970], two antennas; None: all of it."""

    locator: str | None = None
    band: str | None = None
    start: float | None = None
    end: float | None = None
    compared: tuple[str, str] | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Times:
    """Reports in equal parts of the whole time of the looked-at band."""

    start: float
    end: float
    counts: NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AirView:
    """What is to be seen. `shown` reports of the band and stretch; `world`, `coast` None without one's own place."""

    reading: Reading
    files: tuple[tuple[str, int], ...]
    locator: str | None
    bands: tuple[BandSummary, ...]
    antennas: tuple[tuple[str, int], ...]
    shown: int
    times: Times | None
    world: World | None
    coast: tuple[tuple[FloatArray, FloatArray], ...]
    light: dict[Light, int]
    comparison: Comparison | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PredictedPattern:
    """Gains [dBi] at true bearings [deg] of one band at a take-off angle."""

    band: str | None
    elevation_deg: float
    bearing: FloatArray
    gain: FloatArray


class ReportTable:
    """The reports of a workspace as its pages see them. Every method may be called from any thread."""

    def __init__(self, workspace: Path) -> None:
        self._workspace = workspace
        self._files: dict[str, bytes] = {}
        self._reading: Reading | None = None
        self._seen: tuple[str, Reading, Paths] | None = None
        self._turn = threading.Lock()

    def add(self, name: str, content: bytes, *, columns: Sequence[str] = ()) -> None:
        """Put a file on the table, in place of one of its name; columns that are named are remembered.

        Raises
        ------
        ReportFileError, ReportsError
            If it is not of its kind; what lay there stays.
        """
        delivered = Delivered(name, content)
        with self._turn:
            memory = ReportColumns(self._workspace)
            named = Columns.of(columns) if columns else None
            read_reports([delivered], now=datetime.now(UTC), columns=named, memory=memory.text())
            if named is not None:
                memory.keep([delivered], named)
            self._files[name] = content
            self._reading = None

    def remove(self, name: str) -> None:
        """Take a file off the table."""
        with self._turn:
            if self._files.pop(name, None) is None:
                raise NoSuchEntryError(f"there is no file {shown(name)} on the table")
            self._reading = None

    def look(self, wanted: AirLook) -> AirView:
        """What is to be seen of all files together.

        Raises
        ------
        LocatorError, ReportsError
            If one's own place is none, or an antenna is not named by any report.
        """
        with self._turn:
            reading = self._read()
            reports = reading.reports
            locator = wanted.locator or reports.own_locator or own_locator(self._workspace)
            of = None if locator is None else self._paths(locator, reading)
        in_band = np.ones(len(reports), dtype=bool) if wanted.band is None else _of_band(reports, wanted.band)
        kept = in_band & _within(reports.time, wanted.start, wanted.end)
        chosen = reports.only(kept)
        there = (
            None if of is None else Paths(home=of.home, distance=of.distance[kept], bearing=of.bearing[kept])
        )
        return AirView(
            reading=reading,
            files=tuple((name, len(content)) for name, content in self._files.items()),
            locator=locator,
            bands=band_summaries(reports, of),
            antennas=_antennas(reports),
            shown=len(chosen),
            times=_times(reports.time[in_band]),
            world=None if there is None else world(chosen, there),
            coast=() if of is None else tuple(land(of.home)),
            light={} if there is None else _lights(chosen, there),
            comparison=None if wanted.compared is None else compare(chosen, *wanted.compared),
        )

    def _read(self) -> Reading:
        if self._reading is None:
            self._reading = read_reports(
                [Delivered(name, content) for name, content in self._files.items()],
                now=datetime.now(UTC),
                memory=ReportColumns(self._workspace).text(),
            )
        return self._reading

    def _paths(self, locator: str, reading: Reading) -> Paths:
        if self._seen is None or self._seen[:2] != (locator, reading):
            self._seen = locator, reading, paths(reading.reports, place_of(locator))
        return self._seen[2]


def predicted_pattern(design: Design, prediction: Prediction, band: str | None) -> PredictedPattern:
    """How the ring fires round the horizon on a band of its own; on its first where it has no such band."""
    of = next((each for each in prediction.bands if each.band == band), prediction.bands[0])
    far = far_side(of.point, earth=design.site.earth)
    azimuth, gain = azimuth_cut(far, design.power, PATTERN_ELEVATION_DEG)
    bearing = np.array([true_bearing(design, float(each)) for each in azimuth])
    order = np.argsort(bearing)
    return PredictedPattern(
        band=of.band, elevation_deg=PATTERN_ELEVATION_DEG, bearing=bearing[order], gain=gain[order]
    )


def _of_band(reports: Reports, band: str) -> NDArray[np.bool_]:
    return np.asarray(reports.band == (BAND_NAMES.index(band) if band in BAND_NAMES else -1))


def _within(time: FloatArray, start: float | None, end: float | None) -> NDArray[np.bool_]:
    return np.asarray(
        (time >= (-np.inf if start is None else start)) & (time <= (np.inf if end is None else end))
    )


def _antennas(reports: Reports) -> tuple[tuple[str, int], ...]:
    """Names and numbers of reports, the busiest first."""
    counts = np.bincount(reports.antenna[reports.antenna >= 0], minlength=len(reports.antennas))
    named = zip(reports.antennas, counts.tolist(), strict=True)
    return tuple(sorted(((name, count) for name, count in named if count), key=lambda each: -each[1]))


def _times(time: FloatArray) -> Times | None:
    if not len(time):
        return None
    start, end = float(time.min()), float(time.max()) + 1.0
    counts, _ = np.histogram(time, bins=STRETCHES, range=(start, end))
    return Times(start=start, end=end, counts=counts)


def _lights(reports: Reports, of: Paths) -> dict[Light, int]:
    here, _ = lights(reports, of.home)
    return {each: int((here == each.value).sum()) for each in Light}
