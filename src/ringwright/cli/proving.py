# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps as the terminal meets them: files and typed readings in, progress, the answer."""

import json
from collections.abc import Sequence
from dataclasses import fields
from pathlib import Path

import click

from ringwright.antenna.design import Design
from ringwright.cli.progress import LongWait
from ringwright.cli.proof_report import proof_report
from ringwright.cli.terminal import Terminal
from ringwright.errors import DesignError, DesignFileError, OutOfRangeError
from ringwright.proof.document import proof_document
from ringwright.proof.files import load_sweep
from ringwright.proof.proving import Proof
from ringwright.proof.proving import prove as set_against
from ringwright.proof.readings import parse_readings
from ringwright.proof.sweep import Sweep
from ringwright.proof.table_file import Columns


def show_proof(
    path: Path,
    sweeps: Sequence[Path],
    *,
    readings: Sequence[str],
    columns: Sequence[str],
    frequency_unit: str | None,
    as_json: bool,
) -> None:
    """Print what sweeps of a design's ring say."""
    named = _columns(columns, frequency_unit)
    design = Design.load(path)
    measured = [load_sweep(sweep, named) for sweep in sweeps]
    measured += [
        parse_readings(text, source=f"readings {number}", reference=design.feedline.impedance)
        for number, text in enumerate(readings, start=1)
    ]
    proof = _proof(design, path, measured)
    if as_json:
        click.echo(json.dumps(proof_document(proof), indent=2, allow_nan=False))
        return
    terminal = Terminal.of_stdout()
    for line in proof_report(proof, terminal):
        terminal.say(line)


def _proof(design: Design, path: Path, sweeps: Sequence[Sweep]) -> Proof:
    wait = LongWait()
    try:
        return set_against(
            design, sweeps, told=lambda done, total, doing: wait.tell(f"{doing} ({done} of {total})")
        )
    except (DesignError, OutOfRangeError) as exc:
        raise DesignFileError(str(path), str(exc)) from exc


def _columns(named: Sequence[str], frequency_unit: str | None) -> Columns:
    """What the person says of a table's columns."""
    roles = [field.name for field in fields(Columns) if field.name not in {"frequency_unit", "reference"}]
    found: dict[str, str | int] = {}
    for text in named:
        role, _, heading = text.partition("=")
        if role not in roles or not heading:
            raise click.BadParameter(
                f"{text!r} names no column; write one of {', '.join(roles)}, = and its heading or number",
                param_hint="--column",
            )
        found[role] = int(heading) if heading.isdecimal() else heading
    return Columns(**found, frequency_unit=frequency_unit)  # type: ignore[arg-type]  # roles are its fields
