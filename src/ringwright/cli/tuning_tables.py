# SPDX-License-Identifier: BSD-3-Clause
"""Tuning tables and tunings of a workspace, printed, edited and written."""

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import click

from ringwright.cli.files import write_text
from ringwright.cli.terminal import Terminal
from ringwright.errors import NoSuchEntryError, TuningTableError
from ringwright.records.entries import moment_text
from ringwright.records.records import Records
from ringwright.records.tuning import RecordedTuning, TuningPairs
from ringwright.tuner.table_point import Point, site_name
from ringwright.tuner.table_text import parse_points, points_text
from ringwright.units import shown


def list_tables(workspace: Path, *, as_json: bool) -> None:
    """Print which there are."""
    with Records.open(workspace) as records:
        tables = {name: records.table(name) for name in records.table_names()}
    if as_json:
        found = [
            {"name": name, "site": each.site, "pairs": len(each.points)} for name, each in tables.items()
        ]
        _print({"schema": "ringwright.tune.tables/1", "tables": found})
        return
    terminal = Terminal.of_stdout()
    if not tables:
        terminal.say("No table was learnt yet; ringwright tune learn does it.")
    for name, each in tables.items():
        terminal.say(f"{name}: {len(each.points)} pairs, stands at {each.site}")


def print_table(workspace: Path, name: str, *, as_json: bool) -> None:
    """Print one."""
    with Records.open(workspace) as records:
        table = _known(records, name)
    if as_json:
        _print(_table_document(name, table))
        return
    terminal = Terminal.of_stdout()
    terminal.say(terminal.strong(f"{name}, stands at {table.site}"))
    for line in _rows(table):
        terminal.say(line)


def edit_table(
    workspace: Path, name: str, *, remove: int | None, site: str | None, source: Path | None, as_json: bool
) -> None:
    """Change one and keep it."""
    points = None if source is None else parse_points(_read(source), source=str(source))
    with Records.open(workspace) as records, records.writing():
        table = _known(records, name)
        if remove is not None:
            if remove > len(table.points):
                raise TuningTableError(
                    f"--remove: there is no pair {remove}; the table has {len(table.points)}"
                )
            points = table.points[: remove - 1] + table.points[remove:]
        if points is not None:
            table = replace(table, points=points)
        if site is not None:
            table = replace(table, site=site_name(site))
        records.keep_table(name, table)
    if as_json:
        _print(_table_document(name, table))
    else:
        click.echo(f"{name}: {len(table.points)} pairs, stands at {table.site}")


def export_table(workspace: Path, name: str, *, file: Path) -> None:
    """Write one."""
    with Records.open(workspace) as records:
        table = _known(records, name)
    write_text(file, points_text(table.points))
    click.echo(f"{click.format_filename(file)}: {len(table.points)} pairs")


def show_history(workspace: Path, *, band: str | None, as_json: bool) -> None:
    """Print the tunings."""
    with Records.open(workspace) as records:
        tunings = records.tunings(band=band)
    if band is not None and not tunings:
        raise NoSuchEntryError(f"there is no tuning on {shown(band)}; leave --band out to see them all")
    if as_json:
        _print(
            {"schema": "ringwright.tune.history/1", "tunings": [_tuning_document(kept) for kept in tunings]}
        )
        return
    terminal = Terminal.of_stdout()
    if not tunings:
        terminal.say("Nothing was tuned yet.")
    for kept in tunings:
        at = f"{kept.tuning.at.astimezone():%Y-%m-%d %H:%M}"
        terminal.say(terminal.wrapped(_in_words(kept), first=f"{at}  {kept.number:>3}  ", rest=" " * 23))


def _known(records: Records, name: str) -> TuningPairs:
    if name not in records.table_names():
        names = ", ".join(map(shown, records.table_names())) or "none"
        raise NoSuchEntryError(f"there is no tuning table {shown(name)}; the record has {names}")
    return records.table(name)


def _read(source: Path) -> str:
    try:
        return source.read_bytes().decode()
    except (OSError, ValueError) as exc:
        reason = (exc.strerror if isinstance(exc, OSError) else None) or "it is no UTF-8 text"
        raise TuningTableError(f"{source}: cannot be read ({reason}); name a file that export wrote") from exc


def _rows(table: TuningPairs) -> Iterator[str]:
    yield f"{'no':>4} {'MHz':>10} {'+- Hz':>7} {'step':>9} {'deg C':>6}  when                  site"
    for number, point in enumerate(table.points, start=1):
        warmth = "" if point.temperature is None else f"{point.temperature:.1f}"
        yield (
            f"{number:>4} {point.frequency / 1e6:>10.5f} {point.spread:>7.0f} {point.position:>9} {warmth:>6}  "
            f"{moment_text(point.at)}  {point.site}"
        )


def _in_words(kept: RecordedTuning) -> str:
    tuning, found = kept.tuning, kept.tuning.found
    swr = f", SWR {found.swr:.2f}" if found.swr is not None else ""
    place = f" at step {found.position}" if found.position is not None else ""
    band = f"{tuning.band} " if tuning.band else ""
    return (
        f"{band}{tuning.frequency / 1e6:.4f} MHz: {tuning.outcome.value}{place}{swr}; {len(found.trace)} readings, "
        f"{found.carrier:.1f} s of carrier"
    )


def _table_document(name: str, table: TuningPairs) -> dict[str, Any]:
    return {"schema": "ringwright.tune.table/1", "name": name, "site": table.site, "pairs": [
        _pair(number, point) for number, point in enumerate(table.points, start=1)
    ]}  # fmt: skip


def _pair(number: int, point: Point) -> dict[str, Any]:
    return {
        "number": number,
        "position_steps": point.position,
        "frequency_hz": point.frequency,
        "spread_hz": point.spread,
        "temperature_degc": point.temperature,
        "at": moment_text(point.at),
        "site": point.site,
    }


def _tuning_document(kept: RecordedTuning) -> dict[str, Any]:
    tuning = kept.tuning
    return {
        "number": kept.number,
        "at": moment_text(tuning.at),
        "design": kept.design,
        "table": tuning.table,
        "band": tuning.band,
        "frequency_hz": tuning.frequency,
        "outcome": tuning.outcome.value,
        **tuning.found.to_document(),
    }


def _print(document: dict[str, Any]) -> None:
    click.echo(json.dumps(document, indent=2, allow_nan=False, ensure_ascii=False))
