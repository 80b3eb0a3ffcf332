# SPDX-License-Identifier: BSD-3-Clause
"""SWR and reflection of every band of one design or several, on one page."""

from collections.abc import Iterator, Sequence

from ringwright.antenna.charts.reflection_chart import SIZE, reflection_chart
from ringwright.antenna.charts.svg import FAINT, group, line, page, text
from ringwright.antenna.charts.swr_chart import WIDTH, swr_chart, swr_chart_height
from ringwright.antenna.charts.trace import Trace, letter, name_of, trace
from ringwright.antenna.prediction import Prediction

_MARGIN, _HEAD, _LINE = 20.0, 30.0, 18.0


def plot_page(predictions: Sequence[Prediction]) -> str:
    """An SVG file: band below band in the order of frequency, designs over one another with a letter each."""
    rows = _rows(predictions)
    legend = len(predictions) * _LINE
    row_height = max(swr_chart_height(max(map(len, rows.values()))), SIZE) + _HEAD
    width = 3.0 * _MARGIN + WIDTH + SIZE
    height = 2.0 * _MARGIN + legend + len(rows) * row_height + _LINE

    def content() -> Iterator[str]:
        for number, prediction in enumerate(predictions):
            yield from _legend(prediction, number=number, alone=len(predictions) == 1)
        for number, traces in enumerate(rows.values()):
            top = _MARGIN + legend + number * row_height
            yield text(name_of(traces[0].band), _MARGIN, top + 16.0, size=14.0)
            yield group({"transform": f"translate({_MARGIN:g},{top + _HEAD:g})"}, [swr_chart(traces)])
            right = 2.0 * _MARGIN + WIDTH
            chart = reflection_chart(traces, name=f"band-{number + 1}")
            yield group({"transform": f"translate({right:g},{top + _HEAD:g})"}, [chart])
        note = "At the coupling, to the feedline's impedance, the capacitor left at its setting."
        yield text(note, _MARGIN, height - _MARGIN, size=11.0, fill=FAINT)

    return page(
        width, height, "SWR and reflection: " + ", ".join(p.design for p in predictions), content=content()
    )


def _rows(predictions: Sequence[Prediction]) -> dict[str, list[Trace]]:
    rows: dict[str, list[Trace]] = {}
    found = (
        (band.frequency, number, band)
        for number, prediction in enumerate(predictions)
        for band in prediction.bands
    )
    for _, number, band in sorted(found, key=lambda entry: entry[:2]):
        label = "" if len(predictions) == 1 else letter(number)
        row = band.band if band.band is not None and band.is_whole_band else name_of(band)
        rows.setdefault(row, []).append(trace(band, label=label, number=number))
    return rows


def _legend(prediction: Prediction, *, number: int, alone: bool) -> Iterator[str]:
    y = _MARGIN + number * _LINE + 8.0
    if alone:
        yield text(prediction.design, _MARGIN, y, size=16.0)
        return
    example = trace(prediction.bands[0], label="", number=number)
    yield line(
        _MARGIN, y - 4.0, _MARGIN + 30.0, y2=y - 4.0, stroke=example.stroke, dash=example.dash, width=2.0
    )
    yield text(f"{letter(number)}  {prediction.design}", _MARGIN + 38.0, y)
