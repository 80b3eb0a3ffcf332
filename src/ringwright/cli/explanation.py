# SPDX-License-Identifier: BSD-3-Clause
"""How do we know: of every figure its formula, inputs, source and limits; every default that was used."""

from collections.abc import Iterator

from ringwright.antenna.design import Design
from ringwright.antenna.figures import FIGURES, Figure
from ringwright.antenna.figures.inputs import design_inputs
from ringwright.antenna.prediction import BandPrediction, Prediction
from ringwright.cli.terminal import Terminal
from ringwright.cli.words import band_name

_CLOSED_FORMS = "cross_check."


def show_explanation(design: Design, prediction: Prediction, terminal: Terminal) -> None:
    """Print the table of figures with this prediction's values, what it was made from, and the defaults."""
    inputs = dict(design_inputs(design))
    terminal.say()
    terminal.say(terminal.strong(f"How we know: {prediction.design}"))
    for key, figure in FIGURES.items():
        if all(figure.is_left_out(band) for band in prediction.bands):
            continue
        terminal.say()
        terminal.say(terminal.strong(terminal.wrapped(f"{figure.label} ({key})")))
        for word, text in _rows(figure, prediction, inputs):
            terminal.say(terminal.wrapped(text, first=f"  {word:<8}"))
    terminal.say()
    terminal.say(terminal.strong("Made from"))
    for key, value in inputs.items():
        terminal.say(f"  {key} = {value}")
    terminal.say()
    terminal.say(terminal.strong(f"Defaults used: {len(prediction.defaults_used)}"))
    for default in prediction.defaults_used:
        terminal.say(terminal.wrapped(default, first="  ", rest="      "))


def _rows(figure: Figure, prediction: Prediction, inputs: dict[str, str]) -> Iterator[tuple[str, str]]:
    values = [f"{band_name(band)} {figure.text(figure.of(band))}" for band in prediction.bands]
    yield "is", " · ".join(values) if figure.key != "band" else ", ".join(map(band_name, prediction.bands))
    ranges = [
        f"{band_name(band)} {span}{_led_by(figure.key, band)}"
        for band in prediction.bands
        if (span := figure.span(*band.range.get(figure.key, (0.0, 0.0)))) is not None
    ]
    if ranges:
        yield "range", " · ".join(ranges)
    yield "means", figure.definition
    yield "formula", figure.formula
    yield "from", ", ".join(_inputs(figure, inputs))
    yield "source", figure.source
    yield "holds", figure.validity
    beyond = [
        band_name(band)
        for band in prediction.bands
        if figure.limit is not None and band.cross_check.perimeter_wavelengths > figure.limit
    ]
    if beyond:
        yield (
            "BEYOND",
            f"its limit of {figure.limit:g} wavelengths on {', '.join(beyond)}: not to be trusted there",
        )


def _led_by(key: str, band: BandPrediction) -> str:
    """The tolerance that makes most of a range."""
    name = band.range_led_by.get(key)
    return "" if name is None else f" (tolerance.{name})"


def _inputs(figure: Figure, inputs: dict[str, str]) -> Iterator[str]:
    """Single keys with their values; figures and whole tables by name; nothing that this design does not have."""
    for name in figure.inputs:
        if name in inputs:
            yield f"{name} = {inputs[name]}"
        elif name in FIGURES:
            yield name
        elif "." not in name or any(key.startswith(f"{name}.") for key in inputs):
            yield f"[{name}]"
