# SPDX-License-Identifier: BSD-3-Clause
"""The sheet for the bench, written where the person wants it, and what it says in a few lines."""

import json
from collections.abc import Iterator
from pathlib import Path

import click

from ringwright.antenna.design_file import parse_design, read_text
from ringwright.cli.files import make_folder, write_bytes, write_text
from ringwright.cli.solving import predict_design
from ringwright.cli.terminal import Terminal
from ringwright.cli.words import CAUTION
from ringwright.safety.cautions import AUTHORITY
from ringwright.sheet.build import Build, find_build
from ringwright.sheet.build_document import build_document
from ringwright.sheet.build_sheet import build_sheet
from ringwright.sheet.cautions import WIND
from ringwright.sheet.drawings import drawings as drawings_of
from ringwright.sheet.figures import BUILD_FIGURES
from ringwright.sheet.measures import Measures
from ringwright.sheet.standing_blocks import assumed_stand


def show_sheet(
    path: Path,
    *,
    output: Path | None,
    paper: str,
    is_imperial: bool,
    templates: bool,
    drawings: Path | None,
    as_json: bool,
) -> None:
    """Write the PDF, or print the build data."""
    design = parse_design(read_text(path), source=str(path))
    prediction = predict_design(design, path)
    build = find_build(design, prediction, measures=Measures(is_imperial))
    if drawings is not None:
        make_folder(drawings)
        for name, drawing in drawings_of(build).items():
            write_text(drawings / f"{name}.svg", drawing.svg())
    if output is None and not as_json:
        output = Path(f"{path.stem}-sheet.pdf")
    if output is not None:
        write_bytes(output, build_sheet(build, paper=paper, templates=templates))
    if as_json:
        for notice in prediction.warnings:
            click.echo(f"ringwright: {prediction.design}: {notice.text}", err=True)
        click.echo(json.dumps(build_document(build), indent=2, allow_nan=False))
        return
    terminal = Terminal.of_stdout()
    for line in _answer(build, terminal):
        terminal.say(line)
    terminal.say(f"written: {output}" + ("" if drawings is None else f", drawings in {drawings}"))


def _answer(build: Build, terminal: Terminal) -> Iterator[str]:
    mechanics, measures = build.mechanics, build.measures
    yield terminal.strong(build.design.name)
    for piece in (*mechanics.cuts.pieces, *mechanics.cuts.coupling):
        yield f"  cut         {piece.count} x {measures.length(piece.cut)} {piece.name}"
    mass, wind, standing = mechanics.mass, mechanics.wind, mechanics.standing
    ballast = f" with {measures.mass(mass.ballast)} of ballast" if mass.ballast > 0.0 else ""
    yield f"  weighs      {measures.mass(mass.total)}{ballast}, the ring {measures.mass(mass.ring)}"
    yield f"  in wind     {measures.force(wind.force)} at {measures.speed(wind.speed)}"
    if standing is None:
        yield f"  fixing      must take {measures.moment(wind.moment)} with its own margin"
    else:
        need = (
            "no more ballast against that"
            if standing.holds
            else f"add {measures.mass(standing.ballast_needed)} of ballast, or guys"
        )
        yield f"  stands      tips at {measures.speed(standing.tips_at)}; {need}"
        slides = measures.speed(standing.slides_at)
        yield f"  slides      at {slides} on a smooth wet floor; spikes, a step or guys hold it"
    clear = mechanics.clearance
    volts = BUILD_FIGURES["clearance.voltage_v"].text(clear.voltage)
    air, wall = measures.at_least(clear.air), measures.at_least(clear.wall)
    yield f"  keep        {air} of air for {volts} peak, {wall} to the box"
    if mechanics.stand_assumed:
        yield terminal.wrapped(assumed_stand(mechanics.stand, measures), first="  ")
    yield terminal.wrapped(WIND, first=f"{CAUTION} ")
    yield terminal.wrapped(AUTHORITY, first=f"{CAUTION} ")
