# SPDX-License-Identifier: BSD-3-Clause
"""Reports as the terminal meets them: files in, progress, the answer."""

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import click
import numpy as np

from ringwright.air.columns import Columns
from ringwright.air.comparison import compare, compared_pairs
from ringwright.air.document import air_document, expected_document, history_document, null_document
from ringwright.air.expected import Promise, expected
from ringwright.air.files import Delivered, read_content, read_reports
from ringwright.air.history import against_history
from ringwright.air.locator import place_of
from ringwright.air.map_drawing import map_drawing
from ringwright.air.null_fit import fit_null
from ringwright.air.reports import Reading, Reports
from ringwright.air.slots import check_slots, draw_slots, read_slots, slots_text, with_antennas
from ringwright.air.summary import Paths, band_summaries, paths
from ringwright.air.world import world
from ringwright.antenna.design_file import parse_design, read_text
from ringwright.antenna.directions import Null, azimuth_cut, quietest, true_bearing
from ringwright.cli.air_answer import Answer
from ringwright.cli.air_report import air_report
from ringwright.cli.files import write_text
from ringwright.cli.progress import LongWait
from ringwright.cli.solving import predict_design
from ringwright.cli.terminal import Terminal
from ringwright.desk.own_locator import own_locator
from ringwright.desk.report_columns import ReportColumns
from ringwright.errors import QuantityError, ReportsError
from ringwright.physics.checks import FloatArray
from ringwright.records.records import Records
from ringwright.units import shown, to_si

_LOW_DEG = 20.0
"""Elevation at which the predicted pattern is drawn, that of middling paths."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What a person wants to know of reports."""

    compared: tuple[str, str] | None
    slots: Path | None
    designs: tuple[Path, ...]
    turned: tuple[str, ...]
    since: str | None
    locator: str | None
    drawing: Path | None


def show_air(
    files: Sequence[Path],
    question: Question,
    *,
    columns: Sequence[str],
    workspace: Path | None,
    as_json: bool,
) -> None:
    """Print what reports say."""
    if question.locator is not None:
        place_of(question.locator)  # a wrong one is told of before a long file is read
    since = None if question.since is None else _moment(question.since)
    turned = _turned(question.turned)
    wait = LongWait()
    promises = [_promise(path, wait) for path in question.designs]
    if len(promises) > 2:
        raise ReportsError(
            "more than two designs cannot be set beside two antennas; name one or two with --design"
        )
    reading = _read(files, Columns.of(columns) if columns else None, workspace=workspace, wait=wait)
    answer = _answer(question, reading, workspace, promises=promises, turned=turned)
    if since is not None:
        answer = replace(answer, history=against_history(answer.reading.reports, since))
    if question.drawing is not None:
        write_text(question.drawing, _map(answer, promises))
    _print(answer, as_json=as_json)
    if workspace is not None and files:
        _record(workspace, answer.reading.reports)


def show_slots(
    first: str, second: str, *, length: str, count: int, start: str | None, seed: int | None, out: Path | None
) -> None:
    """Print a plan for alternating."""
    try:
        seconds = to_si(length, "s")
    except QuantityError as exc:
        raise ReportsError(f"--length: {exc}") from exc
    begin = (
        _moment(start) if start else datetime.now(UTC).replace(second=0, microsecond=0) + timedelta(minutes=1)
    )
    text = slots_text(
        draw_slots(first, second, start=begin, length=seconds, count=count, rng=np.random.default_rng(seed))
    )
    if out is None:
        click.echo(text, nl=False)
    else:
        write_text(out, text)


def _answer(
    question: Question,
    reading: Reading,
    workspace: Path | None,
    *,
    promises: Sequence[Promise],
    turned: dict[str, float],
) -> Answer:
    comparison = fairness = promise = null = None
    if question.slots is not None:
        plan = read_slots(read_text(question.slots), source=str(question.slots))
        reading = replace(reading, reports=with_antennas(reading.reports, plan))
        if question.compared is not None:
            fairness = check_slots(reading.reports, plan, names=question.compared)
    reports = reading.reports
    locator = (
        question.locator or reports.own_locator or (None if workspace is None else own_locator(workspace))
    )
    home = None if locator is None else place_of(locator)
    seen = None if home is None else paths(reports, home)
    if question.compared is not None:
        comparison = compare(reports, *question.compared)
        if len(promises) == 2:
            pairs = compared_pairs(reports, comparison)
            promise = expected(*promises, reports=reports, of=_seen(seen), pairs=pairs, comparison=comparison)
    if turned:
        angle = _angles(reports, turned)
        null = fit_null(reports, _seen(seen), turned=angle, rng=np.random.default_rng(0))
    return Answer(
        reading=reading,
        locator=locator,
        seen=seen,
        comparison=comparison,
        fairness=fairness,
        expected=promise,
        null=null,
        predicted_nulls=_predicted_nulls(promises[0]) if null and promises else (),
    )


def _print(answer: Answer, *, as_json: bool) -> None:
    bands = band_summaries(answer.reading.reports, answer.seen)
    if not as_json:
        terminal = Terminal.of_stdout()
        for line in air_report(answer, bands, terminal):
            terminal.say(line)
        return
    document: dict[str, Any] = air_document(
        answer.reading, bands, comparison=answer.comparison, locator=answer.locator
    )
    if answer.fairness is not None:
        document["fairness"] = list(answer.fairness)
    if answer.expected is not None:
        document["expected"] = expected_document(answer.expected)
    if answer.null is not None:
        document["null"] = null_document(answer.null, answer.predicted_nulls)
    if answer.history is not None:
        document["history"] = history_document(answer.history)
    click.echo(json.dumps(document, indent=2, allow_nan=False))


def _read(
    files: Sequence[Path], columns: Columns | None, *, workspace: Path | None, wait: LongWait
) -> Reading:
    if not files and workspace is not None:
        with Records.open(workspace) as records:
            reports = records.reports()
        return Reading(read=len(reports), reports=reports, rejected=())
    delivered = [Delivered(str(path), read_content(path)) for path in files]
    kept = None if workspace is None else ReportColumns(workspace)
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


def _record(workspace: Path, reports: Reports) -> None:
    """Keep what the record has not, with the antennas that a plan gave."""
    with Records.open(workspace) as records:
        new = records.add_reports(reports)
    if new:
        click.echo(f"ringwright: {new} report{'s' if new > 1 else ''} recorded in {workspace}", err=True)


def _promise(path: Path, wait: LongWait) -> Promise:
    wait.tell(f"predicting {path.name}")
    design = parse_design(read_text(path), source=str(path))
    return Promise.of(design, predict_design(design, path))


def _predicted_nulls(promise: Promise) -> tuple[tuple[str, Null], ...]:
    return tuple((band, quietest(promise.design, far, _LOW_DEG)) for band, far in promise.far.items())


def _map(answer: Answer, promises: Sequence[Promise]) -> str:
    seen = _seen(answer.seen)
    title = f"Heard from {answer.locator}" if answer.locator else "Heard"
    return map_drawing(title, seen.home, world(answer.reading.reports, seen), pattern=_pattern(promises))


def _pattern(promises: Sequence[Promise]) -> tuple[FloatArray, FloatArray] | None:
    if len(promises) != 1 or not promises[0].far:
        return None
    design, far = promises[0].design, next(iter(promises[0].far.values()))
    azimuth, gain = azimuth_cut(far, design.power, _LOW_DEG)
    return np.array([true_bearing(design, float(each)) for each in azimuth]), gain


def _seen(seen: Paths | None) -> Paths:
    if seen is None:
        raise ReportsError("this needs your own place; give your locator with --locator")
    return seen


def _turned(named: Sequence[str]) -> dict[str, float]:
    found = {}
    for text in named:
        antenna, _, degrees = text.rpartition("=")
        try:
            found[antenna.strip()] = float(degrees.strip().removesuffix("deg"))
        except ValueError:
            raise ReportsError(
                f'--turned {shown(text)} is none; write antenna=degrees, as in "ring=90"'
            ) from None
    return found


def _angles(reports: Reports, turned: dict[str, float]) -> FloatArray:
    angle = np.full(len(reports), np.nan)
    for antenna, degrees in turned.items():
        made = reports.of_antenna(antenna)
        if not made.any():
            raise ReportsError(f"no report was made with the antenna {shown(antenna)} of --turned")
        angle[made] = degrees
    return angle


def _moment(text: str) -> datetime:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        raise ReportsError(
            f"{shown(text)} is no date; write it as in 2026-05-01 or 2026-05-01T12:00Z"
        ) from None
    return moment if moment.tzinfo else moment.replace(tzinfo=UTC)
