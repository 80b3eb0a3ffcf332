# SPDX-License-Identifier: BSD-3-Clause
"""The record as the terminal meets it."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import click

from ringwright.air.reports import Reports
from ringwright.cli.moments import moment
from ringwright.cli.terminal import Terminal
from ringwright.desk.drafts import opened
from ringwright.errors import NoSuchEntryError
from ringwright.proof.estimate import Estimate
from ringwright.records.comparison import BandChange, BuildComparison
from ringwright.records.documents import (
    comparison_document,
    list_document,
    note_document,
    trend_document,
)
from ringwright.records.entries import Note, NoteKind, RecordedSweep
from ringwright.records.records import Records
from ringwright.records.trend import Trend
from ringwright.units import format_quantity, shown


def add_note(workspace: Path, text: str, *, kind: str, at: str | None, as_json: bool) -> None:
    """Write a note down."""
    when = datetime.now(UTC) if at is None else moment(at)
    with Records.open(workspace) as records:
        added = records.add_note(text, at=when, kind=NoteKind(kind))
        (note,) = (note for note in records.notes() if note.number == added.number)
    if as_json:
        _print({"schema": "ringwright.record.note/1", **note_document(note), "is_new": added.is_new})
    else:
        known = "" if added.is_new else " (it was there already)"
        Terminal.of_stdout().say(f"note {note.number}, {_local(note.at)}: {note.kind.value}{known}")


def show_list(workspace: Path, *, band: str | None, as_json: bool) -> None:
    """Print what there is."""
    with Records.open(workspace) as records:
        sweeps, notes, lost = records.sweeps(band=band), records.notes(), records.lost()
        reports = records.reports()
        names = {sha256: _name_of(text) for sha256, text in records.design_texts().items()}
    if band is not None and not sweeps:
        raise NoSuchEntryError(f"there is no sweep on {shown(band)}; leave --band out to see them all")
    for sweep in lost:
        click.echo(
            f"ringwright: sweeps/{sweep.file} is gone or altered; put the original back (or prove it again)",
            err=True,
        )
    if as_json:
        _print(list_document(sweeps, notes, names))
    else:
        terminal = Terminal.of_stdout()
        if len(reports) == 0 or sweeps or notes:
            for line in _listing(sweeps, notes, names, terminal=terminal):
                terminal.say(line)
        if len(reports) > 0:
            terminal.say(terminal.wrapped(_heard(reports)))


def show_comparison(workspace: Path, before: str, *, after: str, as_json: bool) -> None:
    """Print what changed between two builds."""
    with Records.open(workspace) as records:
        comparison = records.compare(before, after)
    if as_json:
        _print(comparison_document(comparison))
    else:
        terminal = Terminal.of_stdout()
        for line in _comparison(comparison, terminal):
            terminal.say(line)


def show_trend(workspace: Path, band: str, *, as_json: bool) -> None:
    """Print how a band's Q and frequency move."""
    with Records.open(workspace) as records:
        trend = records.trend(band)
    if as_json:
        _print(trend_document(trend))
    else:
        terminal = Terminal.of_stdout()
        for line in _trend(trend, terminal):
            terminal.say(line)


def export_to(workspace: Path, folder: Path, *, as_json: bool) -> None:
    """Write everything as plain files."""
    with Records.open(workspace) as records:
        exported = records.export(folder)
    for file in exported.lost:
        click.echo(f"ringwright: sweeps/{file} is gone or altered and could not be exported", err=True)
    if as_json:
        _print({"schema": "ringwright.record.export/1", **asdict(exported), "lost": list(exported.lost)})
    else:
        click.echo(
            f"{click.format_filename(folder)}: {_counted(exported.sweeps, 'sweep')}, "
            f"{_counted(exported.notes, 'note')}, {_counted(exported.designs, 'design text')}"
            + (f", {_counted(exported.tunings, 'tuning')}" if exported.tunings else "")
        )


def import_from(workspace: Path, folder: Path, *, as_json: bool) -> None:
    """Take an exported folder in."""
    with Records.open(workspace) as records:
        imported = records.import_(folder)
    if as_json:
        _print({"schema": "ringwright.record.import/1", **asdict(imported)})
    else:
        tuned = f", {_counted(imported.tunings, 'tuning')}" if imported.tunings else ""
        click.echo(
            f"new here: {_counted(imported.sweeps, 'sweep')}, {_counted(imported.results, 'result')}, "
            f"{_counted(imported.notes, 'note')}{tuned}"
        )


def _counted(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def _local(moment: datetime) -> str:
    return f"{moment.astimezone():%Y-%m-%d %H:%M}"


def _name_of(design: str) -> str:
    """What a design's text calls itself."""
    return opened("", design).title or "a design without a name"


def _listing(
    sweeps: tuple[RecordedSweep, ...],
    notes: tuple[Note, ...],
    names: Mapping[str, str],
    *,
    terminal: Terminal,
) -> Iterator[str]:
    """Each sweep with its design's name, where the record has sweeps of more than one."""
    of_sweeps = {sweep.number: names[sweep.results[-1][0]] for sweep in sweeps}
    is_one = len(set(of_sweeps.values())) < 2
    if not sweeps and not notes:
        yield "Nothing is recorded yet. Sweeps come in when they are proved, notes with record add."
    entries: list[RecordedSweep | Note] = [*sweeps, *notes]
    for entry in sorted(entries, key=_when):
        if isinstance(entry, Note):
            what, words = f"{entry.kind.value:<8} ", " ".join(entry.text.split())
        else:
            named = "" if is_one else f"{of_sweeps[entry.number]}: "
            what, words = f"sweep {entry.number:<2} ", f"{named}{_sweep(entry)}"
        yield terminal.wrapped(words, first=f"{_local(_when(entry))}  {what}", rest=" " * 27)


def _heard(reports: Reports) -> str:
    first, last = (datetime.fromtimestamp(float(at), UTC) for at in (reports.time.min(), reports.time.max()))
    named = f"{len(reports)} report{'' if len(reports) == 1 else 's'}"
    begin, end = (f"{day:%Y-%m-%d}" for day in (first, last))
    days = begin if begin == end else f"{begin} to {end}"
    return f"{named} of who heard whom, {days} UTC; `air --workspace` answers from them."


def _when(entry: RecordedSweep | Note) -> datetime:
    return entry.at if isinstance(entry, Note) else entry.measured_at


def _sweep(sweep: RecordedSweep) -> str:
    result = sweep.result
    parts = [
        f"{sweep.band or ''} Q {_between(result.q_unloaded)} at "
        f"{format_quantity(result.frequency.value, 'MHz', digits=7)}".strip(),
        *([sweep.build] if sweep.build else []),
        *([f"{sweep.temperature:g} degrees C"] if sweep.temperature is not None else []),
        *([" ".join(sweep.note.split())] if sweep.note else []),
        sweep.file,
    ]
    return "; ".join(parts)


def _comparison(comparison: BuildComparison, terminal: Terminal) -> Iterator[str]:
    yield terminal.strong(f"from {comparison.before} to {comparison.after}")
    for change in comparison.bands:
        yield terminal.wrapped(_change(change), first=f"  {change.band or 'other':<6} ", rest=" " * 9)
    for note in comparison.notes:
        words = " ".join(note.text.split())
        yield terminal.wrapped(words, first=f"  {_local(note.at)} {note.kind.value}: ", rest=" " * 9)


def _change(change: BandChange) -> str:
    ratio, gain = change.ratio, change.gain_db
    factor = f"times {ratio.value:.2f} ({ratio.low:.2f} to {ratio.high:.2f})"
    meaning = (
        f"{gain.value:+.1f} dB ({gain.low:+.1f} to {gain.high:+.1f})"
        if change.is_told_apart
        else "no change can be told from this"
    )
    once = (
        "; with one sweep for a build, what changes from day to day is not in it"
        if change.is_without_repeat
        else ""
    )
    return f"Q {_between(change.before)} to {_between(change.after)}, {factor}: {meaning}{once}"


def _trend(trend: Trend, terminal: Terminal) -> Iterator[str]:
    ring = trend.lines_from
    since = (
        ""
        if trend.changed_by is None
        else f", since {trend.changed_by.kind.value} {_local(trend.changed_by.at)}"
    )
    yield terminal.strong(
        f"{trend.band}: {len(ring)} of {len(trend.sweeps)} sweeps, {ring[0].measured_at.astimezone():%Y-%m-%d} to "
        f"{ring[-1].measured_at.astimezone():%Y-%m-%d}{since}"
    )
    for words, per_cent, frequency in (
        ("over this time", trend.q_change_pct, trend.frequency_change),
        ("each kelvin", trend.q_per_kelvin_pct, trend.frequency_per_kelvin),
        ("after rain", trend.q_after_rain_pct, trend.frequency_after_rain),
    ):
        if per_cent is None or frequency is None:
            yield f"  {words:<15} too few sweeps tell"
        else:
            q = f"Q {per_cent.value:+.2g} % ({per_cent.low:+.2g} to {per_cent.high:+.2g})"
            f = f"frequency {frequency.value:+.3g} Hz ({frequency.low:+.3g} to {frequency.high:+.3g})"
            yield terminal.wrapped(f"{q}; {f}", first=f"  {words:<15} ", rest=" " * 18)
    for reminder in trend.reminders:
        yield terminal.wrapped(reminder, first="! ")
    yield terminal.wrapped(
        "The frequency tells something of the ring only where the capacitor stayed where it was.", first="  "
    )


def _between(estimate: Estimate) -> str:
    return f"{estimate.value:.0f} ({estimate.low:.0f} to {estimate.high:.0f})"


def _print(document: dict[str, Any]) -> None:
    click.echo(json.dumps(document, indent=2, allow_nan=False))
