# SPDX-License-Identifier: BSD-3-Clause
"""A layer in the words of a builder: what it moved, from where to where, and what that did to the prediction."""

from collections.abc import Iterator
from math import exp
from pathlib import Path

from ringwright.antenna.calibration import INPUTS, Calibration, as_declared
from ringwright.antenna.design import Design
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.figures.figure import significant
from ringwright.cli.terminal import Terminal
from ringwright.cli.words import band_name
from ringwright.proof.accepted import TELLING, Accepted

_NAMES = {
    "capacitor_q": "capacitor's Q",
    "joint_resistance": "each joint",
    "earth_conductivity": "earth conducts",
    "earth_permittivity": "earth's permittivity",
}
_TENTH = 1.2815516
"""Standard deviations from the middle of a normal distribution to its tenth and ninetieth per cent."""
_SUSPICIOUS = 0.05


def layer_line(design: Design) -> str | None:
    """One sentence about the layer that a design carries; None where it carries none."""
    laid = design.calibration
    if laid is None:
        return None
    declared = as_declared(design)
    moved = ", ".join(
        f"{_NAMES[name]} {_value(design, name)} instead of {_value(declared, name)}"
        for name, spread in zip(INPUTS, laid.layer.spread, strict=True)
        if spread > 0.0
    )
    count = len(laid.layer.sweeps)
    return (
        f"Calibrated by {laid.layer.name}, accepted {laid.layer.accepted:%Y-%m-%d} from {count} "
        f"sweep{'s' if count > 1 else ''}: {moved}. What it takes and must stand is the worse of this and the design "
        "as declared."
    )


def accepted_report(found: Accepted, path: Path, terminal: Terminal) -> Iterator[str]:
    """Line by line."""
    yield terminal.strong(f"Accepted as {found.layer.name}")
    yield terminal.wrapped("Between the ends lie four of five rings, before and now.", first="  ")
    rows = zip(INPUTS, found.layer.shift, found.layer.spread, found.spread_before, strict=True)
    for name, shift, spread, before in rows:
        if before > 0.0:
            yield from _input(found, name, ends=((0.0, before), (shift, spread)))
    for before_band, after_band in zip(found.before.bands, found.after.bands, strict=True):
        for key in TELLING:
            figure = FIGURES[key]
            value, span = figure.text(figure.of(after_band)), figure.span(*after_band.range[key])
            was = figure.span(*before_band.range[key])
            yield terminal.wrapped(
                f"{value} ({span or 'sharp'}), was {figure.text(figure.of(before_band))} ({was or 'sharp'})",
                first=f"  {band_name(after_band):<9}{_SHORT[key]:<12} ",
            )
    if found.chance < _SUSPICIOUS:
        yield terminal.wrapped(
            f"Only {100.0 * found.chance:.1f} of 100 rings within the stated tolerances show sweeps so far off: look "
            "at the suspects above first. A calibration moves what is uncertain; it mends no fault.",
            first="  ! ",
        )
    yield terminal.wrapped(
        f"Written to {path}. ringwright predict DESIGN --calibration {_as_typed(found.layer)} uses it; the design file "
        "is as it was.",
        first="  ",
    )


_SHORT = {"q_unloaded": "Q", "efficiency_sky_pct": "into the sky"}


def _input(found: Accepted, name: str, *, ends: tuple[tuple[float, float], ...]) -> Iterator[str]:
    declared = as_declared(found.design)
    spans = [
        f"{significant(exp(shift - _TENTH * spread), 2)}-{significant(exp(shift + _TENTH * spread), 2)}"
        for shift, spread in ends
    ]
    factor = significant(exp(ends[1][0]), 2)
    moved = f"{_value(declared, name)} -> {_value(found.design, name)}"
    yield f"  {_NAMES[name]:<22}{moved:<28} times {factor} ({spans[1]}), was 1 ({spans[0]})"


def _value(design: Design, name: str) -> str:
    """What a design has of an input; of a capacitor whose parts state their own, only that they do."""
    capacitor, earth = design.capacitor, design.site.earth
    match name:
        case "joint_resistance":
            return f"{significant(design.ring.joint_resistance * 1e3, 3)} mohm"
        case "earth_conductivity" if earth is not None:
            return f"{significant(earth.conductivity * 1e3, 3)} mS/m"
        case "earth_permittivity" if earth is not None:
            return significant(earth.permittivity, 3)
        case _ if capacitor.q is not None:
            return significant(capacitor.q, 3)
        case _ if capacitor.esr is not None:
            return f"(ESR) {significant(capacitor.esr * 1e3, 3)} mohm"
        case _:
            return "of its parts"


def _as_typed(layer: Calibration) -> str:
    return f'"{layer.name}"' if " " in layer.name else layer.name
