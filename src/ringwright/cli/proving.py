# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps as the terminal meets them: files and typed readings in, progress, the answer."""

import json
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

import click

from ringwright.antenna.design import Design
from ringwright.antenna.design_file import parse_design, read_text
from ringwright.cli.calibration_words import accepted_report
from ringwright.cli.progress import LongWait
from ringwright.cli.proof_report import proof_report
from ringwright.cli.prove_record import Keeping, keep_proved, proved_file, proved_readings
from ringwright.cli.terminal import Terminal
from ringwright.desk.calibrations import check_free, named_path, write_layer
from ringwright.desk.sweep_columns import SweepColumns
from ringwright.errors import (
    CalibrationError,
    DesignError,
    DesignFileError,
    OutOfRangeError,
    SweepFitError,
)
from ringwright.proof.accepted import Accepted, Sweeps, accept_measured, accepted_document
from ringwright.proof.columns import ROLES, Columns
from ringwright.proof.document import proof_document
from ringwright.proof.files import parse_sweep, read_content
from ringwright.proof.proving import Proof
from ringwright.proof.proving import prove as set_against
from ringwright.proof.readings import parse_readings
from ringwright.proof.sweep import Sweep
from ringwright.records.sweep_files import checksum


def show_proof(
    path: Path,
    sweeps: Sequence[Path],
    *,
    readings: Sequence[str],
    columns: Sequence[str],
    frequency_unit: str | None,
    accept: str | None,
    keeping: Keeping,
    as_json: bool,
) -> bool:
    """Print what sweeps of a design's ring say; False if they were to be accepted and could not be."""
    named = _columns(columns, frequency_unit)
    memory = None if keeping.workspace is None else SweepColumns(keeping.workspace)
    layer_path = None if accept is None else _free_path(path, accept)
    text = read_text(path)
    design = parse_design(text, source=str(path))
    contents = [read_content(sweep) for sweep in sweeps]
    measured = [
        parse_sweep(content, source=str(sweep), columns=named)
        if memory is None
        else memory.read(content, source=str(sweep), named=named)
        for sweep, content in zip(sweeps, contents, strict=True)
    ]
    measured += [
        parse_readings(typed, source=f"readings {number}", reference=design.feedline.impedance)
        for number, typed in enumerate(readings, start=1)
    ]
    proof = _proof(design, path, measured)
    checksums = [checksum(content) for content in (*contents, *(typed.encode() for typed in readings))]
    accepted = None if layer_path is None else _accepted(proof, text, layer_path, checksums=checksums)
    if as_json:
        document = proof_document(proof)
        document["calibration"] = None if accepted is None else accepted_document(accepted)
        click.echo(json.dumps(document, indent=2, allow_nan=False))
    else:
        terminal = Terminal.of_stdout()
        lines = [*proof_report(proof, terminal)]
        if accepted is not None and layer_path is not None:
            lines += ["", *accepted_report(accepted, layer_path, terminal)]
        for line in lines:
            terminal.say(line)
    of_files, of_readings = proof.comparisons[: len(sweeps)], proof.comparisons[len(sweeps) :]
    proved = [proved_file(*each) for each in zip(sweeps, contents, of_files, strict=True)]
    proved += [proved_readings(*each) for each in zip(measured[len(sweeps) :], of_readings, strict=True)]
    keep_proved(keeping, text, proved)
    return layer_path is None or accepted is not None


def _free_path(design: Path, name: str) -> Path:
    """Where the layer of that name is to lie, before anything is computed for it."""
    path = named_path(design, name)
    check_free(path)
    return path


def _accepted(proof: Proof, text: str, path: Path, *, checksums: Sequence[str]) -> Accepted | None:
    """The layer, written; None where the sweeps cannot be accepted, with the reason on standard error."""
    try:
        accepted = accept_measured(
            Sweeps.of_proof(proof), text, name=path.stem, accepted=datetime.now(UTC), checksums=checksums
        )
    except CalibrationError as exc:
        click.echo(f"ringwright: not accepted: {exc}", err=True)
        return None
    write_layer(path, accepted.layer)
    return accepted


def _proof(design: Design, path: Path, sweeps: Sequence[Sweep]) -> Proof:
    wait = LongWait()
    try:
        return set_against(
            design, sweeps, told=lambda done, total, doing: wait.tell(f"{doing} ({done} of {total})")
        )
    except (DesignError, OutOfRangeError) as exc:
        raise DesignFileError(str(path), str(exc)) from exc
    except SweepFitError as exc:
        if len(sweeps) == 1:
            raise
        raise SweepFitError(exc.source, f"{exc.reason}; leave it out to hear of the others") from exc


def _columns(named: Sequence[str], frequency_unit: str | None) -> Columns | None:
    """What the person says of a table's columns; None where nothing is said."""
    for text in named:
        role, _, heading = text.partition("=")
        if role.strip() not in ROLES or not heading.strip():
            raise click.BadParameter(
                f"{text!r} names no column; write one of {', '.join(ROLES)}, = and its heading or number",
                param_hint="--column",
            )
    said = [*named, *([] if frequency_unit is None else [f"frequency_unit={frequency_unit}"])]
    return Columns.of(said, source="--column") if said else None
