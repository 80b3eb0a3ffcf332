# SPDX-License-Identifier: BSD-3-Clause
"""Reports as the terminal meets them: files in, progress, the answer."""

import json
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

import click

from ringwright.air.columns import Columns
from ringwright.air.comparison import compare
from ringwright.air.document import air_document
from ringwright.air.files import Delivered, read_content, read_reports
from ringwright.air.locator import place_of
from ringwright.air.map_drawing import map_drawing
from ringwright.air.reports import Reading
from ringwright.air.summary import band_summaries, paths
from ringwright.air.world import world
from ringwright.cli.air_report import air_report
from ringwright.cli.files import write_text
from ringwright.cli.progress import LongWait
from ringwright.cli.terminal import Terminal
from ringwright.desk.own_locator import own_locator
from ringwright.desk.report_columns import ReportColumns
from ringwright.errors import ReportsError


def show_air(
    files: Sequence[Path],
    *,
    compared: tuple[str, str] | None,
    locator: str | None,
    columns: Sequence[str],
    workspace: Path | None,
    drawing: Path | None,
    as_json: bool,
) -> None:
    """Print what reports say."""
    if locator is not None:
        place_of(locator)  # a wrong one is told of before a long file is read
    reading = _read(files, Columns.of(columns) if columns else None, workspace=workspace)
    if locator is None:
        locator = reading.reports.own_locator or (None if workspace is None else own_locator(workspace))
    home = None if locator is None else place_of(locator)
    if drawing is not None and home is None:
        raise ReportsError("a map needs a middle; give your own locator with --locator")
    seen = None if home is None else paths(reading.reports, home)
    comparison = None if compared is None else compare(reading.reports, *compared)
    bands = band_summaries(reading.reports, seen)
    if drawing is not None and home is not None and seen is not None:
        write_text(drawing, map_drawing(f"Heard from {locator}", home, world(reading.reports, seen)))
    if as_json:
        document = air_document(reading, bands, comparison=comparison, locator=locator)
        click.echo(json.dumps(document, indent=2, allow_nan=False))
    else:
        terminal = Terminal.of_stdout()
        for line in air_report(reading, bands, comparison=comparison, locator=locator, terminal=terminal):
            terminal.say(line)


def _read(files: Sequence[Path], columns: Columns | None, *, workspace: Path | None) -> Reading:
    delivered = [Delivered(str(path), read_content(path)) for path in files]
    kept = None if workspace is None else ReportColumns(workspace)
    wait = LongWait()
    reading = read_reports(
        delivered,
        now=datetime.now(UTC),
        columns=columns,
        memory="" if kept is None else kept.text(),
        told=lambda rows: wait.tell(f"{rows} rows read"),
    )
    if kept is not None and columns is not None:
        kept.keep(delivered, columns)
    return reading
