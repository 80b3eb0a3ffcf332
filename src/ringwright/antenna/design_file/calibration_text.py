# SPDX-License-Identifier: BSD-3-Clause
"""A layer as the text of its file, with comments for whoever opens it."""

from collections.abc import Iterator
from datetime import UTC
from math import exp

from ringwright.antenna.calibration import INPUTS, Calibration

_HEAD = """\
# What measuring taught of one ring: a layer over its design file, which stays as it was written. Numbers are of natural
# logarithms: a shift of -0.3 stands for exp(-0.3) = 0.74 times what the design declares, and of the rings that fit the
# sweeps two of three lie within one standard deviation of that. Lay it over by its name:
#   ringwright predict DESIGN --calibration {name}
"""
_TIED = """\
# A sweep measures a sum of losses: were one of them larger, another would be smaller. 0: they know nothing of each
# other; -1: one makes up for the other.
"""


def calibration_text(layer: Calibration) -> str:
    """The text that `parse_calibration` reads."""
    return "\n".join(_lines(layer)) + "\n"


def _lines(layer: Calibration) -> Iterator[str]:
    yield _HEAD.format(name=_quoted(layer.name) if " " in layer.name else layer.name).rstrip()
    yield "format = 1"
    yield f"name = {_quoted(layer.name)}"
    yield f"accepted = {layer.accepted.astimezone(UTC):%Y-%m-%dT%H:%M:%SZ}"
    yield ""
    yield "[design]"
    yield f"name = {_quoted(layer.design)}"
    yield f"text_sha256 = {_quoted(layer.text_sha256)}"
    yield "# While ring, capacitor, tolerance and where it stands read the same, the layer holds:"
    yield f"build_sha256 = {_quoted(layer.build_sha256)}"
    moved = [
        number for number, spread in enumerate(layer.spread) if spread > 0.0 or layer.shift[number] != 0.0
    ]
    for number in moved:
        shift, spread = layer.shift[number], layer.spread[number]
        yield ""
        said = f"{exp(shift):.3g} times the declared, a factor of {exp(spread):.3g} either way"
        yield f"[inputs.{INPUTS[number]}]  # {said}"
        yield f"shift = {shift:.6f}"
        yield f"standard_deviation = {spread:.6f}"
    yield ""
    yield _TIED.rstrip()
    for row in moved[:-1]:
        yield f"[correlation.{INPUTS[row]}]"
        for column in moved:
            if column > row:
                yield f"{INPUTS[column]} = {layer.correlation[row][column]:.6f}"
        yield ""
    for sweep in layer.sweeps:
        yield "[[sweeps]]"
        yield f"file = {_quoted(sweep.file)}"
        yield f"sha256 = {_quoted(sweep.sha256)}"
        yield f'frequency = "{sweep.frequency / 1e6:.6g} MHz"'
        yield f"q_unloaded = {sweep.q_unloaded:.6g}"


def _quoted(text: str) -> str:
    """A basic string of TOML; names are printable, so that only these two need care."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
