# SPDX-License-Identifier: BSD-3-Clause
"""From the record to the messages a client reads."""

from dataclasses import asdict, fields
from typing import Any

from ringwright.desk.proving import AUTHORITY, BEFORE_TOUCHING, Delivered
from ringwright.desk.record_figures import RECORD_FIGURES
from ringwright.desk.record_keeping import Kept, Labels
from ringwright.desk.record_line import LANES, Entry, TimeLine
from ringwright.records.documents import comparison_document, note_document, sweep_document, trend_document
from ringwright.records.entries import Note, NoteKind, RecordedSweep, moment_text
from ringwright.records.import_folder import Imported
from ringwright.records.moments import MomentComparison
from ringwright.records.trend import Line, Trend
from ringwright.web.encode import figure_entries
from ringwright.web.encode_proof import delivered
from ringwright.web.messages.record import (
    KeyChanged,
    MomentsCompared,
    NoteKept,
    RecordEntry,
    RecordLane,
    RecordLine,
    RecordTable,
    SweepFigures,
    SweepKept,
    SweepsSent,
    SweepToKeep,
    TakenIn,
    TrendDrawn,
)

_LEFT_TO_THE_ENTRY = {"sha256", "size_bytes", "measured_at", "band", "build", "design", "result"}


def record_table() -> RecordTable:
    return RecordTable(
        figures=figure_entries(RECORD_FIGURES),
        kinds=[kind.value for kind in NoteKind],
        before_touching=BEFORE_TOUCHING,
        authority=AUTHORITY,
    )


def record_line(line: TimeLine) -> RecordLine:
    return RecordLine(
        lanes=[RecordLane(kind=lane.kind, heading=lane.heading) for lane in LANES],
        entries=list(map(_entry, line.entries)),
        bands=list(line.bands),
        builds=list(line.builds),
        lost=list(line.lost),
    )


def _entry(entry: Entry) -> RecordEntry:
    plain = {field.name: getattr(entry, field.name) for field in fields(entry)}
    return RecordEntry(
        **plain
        | {
            "at": moment_text(entry.at),
            "designs": list(entry.designs),
            "changes": [KeyChanged(**asdict(change)) for change in entry.changes],
            "sweep": None if entry.sweep is None else _sweep(entry.sweep),
        }
    )


def _sweep(sweep: RecordedSweep) -> SweepFigures:
    document = sweep_document(sweep)
    said = {key: value for key, value in document.items() if key not in _LEFT_TO_THE_ENTRY}
    return SweepFigures(**said, **document["result"])


def note_kept(note: Note, *, is_new: bool) -> NoteKept:
    return NoteKept(**note_document(note), is_new=is_new)


def to_keep(sent: SweepToKeep) -> Delivered:
    """The desk's word for it."""
    return delivered(sent, measured_at=sent.measured_at)


def labels_of(sent: SweepsSent) -> Labels:
    build = None if sent.build is None or not sent.build.strip() else sent.build
    return Labels(
        build=build, temperature=sent.temperature_degc, note=sent.note, measured_at=sent.measured_at
    )


def sweep_kept(kept: Kept) -> SweepKept:
    return SweepKept(**asdict(kept))


def moments_compared(found: MomentComparison) -> MomentsCompared:
    document = comparison_document(found.comparison)
    return MomentsCompared.model_validate(
        {"has_changed": found.has_changed, "why_not": found.why_not}
        | {key: document[key] for key in ("bands", "notes")}
    )


def trend_drawn(trend: Trend) -> TrendDrawn:
    document = trend_document(trend)
    begin = trend.lines_from[0].measured_at.timestamp()
    lines = {
        "q_line": _line(trend.lines.q, begin),
        "frequency_line": _line(trend.lines.frequency, begin),
        "q_line_by_warmth": _line(trend.lines.q_by_warmth),
        "frequency_line_by_warmth": _line(trend.lines.frequency_by_warmth),
    }
    return TrendDrawn.model_validate({key: document[key] for key in document if key != "schema"} | lines)


def _line(line: Line | None, begin: float = 0.0) -> dict[str, Any] | None:
    return None if line is None else {"x": (begin + line.x[0], begin + line.x[1]), "y": line.y}


def taken_in(imported: Imported) -> TakenIn:
    return TakenIn(**asdict(imported))
