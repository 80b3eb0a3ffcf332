# SPDX-License-Identifier: BSD-3-Clause
"""The reports on the table, and those of the record with them: looked at band by band and stretch by stretch."""

import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from ringwright.air.azimuthal import land
from ringwright.air.columns import Columns
from ringwright.air.comparison import Comparison, compare
from ringwright.air.expected import Expected, Promise
from ringwright.air.files import Delivered, is_table, read_reports
from ringwright.air.history import History
from ringwright.air.joined import Joined, joined
from ringwright.air.locator import place_of
from ringwright.air.null_fit import NullFit
from ringwright.air.report_bands import BAND_NAMES
from ringwright.air.reports import Mask, Reading, Reports
from ringwright.air.slots import HEADINGS, Slot, check_slots, read_slots, with_antennas
from ringwright.air.summary import BandSummary, LightTable, Paths, band_summaries, light_table, paths
from ringwright.air.world import World, world
from ringwright.desk.air_answers import (
    PredictedPattern,
    made_from,
    null_of,
    past_of,
    picture,
    promised,
    seen_from,
)
from ringwright.desk.own_locator import own_locator
from ringwright.desk.recording import RecordBook
from ringwright.desk.report_columns import ReportColumns
from ringwright.errors import NoSuchEntryError, ReportsError
from ringwright.physics.checks import FloatArray
from ringwright.units import shown

_Answer = TypeVar("_Answer")
STRETCHES = 120
"""Parts that the whole time is counted in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AirLook:
    """What a page wants to see: own place, a band, a stretch of time [s since 1970], two antennas, one antenna and a
    day from which on it is set against its past; None: all of it. `with_record`: what was kept before, too."""

    locator: str | None = None
    band: str | None = None
    start: float | None = None
    end: float | None = None
    compared: tuple[str, str] | None = None
    antenna: str | None = None
    since: datetime | None = None
    with_record: bool = True


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Times:
    """Reports in equal parts of the whole time of the looked-at band."""

    start: float
    end: float
    counts: NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AirView:
    """What is to be seen. `total` reports are looked at, `shown` of them lie in the band and stretch; `recorded` stand
    in the record, `unkept` of the table do not. `world`, `coast`, `light` None without one's own place."""

    reading: Reading
    files: tuple[tuple[str, int], ...]
    plan: tuple[str, int] | None
    total: int
    recorded: int
    unkept: int
    locator: str | None
    bands: tuple[BandSummary, ...]
    antennas: tuple[tuple[str, int], ...]
    shown: int
    times: Times | None
    world: World | None
    coast: tuple[tuple[FloatArray, FloatArray], ...]
    light: LightTable | None
    comparison: Comparison | None
    compare_problem: str | None
    fairness: tuple[str, ...]
    history: History | None
    history_problem: str | None


@dataclass(frozen=True, slots=True, eq=False)
class _Chosen:
    """The reports that a look is of, with one's own place and their paths from there."""

    reports: Reports
    locator: str | None
    of: Paths | None


class ReportTable:
    """The reports of a workspace as its pages see them. Every method may be called from any thread."""

    def __init__(self, workspace: Path, record: RecordBook) -> None:
        self._workspace, self._record = workspace, record
        self._files: dict[str, bytes] = {}
        self._plan: tuple[str, tuple[Slot, ...]] | None = None
        self._reading: Reading | None = None
        self._joined: tuple[tuple[int, Reading], Joined, int] | None = None
        self._seen: tuple[str, Reports, Paths] | None = None
        self._turn = threading.Lock()

    def add(self, name: str, content: bytes, *, columns: Sequence[str] = ()) -> None:
        """Put a file on the table, in place of one of its name; columns that are named are remembered. A plan for
        alternating is known by its headings and lies beside the reports.

        Raises
        ------
        ReportFileError, ReportsError
            If it is not of its kind; what lay there stays.
        """
        delivered = Delivered(name, content)
        with self._turn:
            if _is_plan(delivered):
                text = content.decode("utf-8-sig", errors="replace")
                self._plan = name, read_slots(text, source=name)
                self._reading = None
                return
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
            if self._plan is not None and self._plan[0] == name:
                self._plan = None
            elif self._files.pop(name, None) is None:
                raise NoSuchEntryError(f"there is no file {shown(name)} on the table")
            self._reading = None

    def keep(self, locator: str | None = None) -> int:
        """Keep all reports on the table in the record; how many it had not. `locator` is one's own place where the
        reports tell none.

        Raises
        ------
        LocatorError
            If it is none.
        """
        with self._turn:
            return self._record.keep_reports(made_from(self._read().reports, locator))

    def look(self, wanted: AirLook) -> AirView:
        """What is to be seen of all files together, and of the record.

        Raises
        ------
        LocatorError
            If one's own place is none. Antennas that no report names leave the rest.
        """
        with self._turn:
            reading = self._read()
            known, recorded = self._known(reading)
            reports = known.reports if wanted.with_record else reading.reports
            locator, of = self._seen_from(wanted, reports)
            files = tuple((name, len(content)) for name, content in self._files.items())
            plan = self._plan
        in_band, kept = _masks(reports, wanted)
        chosen, there = reports.only(kept), None if of is None else of.only(kept)
        names, since = wanted.compared, wanted.since
        comparison, compare_problem = _tried(lambda: compare(chosen, *names) if names else None)
        history, history_problem = _tried(
            lambda: past_of(reports.only(in_band), since, antenna=wanted.antenna) if since else None
        )
        return AirView(
            reading=reading,
            files=files,
            plan=None if plan is None else (plan[0], len(plan[1])),
            total=len(reports),
            recorded=recorded,
            unkept=known.new,
            locator=locator,
            bands=band_summaries(reports, of),
            antennas=_antennas(reports),
            shown=len(chosen),
            times=_times(reports.time[in_band]),
            world=None if there is None else world(chosen, there),
            coast=() if of is None else tuple(land(of.home)),
            light=None if there is None else light_table(chosen, there.home),
            comparison=comparison,
            compare_problem=compare_problem,
            fairness=() if names is None or plan is None else check_slots(chosen, plan[1], names=names),
            history=history,
            history_problem=history_problem,
        )

    def null(self, wanted: AirLook, turned: Mapping[str, float]) -> NullFit:
        """Where the ring is quiet, from the reports that are looked at; see `ringwright.desk.air_answers`."""
        chosen = self._chosen(wanted)
        return null_of(chosen.reports, seen_from(chosen.of), turned)

    def promised(
        self, wanted: AirLook, first: Promise, *, second: Promise, names: tuple[str, str]
    ) -> Expected:
        """What two designs promise over the pairs that are looked at."""
        chosen = self._chosen(wanted)
        return promised(first, second, reports=chosen.reports, of=seen_from(chosen.of), names=names)

    def picture(self, wanted: AirLook, pattern: PredictedPattern | None, *, kind: str) -> bytes:
        """The map of what is looked at, as a file."""
        chosen = self._chosen(wanted)
        return picture(
            chosen.reports, seen_from(chosen.of), locator=chosen.locator, pattern=pattern, kind=kind
        )

    def _chosen(self, wanted: AirLook) -> _Chosen:
        with self._turn:
            reading = self._read()
            reports = self._known(reading)[0].reports if wanted.with_record else reading.reports
            locator, of = self._seen_from(wanted, reports)
        _, kept = _masks(reports, wanted)
        return _Chosen(reports.only(kept), locator, None if of is None else of.only(kept))

    def _read(self) -> Reading:
        if self._reading is None:
            found = read_reports(
                [Delivered(name, content) for name, content in self._files.items()],
                now=datetime.now(UTC),
                memory=ReportColumns(self._workspace).text(),
            )
            reports = self._planned(found.reports)
            self._reading = Reading(read=found.read, reports=reports, rejected=found.rejected)
        return self._reading

    def _planned(self, reports: Reports) -> Reports:
        return reports if self._plan is None else with_antennas(reports, self._plan[1])

    def _known(self, reading: Reading) -> tuple[Joined, int]:
        """The record's reports and the table's, and how many stand in the record; read again only when one changed."""
        key = (self._record.count(), reading)
        if self._joined is None or self._joined[0] != key:
            kept = self._record.reports()
            both = (
                Joined(reports=reading.reports, new=len(reading.reports))
                if kept is None
                else joined(self._planned(kept), reading.reports)
            )
            self._joined = key, both, 0 if kept is None else len(kept)
        return self._joined[1], self._joined[2]

    def _seen_from(self, wanted: AirLook, reports: Reports) -> tuple[str | None, Paths | None]:
        locator = wanted.locator or reports.own_locator or own_locator(self._workspace)
        if locator is None:
            return None, None
        if self._seen is None or self._seen[0] != locator or self._seen[1] is not reports:
            self._seen = locator, reports, paths(reports, place_of(locator))
        return locator, self._seen[2]


def _tried(answer: Callable[[], _Answer]) -> tuple[_Answer | None, str | None]:
    """An answer, or the sentence that says why there is none."""
    try:
        return answer(), None
    except ReportsError as exc:
        return None, str(exc)


def _is_plan(file: Delivered) -> bool:
    first = file.content.lstrip(b"\xef\xbb\xbf").split(b"\n", 1)[0].strip()
    return is_table(file.name) and first.decode("ascii", errors="replace").casefold() == HEADINGS


def _masks(reports: Reports, wanted: AirLook) -> tuple[Mask, Mask]:
    """Which are of the band, and which of them lie in the stretch of time."""
    in_band = np.ones(len(reports), dtype=bool) if wanted.band is None else _of_band(reports, wanted.band)
    return in_band, in_band & _within(reports.time, wanted.start, wanted.end)


def _of_band(reports: Reports, band: str) -> NDArray[np.bool_]:
    return np.asarray(reports.band == (BAND_NAMES.index(band) if band in BAND_NAMES else -1))


def _within(time: FloatArray, start: float | None, end: float | None) -> NDArray[np.bool_]:
    return np.asarray(
        (time >= (-np.inf if start is None else start)) & (time <= (np.inf if end is None else end))
    )


def _antennas(reports: Reports) -> tuple[tuple[str, int], ...]:
    """Names and numbers of reports, the busiest first; the first two in the order in which reports name them."""
    counts = np.bincount(reports.antenna[reports.antenna >= 0], minlength=len(reports.antennas))
    named = zip(reports.antennas, counts.tolist(), strict=True)
    busiest = sorted(((name, count) for name, count in named if count), key=lambda each: -each[1])
    return (*sorted(busiest[:2], key=lambda each: reports.antennas.index(each[0])), *busiest[2:])


def _times(time: FloatArray) -> Times | None:
    if not len(time):
        return None
    start, end = float(time.min()), float(time.max()) + 1.0
    counts, _ = np.histogram(time, bins=STRETCHES, range=(start, end))
    return Times(start=start, end=end, counts=counts)
