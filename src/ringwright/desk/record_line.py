# SPDX-License-Identifier: BSD-3-Clause
"""Everything that happened to an antenna on one line of time, each entry by its moment.

A kind of entry is a `Lane`: its word, its heading, and the function that finds its entries in a `Look`. A new kind is
a new lane in `LANES`; the pages draw a lane they know nothing else of by the titles and words of its entries.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np

from ringwright.air.report_bands import BAND_NAMES
from ringwright.air.reports import Reports
from ringwright.desk.drafts import OpenDesign, opened
from ringwright.desk.edits import Value
from ringwright.records.entries import Note, RecordedSweep
from ringwright.records.tuning import RecordedTuning
from ringwright.units import format_quantity

_DAY = 86400
UNSAID = "none"
"""What stands where one text of a design sets a key and another does not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignFile:
    """A file of designs/ as it stands."""

    name: str
    text: str
    modified: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What there is at one moment; `texts` of designs by their checksum, `lost` the numbers of sweeps without file."""

    sweeps: tuple[RecordedSweep, ...] = ()
    notes: tuple[Note, ...] = ()
    tunings: tuple[RecordedTuning, ...] = ()
    reports: Reports | None = None
    texts: Mapping[str, str]
    lost: frozenset[int] = frozenset()
    files: tuple[DesignFile, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyChange:
    """A key of the design file that one text sets otherwise than the one before."""

    key: str
    before: str
    after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """Something that happened. `key` tells it from all others; `designs` are checksums of the texts it belongs to.

    `mark` is what kind of its kind it is, such as a note of rain. `changes_ring`: trends start anew here. Of a design,
    `changes` are against the text before it on the line.
    """

    key: str
    kind: str
    at: datetime
    title: str
    words: str = ""
    mark: str = ""
    band: str | None = None
    build: str | None = None
    designs: tuple[str, ...] = ()
    changes_ring: bool = False
    is_lost: bool = False
    sweep: RecordedSweep | None = None
    changes: tuple[KeyChange, ...] = ()


@dataclass(frozen=True, slots=True)
class Lane:
    """A kind of entry."""

    kind: str
    heading: str
    entries: Callable[[Look], Iterable[Entry]]


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeLine:
    """All entries in the order in which they happened."""

    entries: tuple[Entry, ...]
    sweeps: tuple[RecordedSweep, ...]
    lost: tuple[str, ...]

    @property
    def bands(self) -> tuple[str, ...]:
        """Bands with a sweep, lowest first."""
        lowest: dict[str, float] = {}
        for sweep in self.sweeps:
            if sweep.band is not None:
                f = sweep.result.frequency.value
                lowest[sweep.band] = min(f, lowest.get(sweep.band, f))
        return tuple(sorted(lowest, key=lowest.__getitem__))

    @property
    def builds(self) -> tuple[str, ...]:
        """Names of builds in the order in which they were first swept."""
        return tuple(dict.fromkeys(sweep.build for sweep in self.sweeps if sweep.build is not None))


def time_line(look: Look) -> TimeLine:
    """The line of what there is."""
    entries = (entry for lane in LANES for entry in lane.entries(look))
    return TimeLine(
        entries=tuple(sorted(entries, key=lambda entry: entry.at)),
        sweeps=look.sweeps,
        lost=tuple(sweep.file for sweep in look.sweeps if sweep.number in look.lost),
    )


def _designs(look: Look) -> Iterator[Entry]:
    """Texts that sweeps were set against, at the first of them; others of designs/ when they were last written."""
    firsts: dict[str, RecordedSweep] = {}
    for sweep in look.sweeps:
        for sha256, _ in sweep.results:
            firsts.setdefault(sha256, sweep)
    files = {opened(file.name, file.text).etag: file for file in look.files}
    moments = {sha256: sweep.measured_at for sha256, sweep in firsts.items()}
    moments |= {etag: file.modified for etag, file in files.items() if etag not in moments}
    texts = {etag: file.text for etag, file in files.items()} | dict(look.texts)
    before: dict[str, OpenDesign] = {}
    for sha256 in sorted(moments, key=moments.__getitem__):
        file = files.get(sha256)
        design = opened("" if file is None else file.name, texts[sha256])
        title = design.title or "a design without a name"
        former = before.get(title)
        before[title] = design
        yield Entry(
            key=f"design {sha256[:12]}",
            kind="design",
            at=moments[sha256],
            title=title,
            words=_standing(firsts.get(sha256), file),
            designs=(sha256,),
            changes=() if former is None else tuple(_changed(former.values, design.values)),
        )


def _standing(first: RecordedSweep | None, file: DesignFile | None) -> str:
    """Why the text stands where it does on the line, and where it lies."""
    since = (
        "last written then, no sweep set against it" if first is None else f"first swept with {first.file}"
    )
    return f"{since}; " + (
        "no file of designs/ has this text any more" if file is None else f"designs/{file.name}.toml"
    )


def _changed(before: Mapping[str, Value], after: Mapping[str, Value]) -> Iterator[KeyChange]:
    for key in sorted(before.keys() | after.keys()):
        if before.get(key) != after.get(key):
            yield KeyChange(key=key, before=_written(before.get(key)), after=_written(after.get(key)))


def _written(value: Value | None) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    return UNSAID if value is None else str(value)


def _sweeps(look: Look) -> Iterator[Entry]:
    for sweep in look.sweeps:
        yield Entry(
            key=f"sweep {sweep.number}",
            kind="sweep",
            at=sweep.measured_at,
            title=sweep.file,
            words=sweep.note,
            band=sweep.band,
            build=sweep.build,
            designs=tuple(sha256 for sha256, _ in sweep.results),
            is_lost=sweep.number in look.lost,
            sweep=sweep,
        )


def _tunings(look: Look) -> Iterator[Entry]:
    for recorded in look.tunings:
        tuning, found = recorded.tuning, recorded.tuning.found
        swr = "" if found.swr is None else f"SWR {found.swr:.3g}"
        yield Entry(
            key=f"tuning {recorded.number}",
            kind="tuning",
            at=tuning.at,
            title=f"{format_quantity(tuning.frequency, 'MHz', digits=6)} {tuning.outcome.value}",
            words="; ".join(part for part in (swr, found.words, f"tuning table {tuning.table}") if part),
            mark=tuning.outcome.value,
            band=tuning.band,
            designs=(recorded.design,),
        )


def _reports(look: Look) -> Iterator[Entry]:
    """Receptions in heaps of a day (UTC) and a band, each at its first."""
    reports = look.reports
    if reports is None or len(reports) == 0:
        return
    days = (reports.time // _DAY).astype(np.int64)
    heaps, heap_of = np.unique(days * len(BAND_NAMES) + reports.band, return_inverse=True)
    counts = np.bincount(heap_of)
    firsts = np.full(len(heaps), np.inf)
    np.minimum.at(firsts, heap_of, reports.time)
    names = len(reports.receivers) + 1  # one for those that are not told
    stations = np.bincount(np.unique(heap_of * names + reports.receiver + 1) // names)
    for heap, count, first, others in zip(heaps, counts, firsts, stations, strict=True):
        at, band = datetime.fromtimestamp(int(first), UTC), BAND_NAMES[heap % len(BAND_NAMES)]
        yield Entry(
            key=f"report {at:%Y-%m-%d} {band}",
            kind="report",
            at=at,
            title=f"{count} {'report' if count == 1 else 'reports'} on {band}",
            words=f"of {others} {'station' if others == 1 else 'stations'}",
            band=band,
        )


def _notes(look: Look) -> Iterator[Entry]:
    for note in look.notes:
        yield Entry(
            key=f"note {note.number}",
            kind="note",
            at=note.at,
            title=note.kind.value,
            words=note.text,
            mark=note.kind.value,
            changes_ring=note.kind.changes_the_ring,
        )


LANES: tuple[Lane, ...] = (
    Lane("design", "Designs", _designs),
    Lane("sweep", "Sweeps", _sweeps),
    Lane("tuning", "Tunings", _tunings),
    Lane("report", "Reports", _reports),
    Lane("note", "Notes", _notes),
)
"""In the order in which they are drawn, from above."""
