# SPDX-License-Identifier: BSD-3-Clause
"""The search for a coupling as the terminal meets it: progress, Ctrl-C, the answer, the file written."""

import json
from collections.abc import Sequence
from pathlib import Path

import click

from ringwright.antenna.design import Design
from ringwright.antenna.design_file import parse_design, read_text
from ringwright.choose.match import CouplingMatch, find_coupling
from ringwright.choose.match_document import match_document
from ringwright.choose.trials import Trial
from ringwright.cli.files import write_text
from ringwright.cli.match_report import explanation, match_report
from ringwright.cli.progress import LongWait
from ringwright.cli.terminal import Terminal
from ringwright.desk.calibrations import with_layer
from ringwright.desk.edited_text import text_with_edits
from ringwright.desk.matching import match_edits, so_far
from ringwright.errors import DesignError, DesignFileError, OutOfRangeError


def show_match(
    path: Path,
    vary: Sequence[str],
    *,
    as_json: bool,
    explain: bool,
    write: Path | None,
    is_imperial: bool,
    calibration: str | None = None,
) -> None:
    """Print the coupling for all bands at once, and write the design that has it where asked for."""
    text = read_text(path)
    found = _found(with_layer(text, path, calibration), path, vary)
    if write is not None:
        _write(write, text, found)
    if as_json:
        laid = found.design.calibration
        document = match_document(found) | {"calibration": None if laid is None else laid.layer.name}
        for note in document["notes"]:
            click.echo(f"ringwright: {found.design.name}: {note['text']}", err=True)
        click.echo(json.dumps(document, indent=2, allow_nan=False))
    else:
        terminal = Terminal.of_stdout()
        lines = [*match_report(found, terminal, is_imperial=is_imperial)]
        for line in [*lines, *explanation(terminal)] if explain else lines:
            terminal.say(line)


def _found(design: Design, path: Path, vary: Sequence[str]) -> CouplingMatch:
    wait = LongWait()
    said = "nothing was tried yet"

    def progress(tried: int, best: Trial) -> None:
        nonlocal said
        said = so_far(best)
        wait.tell(f"{tried} tried; {said}")

    try:
        return find_coupling(design, vary=vary, progress=progress)
    except KeyboardInterrupt:
        click.echo(f"ringwright: stopped; {said}", err=True)
        raise click.Abort from None
    except (DesignError, OutOfRangeError) as exc:
        raise DesignFileError(str(path), str(exc)) from exc


def _write(path: Path, text: str, found: CouplingMatch) -> None:
    matched = text_with_edits(text, match_edits(found))
    parse_design(matched, source=str(path))
    write_text(path, matched)
