# SPDX-License-Identifier: BSD-3-Clause
"""Several predictions side by side: band by band, one watt bar under the other."""

from collections.abc import Iterator, Sequence

from ringwright.antenna.charts import letter
from ringwright.antenna.design import Design
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.figures.figure import in_decibels
from ringwright.antenna.prediction import BandPrediction, Prediction
from ringwright.cli.terminal import Terminal
from ringwright.cli.watt_bar import key_of_letters, watt_bar
from ringwright.cli.words import CAUTION, band_name, cautions, design_in_words

_COLUMNS = (
    ("watts_pct.sky", "sky", 7),
    ("match.swr_min", "SWR", 5),
    ("bandwidth_swr2_hz", "below 2", 9),
    ("limits.power_max_w", "takes", 7),
    ("tuning.capacitor_voltage_peak_v", "must stand", 10),
)


def show_comparison(
    results: Sequence[tuple[Design, Prediction]], terminal: Terminal, *, is_imperial: bool
) -> None:
    """Print all designs, each with a letter, then band after band in the order of frequency."""
    for number, (design, prediction) in enumerate(results):
        terminal.say(terminal.strong(f"{letter(number)}  {prediction.design}"))
        terminal.say(terminal.wrapped(design_in_words(design, is_imperial=is_imperial), first="   "))
    numbers = sum(1 + width for _, _, width in _COLUMNS)
    cells = terminal.width - numbers - 5
    head = "".join(f" {label:>{width}}" for _, label, width in _COLUMNS)
    for name, rows in _by_band(results).items():
        terminal.say()
        terminal.say(terminal.strong(f"{name:<{cells + 5}}") + head)
        for number, band in rows:
            figures = "".join(f" {_short(key, band):>{width}}" for key, _, width in _COLUMNS)
            bar = watt_bar(band, terminal, cells=cells)
            terminal.say(f"  {letter(number):<2} {bar}{figures}")
            for line in _remarks(results[number][1], band):
                terminal.say(terminal.wrapped(line, first="     "))
    terminal.say()
    terminal.say(terminal.wrapped(key_of_letters()))
    _say_warnings(results, terminal)


def _by_band(results: Sequence[tuple[Design, Prediction]]) -> dict[str, list[tuple[int, BandPrediction]]]:
    found = sorted(
        (
            (band.frequency, index, band)
            for index, (_, prediction) in enumerate(results)
            for band in prediction.bands
        ),
        key=lambda entry: entry[:2],
    )
    rows: dict[str, list[tuple[int, BandPrediction]]] = {}
    for _, index, band in found:
        rows.setdefault(band_name(band), []).append((index, band))
    return rows


def _short(key: str, band: BandPrediction) -> str:
    figure = FIGURES[key]
    value = figure.of(band)
    return "-" if value is None else figure.text(value)


def _remarks(prediction: Prediction, band: BandPrediction) -> Iterator[str]:
    yield f"sky {in_decibels(band.watts_pct.sky)}"
    yield from (
        f"! {notice.text}" for notice in prediction.warnings if notice.band and notice.band == band.band
    )


def _say_warnings(results: Sequence[tuple[Design, Prediction]], terminal: Terminal) -> None:
    general = {notice.text for _, found in results for notice in found.warnings if notice.band is None}
    for text in sorted(general):
        terminal.say(terminal.wrapped(text, first="! "))
    hottest = max(results, key=lambda result: max(b.tuning.capacitor_voltage_peak for b in result[1].bands))
    for caution in cautions(hottest[0], hottest[1].bands):
        terminal.say(terminal.wrapped(caution, first=f"{CAUTION} "))
