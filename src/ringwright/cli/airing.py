# SPDX-License-Identifier: BSD-3-Clause
"""Reports as the terminal meets them: files in, progress, the answer."""

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import click

from ringwright.air.columns import Columns
from ringwright.air.comparison import compare
from ringwright.air.document import (
    air_document,
    expected_document,
    history_document,
    light_document,
    null_document,
)
from ringwright.air.expected import Promise
from ringwright.air.files import Delivered, read_content, read_reports
from ringwright.air.joined import joined
from ringwright.air.locator import place_of
from ringwright.air.reports import Reading, Reports
from ringwright.air.slots import check_slots, read_slots, with_antennas
from ringwright.air.summary import band_summaries, light_table, paths
from ringwright.antenna.design_file import parse_design, read_text
from ringwright.cli.air_answer import Answer
from ringwright.cli.air_report import air_report
from ringwright.cli.files import write_bytes, write_text
from ringwright.cli.progress import LongWait
from ringwright.cli.solving import predict_design
from ringwright.cli.terminal import Terminal
from ringwright.desk.air_answers import (
    PNG,
    SVG,
    made_from,
    made_with,
    null_of,
    past_of,
    pattern_of,
    picture,
    plan_text,
    predicted_nulls,
    promised,
    seen_from,
)
from ringwright.desk.own_locator import own_locator
from ringwright.desk.report_columns import ReportColumns
from ringwright.errors import QuantityError, ReportsError
from ringwright.records.records import Records
from ringwright.units import shown, to_si


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What a person wants to know of reports."""

    compared: tuple[str, str] | None
    slots: Path | None
    designs: tuple[Path, ...]
    turned: tuple[str, ...]
    antenna: str | None
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
    turned, kind = _turned(question.turned), _kind(question.drawing)
    wait = LongWait()
    promises = [_promise(path, wait) for path in question.designs]
    if len(promises) > 2:
        raise ReportsError(
            "more than two designs cannot be set beside two antennas; name one or two with --design"
        )
    reading = _read(files, Columns.of(columns) if columns else None, workspace=workspace, wait=wait)
    answer = _answer(question, reading, workspace, promises=promises, turned=turned)
    looked_at = answer.reading.reports
    if since is not None:
        known = looked_at if workspace is None else _with_record(workspace, looked_at)
        answer = replace(answer, history=past_of(known, since, antenna=question.antenna))
    if question.antenna is not None:
        answer = _of_antenna(answer, question.antenna)
    if question.drawing is not None:
        write_bytes(question.drawing, _map(answer, promises, kind=kind))
    _print(answer, as_json=as_json)
    if workspace is not None and files:
        _record(workspace, made_from(looked_at, question.locator))


def show_slots(
    first: str, second: str, *, length: str, count: int, start: str | None, seed: int | None, out: Path | None
) -> None:
    """Print a plan for alternating."""
    try:
        seconds = to_si(length, "s")
    except QuantityError as exc:
        raise ReportsError(f"--length: {exc}") from exc
    if out is not None and out.exists():
        raise ReportsError(
            f"{out} is there already, and a plan is the only record of what was on the air; name another"
        )
    begin = None if start is None else _moment(start)
    if count % 2:
        click.echo(f"ringwright: slots come in twos, so that {count + 1} are planned, not {count}", err=True)
    text = plan_text((first, second), start=begin, length=seconds, count=count, seed=seed)
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
            promise = promised(*promises, reports=reports, of=seen_from(seen), names=question.compared)
    if turned:
        null = null_of(reports, seen_from(seen), turned)
    return Answer(
        reading=reading,
        locator=locator,
        seen=seen,
        comparison=comparison,
        fairness=fairness,
        expected=promise,
        null=null,
        predicted_nulls=predicted_nulls(promises[0]) if null and promises else (),
    )


def _of_antenna(answer: Answer, antenna: str) -> Answer:
    """The answer with only the reports of one antenna on map and table; the rest of it stands."""
    mine = answer.reading.reports.of_antenna(antenna)
    reports, seen = made_with(answer.reading.reports, antenna), answer.seen
    return replace(answer, looked_at=reports, seen=None if seen is None else seen.only(mine))


def _with_record(workspace: Path, reports: Reports) -> Reports:
    """The station's own history: what the workspace has recorded, and what has just come in."""
    with Records.open(workspace) as records:
        return joined(records.reports(), reports).reports


def _print(answer: Answer, *, as_json: bool) -> None:
    bands = band_summaries(answer.shown, answer.seen)
    if answer.seen is not None:
        answer = replace(answer, light=light_table(answer.shown, answer.seen.home))
    if not as_json:
        terminal = Terminal.of_stdout()
        for line in air_report(answer, bands, terminal):
            terminal.say(line)
        return
    document: dict[str, Any] = air_document(
        answer.reading, bands, comparison=answer.comparison, locator=answer.locator
    )
    if answer.light is not None:
        document["light"] = light_document(answer.light)
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


def _map(answer: Answer, promises: Sequence[Promise], *, kind: str) -> bytes:
    pattern = None
    if len(promises) == 1 and promises[0].far:
        band, far = next(iter(promises[0].far.items()))
        pattern = pattern_of(promises[0].design, far, band)
    seen = seen_from(answer.seen)
    return picture(answer.shown, seen, locator=answer.locator, pattern=pattern, kind=kind)


def _kind(drawing: Path | None) -> str:
    kind = SVG if drawing is None else drawing.suffix.lstrip(".").casefold()
    if kind not in {SVG, PNG}:
        raise ReportsError(f"--map {drawing} ends neither in .svg nor in .png; name the file so")
    return kind


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


def _moment(text: str) -> datetime:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        raise ReportsError(
            f"{shown(text)} is no date; write it as in 2026-05-01 or 2026-05-01T12:00Z"
        ) from None
    return moment if moment.tzinfo else moment.replace(tzinfo=UTC)
