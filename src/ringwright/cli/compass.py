# SPDX-License-Identifier: BSD-3-Clause
"""Directions for people and for programs: what `directions` prints."""

import json
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import click
import numpy as np

from ringwright.antenna.design import Design
from ringwright.antenna.directions import NULL_DEPTH_DB, Null, gain_dbi, true_bearing
from ringwright.antenna.directions_document import BandDirections, directions, directions_document
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.figures.directions import DIRECTION_FIGURES
from ringwright.antenna.pattern import ZENITH
from ringwright.antenna.prediction import Prediction
from ringwright.cli.solving import predict_design
from ringwright.cli.terminal import Terminal
from ringwright.cli.words import band_name
from ringwright.errors import DesignFileError
from ringwright.units import format_quantity, shown

ELEVATIONS_DEG = (90, 60, 45, 30, 20, 15, 10, 5)
POINTS = 8
_GAIN = FIGURES["pattern.gain_max_dbi"]


def show_directions(path: Path, bands: Sequence[str], *, as_json: bool) -> None:
    """Print the directions of a design, of some `bands` or of all."""
    design = _only(Design.load(path), bands, path)
    prediction = predict_design(design, path)
    found = directions(design, prediction)
    if as_json:
        for notice in prediction.warnings:
            click.echo(f"ringwright: {prediction.design}: {notice.text}", err=True)
        click.echo(json.dumps(directions_document(design, found), indent=2, allow_nan=False))
        return
    terminal = Terminal.of_stdout()
    for line in _answer(design, prediction, found, terminal=terminal):
        terminal.say(line)


def _only(design: Design, bands: Sequence[str], path: Path) -> Design:
    there = [target.band for target in design.targets if target.band is not None]
    for band in bands:
        if band not in there:
            known = ", ".join(dict.fromkeys(there)) or "none by name"
            raise DesignFileError(str(path), f"--band {shown(band)} is not one of this design's: {known}")
    chosen = tuple(target for target in design.targets if not bands or target.band in bands)
    return replace(design, targets=chosen)


def _answer(
    design: Design, prediction: Prediction, found: tuple[BandDirections, ...], *, terminal: Terminal
) -> Iterator[str]:
    yield terminal.strong(f"{prediction.design}: where it fires and hears")
    earth = "free space" if design.site.earth is None else f"{design.site.earth.name} earth"
    plane = _bearing(design, design.site.turn)
    yield terminal.wrapped(
        f"Over {earth}, ring's plane at {plane} and {(plane + 180) % 360} deg true. Gain in dBi, the ring's losses "
        "included; in the last column a lossless half-wave dipole in its place, in its own best direction."
    )
    for notice in prediction.warnings:
        yield terminal.wrapped(notice.text, first="! ")
    for each in found:
        yield ""
        yield terminal.strong(
            " ".join(dict.fromkeys((band_name(each.band), FIGURES["frequency_hz"].text(each.band.frequency))))
        )
        yield from _table(design, each)
        yield from (terminal.wrapped(text, first=f"  {word:<10}") for word, text in _words(design, each))


def _table(design: Design, each: BandDirections) -> Iterator[str]:
    """Gain by elevation, at true bearings in the ring's plane, across it, and between."""
    azimuths = design.site.turn + np.arange(POINTS) * 2.0 * np.pi / POINTS
    azimuths = azimuths[np.argsort([_bearing(design, azimuth) for azimuth in azimuths])]
    head = "".join(f"{f'{_bearing(design, azimuth)}':>7}" for azimuth in azimuths)
    yield f"  {'up':<6}{head}{'dipole':>9}"
    round_ = np.radians(np.arange(0.0, 360.0, 5.0))
    for elevation in ELEVATIONS_DEG:
        up = np.radians(float(elevation))
        gains = gain_dbi(each.far, design.power, elevation=np.full(POINTS, up), azimuth=azimuths)
        dipole = gain_dbi(each.dipole_far, design.power, elevation=np.full(len(round_), up), azimuth=round_)
        row = "".join(f"{_number(gain):>7}" for gain in gains)
        yield f"  {elevation:>2} deg{row}{_number(dipole.max()):>9}"


def _words(design: Design, each: BandDirections) -> Iterator[tuple[str, str]]:
    best = each.band.pattern
    where = f"{FIGURES['pattern.elevation_deg'].text(best.elevation_deg)} up"
    if np.radians(best.elevation_deg) < ZENITH:
        bearing = _bearing(design, np.radians(best.azimuth_deg))
        where += f", bearing {DIRECTION_FIGURES['pattern.bearing_deg'].text(bearing)}"
    yield "strongest", f"{_GAIN.text(best.gain_max_dbi)} at {where}"
    at = f"at {each.low_deg:.0f} deg elevation"
    if each.nulls:
        yield "nulls", f"{at}: {'; '.join(_dip(null) for null in each.nulls)}"
    else:
        yield "nulls", f"none of {NULL_DEPTH_DB:g} dB {at}; quietest at {_dip(each.quietest)}"
    yield "dipole", _dipole(each)
    yield "hears", _hears(each)


def _dip(null: Null) -> str:
    depth, to = DIRECTION_FIGURES["nulls.depth_db"], DIRECTION_FIGURES["nulls.bearing_deg"]
    return f"bearing {to.text(null.bearing_deg)}, {depth.text(null.depth_db)} down"


def _ahead(key: str, decibels: float) -> str:
    figure = DIRECTION_FIGURES[f"dipole.{key}"]
    return f"{figure.text(abs(decibels))} {'above' if decibels > 0.0 else 'below'}"


def _dipole(each: BandDirections) -> str:
    height = format_quantity(float(each.band.point.wires.centre[2]), "m", digits=3)
    gain = DIRECTION_FIGURES["dipole.gain_max_dbi"].text(each.dipole.gain_max_dbi)
    up = FIGURES["pattern.elevation_deg"].text(each.dipole.elevation_deg)
    return (
        f"at {height} has {gain} at {up} up; the ring is {_ahead('ahead_db', each.ahead_db)} it, each at its best, and "
        f"{_ahead('ahead_20deg_db', each.ahead_20deg_db)} it at 20 deg"
    )


def _hears(each: BandDirections) -> str:
    unheard = [heard.place.value for heard in each.receptions if heard.costs_nothing]
    cost = DIRECTION_FIGURES["reception.loss_db"]
    heard = [
        f"{cost.text(at.loss_db)} in {at.place.value} noise" for at in each.receptions if not at.costs_nothing
    ]
    nothing = [f"nothing that is heard in {', '.join(unheard)} noise"] if unheard else []
    return f"its loss costs {'; '.join([*nothing, *heard])}"


def _bearing(design: Design, azimuth: float) -> int:
    """Of an azimuth [rad], in whole degrees."""
    return round(true_bearing(design, float(np.rad2deg(azimuth)))) % 360


def _number(gain: float) -> str:
    """A gain without its unit, which the head of the table says once."""
    return _GAIN.text(float(gain)).rpartition(" ")[0]
