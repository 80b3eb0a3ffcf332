# SPDX-License-Identifier: BSD-3-Clause
"""What a record says, as JSON documents."""

from collections.abc import Mapping
from typing import Any

from ringwright.proof.estimate import Estimate
from ringwright.records.comparison import BandChange, BuildComparison
from ringwright.records.entries import Note, RecordedSweep, moment_text
from ringwright.records.trend import Trend

LIST_SCHEMA = "ringwright.record.list/1"
COMPARISON_SCHEMA = "ringwright.record.comparison/1"
TREND_SCHEMA = "ringwright.record.trend/1"


def list_document(
    sweeps: tuple[RecordedSweep, ...], notes: tuple[Note, ...], names: Mapping[str, str]
) -> dict[str, Any]:
    """Sweeps and notes; `names` of designs by the checksum of their text."""
    return {
        "schema": LIST_SCHEMA,
        "sweeps": [sweep_document(sweep) | {"design_name": names[sweep.results[-1][0]]} for sweep in sweeps],
        "notes": [note_document(note) for note in notes],
    }


def sweep_document(sweep: RecordedSweep) -> dict[str, Any]:
    """One sweep with its last result; `design` is the checksum of the text it was proved against."""
    return {
        "number": sweep.number,
        "file": sweep.file,
        "name_given": sweep.name_given,
        "sha256": sweep.sha256,
        "size_bytes": sweep.size,
        "measured_at": moment_text(sweep.measured_at),
        "band": sweep.band,
        "build": sweep.build,
        "temperature_degc": sweep.temperature,
        "note": sweep.note,
        "design": sweep.results[-1][0],
        "result": sweep.result.to_document(),
    }


def note_document(note: Note) -> dict[str, Any]:
    """One note."""
    return {"number": note.number, "at": moment_text(note.at), "kind": note.kind.value, "text": note.text}


def comparison_document(comparison: BuildComparison) -> dict[str, Any]:
    """Two builds, band by band."""
    return {
        "schema": COMPARISON_SCHEMA,
        "before": comparison.before,
        "after": comparison.after,
        "bands": [_change(band) for band in comparison.bands],
        "notes": [note_document(note) for note in comparison.notes],
    }


def _change(change: BandChange) -> dict[str, Any]:
    return {
        "band": change.band,
        **_figure("q_before", change.before),
        **_figure("q_after", change.after),
        **_figure("q_ratio", change.ratio),
        **_figure("gain_db", change.gain_db),
        **_figure("resistance_before_ohm", change.resistance_before),
        **_figure("resistance_after_ohm", change.resistance_after),
        **_figure("resistance_ratio", change.resistance_ratio),
        **_figure("frequency_before_hz", change.frequency_before),
        **_figure("frequency_after_hz", change.frequency_after),
        **_figure("frequency_change_hz", change.frequency_change),
        "is_told_apart": change.is_told_apart,
        "is_without_repeat": change.is_without_repeat,
        "sweeps_before": list(change.sweeps_before),
        "sweeps_after": list(change.sweeps_after),
    }


def trend_document(trend: Trend) -> dict[str, Any]:
    """Points, lines and reminders of one band."""
    in_line, wet = {sweep.number for sweep in trend.lines_from}, set(trend.wet)
    return {
        "schema": TREND_SCHEMA,
        "band": trend.band,
        "from": moment_text(trend.lines_from[0].measured_at),
        "to": moment_text(trend.lines_from[-1].measured_at),
        "changed_by": None if trend.changed_by is None else note_document(trend.changed_by),
        **_figure("q_change_pct", trend.q_change_pct),
        **_figure("q_per_kelvin_pct", trend.q_per_kelvin_pct),
        **_figure("q_after_rain_pct", trend.q_after_rain_pct),
        **_figure("frequency_change_hz", trend.frequency_change),
        **_figure("frequency_per_kelvin_hz", trend.frequency_per_kelvin),
        **_figure("frequency_after_rain_hz", trend.frequency_after_rain),
        "reminders": list(trend.reminders),
        "points": [
            {
                "number": sweep.number,
                "measured_at": moment_text(sweep.measured_at),
                **_figure("q_unloaded", sweep.result.q_unloaded),
                **_figure("frequency_hz", sweep.result.frequency),
                "temperature_degc": sweep.temperature,
                "build": sweep.build,
                "is_wet": sweep.number in wet,
                "is_in_line": sweep.number in in_line,
            }
            for sweep in trend.sweeps
        ],
        "notes": [note_document(note) for note in trend.notes],
    }


def _figure(key: str, estimate: Estimate | None) -> dict[str, float | None]:
    """A value with the ends of its interval, as in the proof's document."""
    ends = (None,) * 3 if estimate is None else (estimate.value, estimate.low, estimate.high)
    return {f"{key}{end}": value for end, value in zip(("", "_low", "_high"), ends, strict=True)}
