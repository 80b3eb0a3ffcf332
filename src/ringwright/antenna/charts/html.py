# SPDX-License-Identifier: BSD-3-Clause
"""A prediction as a small HTML table with watt bars, for notebooks. All text is escaped."""

from collections.abc import Iterator
from html import escape

from ringwright.antenna.figures import FIGURES
from ringwright.antenna.figures.addresses import ADDRESS_MARKS
from ringwright.antenna.figures.figure import in_decibels
from ringwright.antenna.prediction import BandPrediction, Prediction

_COLUMNS = (
    "frequency_hz",
    "tuning.capacitance_f",
    "tuning.reachable",
    "efficiency_sky_pct",
    "match.swr_min",
    "bandwidth_swr2_hz",
    "tuning.capacitor_voltage_peak_v",
    "limits.power_max_w",
)
_BAR = "display:flex;width:22em;height:1.2em;font-size:80%;line-height:1.5em"
_NARROWEST = 5.0  # per cent; a letter is nearly as wide
_CELL = "text-align:right;white-space:nowrap;padding:0 .6em"


def prediction_html(prediction: Prediction) -> str:
    """Name, one row a band, warnings."""
    heads = "".join(f"<th>{escape(FIGURES[key].label)}</th>" for key in _COLUMNS)
    rows = "".join(_row(band) for band in prediction.bands)
    notes = "".join(f"<li>{escape(notice.text)}</li>" for notice in prediction.warnings)
    return (
        f"<p><b>{escape(prediction.design)}</b></p>"
        f"<table><tr><th>band</th><th>where the watts go</th>{heads}</tr>{rows}</table><ul>{notes}</ul>"
        "<p>&#9650; Kilovolts at the capacitor: never touch or adjust the ring while transmitting.</p>"
    )


def _row(band: BandPrediction) -> str:
    cells = "".join(f'<td style="{_CELL}">{escape(_text(band, key))}</td>' for key in _COLUMNS)
    bar = "".join(_segments(band))
    return f'<tr><td>{escape(band.band or "")}</td><td><div style="{_BAR}">{bar}</div></td>{cells}</tr>'


def _segments(band: BandPrediction) -> Iterator[str]:
    for mark in ADDRESS_MARKS:
        figure = FIGURES[f"watts_pct.{mark.name}"]
        share = figure.of(band)
        if share is not None and share > 0.0:
            style = f"width:{share:.3f}%;background:{mark.colour};color:{mark.ink};overflow:hidden"
            label = escape(f"{mark.words} {figure.text(share)}", quote=True)
            letter = mark.letter if share >= _NARROWEST else ""
            yield f'<span style="{style}" title="{label}">{letter}</span>'


def _text(band: BandPrediction, key: str) -> str:
    figure = FIGURES[key]
    if key == "limits.power_max_w" and band.limits.power_max is None:
        return "no rating stated"
    text = figure.text(figure.of(band))
    return f"{text} = {in_decibels(band.efficiency_sky_pct)}" if key == "efficiency_sky_pct" else text
