# SPDX-License-Identifier: BSD-3-Clause
"""Designs in, answers out: what `predict` and `demo` share."""

import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import click

from ringwright.antenna.charts import plot_page
from ringwright.antenna.design import Design
from ringwright.antenna.figures import to_json
from ringwright.antenna.prediction import Notice, Prediction
from ringwright.antenna.solution import SolutionMemory
from ringwright.cli.answer import show_answer
from ringwright.cli.comparison import show_comparison
from ringwright.cli.explanation import show_explanation
from ringwright.cli.files import write_text
from ringwright.cli.solving import predict_design
from ringwright.cli.terminal import Terminal
from ringwright.desk.calibrations import load_with

Result = tuple[Design, Prediction]


def load_and_predict(
    paths: Sequence[Path], *, is_metal_gone: bool = False, calibration: str | None = None
) -> list[Result]:
    """Every design is read before the first is solved, so that a misspelt name is said at once."""
    designs = [load_with(path, calibration) for path in paths]
    memory = SolutionMemory()
    solve = _predict_without_metal if is_metal_gone else _predict_as_it_is
    return [solve(design, path, memory) for design, path in zip(designs, paths, strict=True)]


def report(results: Sequence[Result], *, explain: bool, is_imperial: bool) -> None:
    """Print the answer for people."""
    terminal = Terminal.of_stdout()
    if len(results) == 1:
        show_answer(*results[0], terminal, is_imperial=is_imperial)
    else:
        show_comparison(results, terminal, is_imperial=is_imperial)
    if explain:
        for design, prediction in results:
            show_explanation(design, prediction, terminal)


def report_json(results: Sequence[Result]) -> None:
    """Print the prediction document, or an array of them in the order asked for; warnings go to standard error."""
    documents = [to_json(prediction) for _, prediction in results]
    for document in documents:
        for warning in document["warnings"]:
            click.echo(f"ringwright: {document['design']}: {warning['text']}", err=True)
    answer = documents if len(documents) > 1 else documents[0]
    click.echo(json.dumps(answer, indent=2, allow_nan=False))


def write_plot(path: Path, results: Sequence[Result]) -> None:
    """Draw SWR and reflection of every band into an SVG file."""
    write_text(path, plot_page([prediction for _, prediction in results]))


def _predict_as_it_is(design: Design, path: Path, memory: SolutionMemory) -> Result:
    return design, predict_design(design, path, memory)


def _predict_without_metal(design: Design, path: Path, memory: SolutionMemory) -> Result:
    bare = design.without_metal()
    found = predict_design(bare, path, memory)
    notice = Notice(code="metal-gone", text="As if the metal nearby were gone.")
    return bare, replace(found, warnings=(notice, *found.warnings))
