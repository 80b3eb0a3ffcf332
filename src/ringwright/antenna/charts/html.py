# SPDX-License-Identifier: BSD-3-Clause
"""A prediction as a small HTML table with watt bars, for notebooks."""

from ringwright.antenna.charts.notebook import Cell, Markup, card, listed, table, watt_bar
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


def prediction_html(prediction: Prediction) -> str:
    """Name, one row a band, warnings."""
    heads = ["band", "where the watts go", *(FIGURES[key].label for key in _COLUMNS)]
    return card(
        prediction.design,
        table(heads, [_row(band) for band in prediction.bands]),
        listed(notice.text for notice in prediction.warnings),
    )


def band_bar(band: BandPrediction) -> Markup:
    """The watt bar of one band."""
    figures = {mark.name: FIGURES[f"watts_pct.{mark.name}"] for mark in ADDRESS_MARKS}
    shares = {name: figure.of(band) for name, figure in figures.items()}
    return watt_bar(
        (name, share, figures[name].text(share)) for name, share in shares.items() if share is not None
    )


def _row(band: BandPrediction) -> list[Cell]:
    return [band.band or "", band_bar(band), *(_text(band, key) for key in _COLUMNS)]


def _text(band: BandPrediction, key: str) -> str:
    figure = FIGURES[key]
    if key == "limits.power_max_w" and band.limits.power_max is None:
        return "no rating stated"
    text = figure.text(figure.of(band))
    return f"{text} = {in_decibels(band.efficiency_sky_pct)}" if key == "efficiency_sky_pct" else text
