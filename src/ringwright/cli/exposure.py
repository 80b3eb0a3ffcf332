# SPDX-License-Identifier: BSD-3-Clause
"""Fields and keep-out distances for people and for programs: what `fields` and `keepout` print."""

import json
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from pathlib import Path
from typing import Any

import click
import numpy as np

from ringwright.antenna.design import Design
from ringwright.antenna.fields_document import fields_document
from ringwright.antenna.prediction import Prediction
from ringwright.cli.report import load_and_predict
from ringwright.cli.terminal import Terminal
from ringwright.cli.words import CAUTION
from ringwright.safety.cautions import CAUTIONS
from ringwright.safety.keepout import BandKeepOut, LimitRow, keep_out
from ringwright.safety.keepout_document import keepout_document
from ringwright.safety.keepout_words import set_by_metal
from ringwright.units import format_quantity

MOST_TAKEN = 10e3  # [W], more than any ring is fed with
_LENGTHS = ("max", "axis", "plane", "above", "below")


def show_fields(path: Path, places: Sequence[tuple[float, float, float]], *, as_json: bool) -> None:
    """Print the fields of a design at places [m]."""
    ((design, prediction),) = load_and_predict([path])
    document = fields_document(design, prediction, np.array(places))
    if as_json:
        _say_json(document, prediction)
        return
    terminal = Terminal.of_stdout()
    terminal.say(terminal.strong(f"{prediction.design} at {design.power:.4g} W, unmodulated; rms"))
    for band in document["bands"]:
        terminal.say()
        terminal.say(terminal.strong(f"{_band_name(band['band'], band['frequency_hz'])}"))
        terminal.say(f"  {'at x, y, z':<30} {'E':>12} {'H':>13}")
        for point in band["points"]:
            where = ", ".join(f"{length:.4g} m" for length in point["at_m"])
            e, h = point["e_rms_v_per_m"], point["h_rms_a_per_m"]
            terminal.say(f"  {where:<30} {e:>8.4g} V/m {_amperes(h):>13}")


def show_keepout(
    path: Path, *, as_json: bool, report: Path | None, is_imperial: bool, calibration: str | None = None
) -> bool:
    """Print how far people must stay away; True if everybody in the design is within every limit."""
    ((design, prediction),) = load_and_predict([path], calibration=calibration)
    found = keep_out(design, prediction)
    if prediction.calibration is not None:
        design = replace(design, name=f"{design.name}, calibrated by {prediction.calibration}")
    if report is not None:
        from ringwright.cli.keepout_report import write_report

        write_report(report, path, design, prediction=prediction, found=found)
    if as_json:
        document = keepout_document(prediction.design, found) | {"calibration": prediction.calibration}
        _say_json(document, prediction)
    else:
        terminal = Terminal.of_stdout()
        for line in _answer(design, found, terminal, unit="ft" if is_imperial else "m"):
            terminal.say(line)
    return all(row.passes for band in found for row in band.people)


def _say_json(document: dict[str, Any], prediction: Prediction) -> None:
    for notice in prediction.warnings:
        click.echo(f"ringwright: {prediction.design}: {notice.text}", err=True)
    click.echo(json.dumps(document, indent=2, allow_nan=False))


def _answer(
    design: Design, found: tuple[BandKeepOut, ...], terminal: Terminal, *, unit: str
) -> Iterator[str]:
    yield terminal.strong(f"{design.name}: keep-out distances from the ring's centre, in {unit}")
    yield terminal.wrapped(
        f"{design.power:.4g} W peak, {found[0].average_power:.4g} W on the average. Keep the advised distance, that of "
        "twice the power at the unfavourable end of the tolerances. The reach in any direction and the four beside it "
        "have no margin; E or H sets it. People are judged by the unfavourable end."
    )
    for band in found:
        yield ""
        yield terminal.strong(_band_name(band.band, band.frequency))
        yield f"  {'limit':<25} {'for':<12}{'advised':>8}{'reach':>8}" + "".join(
            f"{name:>6}" for name in _LENGTHS[1:]
        )
        yield from (_limit(row, unit) for row in band.by_limit)
        yield from (terminal.wrapped(text, first="  ") for text in set_by_metal(band, unit))
        yield from _people(band)
    yield ""
    yield from (terminal.wrapped(caution, first=f"{CAUTION} ") for caution in CAUTIONS)


def _limit(row: LimitRow, unit: str) -> str:
    advised = _length(row.distance_advised, unit, digits=1)
    lengths = [_length(getattr(row, f"distance_{name}"), unit, digits=2) for name in _LENGTHS]
    by = (row.governed_by or "").upper()
    start = f"  {row.limit.name:<25} {row.limit.tier.value:<12}{advised:>8}{lengths[0]:>6} {by:<1}"
    return start + "".join(f"{length:>6}" for length in lengths[1:])


def _people(band: BandKeepOut) -> Iterator[str]:
    for name, rows in groupby(band.people, key=lambda row: (row.name, row.kind)):
        yield f"  {name[0]} ({name[1].value})"
        for row in rows:
            mark = " " if row.passes else CAUTION
            verdict = "within by" if row.passes else "EXCEEDED by"
            limit = f"{row.limit.name:<25} {row.limit.tier.value:<12}"
            by, up_to = abs(row.margin_unfavourable_db), _watts(row.power_allowed_unfavourable)
            yield f"  {mark} {limit} {verdict:>11} {by:4.1f} dB, up to {up_to}"


def _length(metres: float, unit: str, *, digits: int) -> str:
    return f"{float(format_quantity(metres, unit).split()[0]):.{digits}f}"


def _band_name(band: str | None, frequency: float) -> str:
    return f"{band + ' ' if band else ''}{frequency / 1e6:.6g} MHz"


def _watts(value: float) -> str:
    if value > MOST_TAKEN:
        return f"over {MOST_TAKEN / 1e3:g} kW"
    return f"{value:.3g} W" if value < 1e3 else f"{value / 1e3:.3g} kW"


def _amperes(value: float) -> str:
    return f"{value:.4g} A/m" if value >= 0.1 else f"{value * 1e3:.4g} mA/m"
