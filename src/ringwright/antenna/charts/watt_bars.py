# SPDX-License-Identifier: BSD-3-Clause
"""Watt bars as SVG: one a band, 100 % is the accepted power, the sky first."""

from collections.abc import Iterator, Sequence

from ringwright.antenna.charts.svg import FAINT, element, group, text
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.figures.addresses import ADDRESS_MARKS
from ringwright.antenna.figures.figure import in_decibels
from ringwright.antenna.prediction import BandPrediction

ROW = 58.0
_BAR = 24.0
_NARROWEST = 10.0  # below it a segment has no room for its letter


def watt_bars(bands: Sequence[BandPrediction], *, width: float) -> str:
    """Bars under one another, each with its band and what the sky gets, and the key of letters below."""
    rows = [part for number, band in enumerate(bands) for part in _row(band, number * ROW, width=width)]
    return group({}, [*rows, *_key(len(bands) * ROW, bands)])


def _row(band: BandPrediction, top: float, *, width: float) -> Iterator[str]:
    sky = FIGURES["watts_pct.sky"].text(band.watts_pct.sky)
    yield text(band.band or FIGURES["frequency_hz"].text(band.frequency), 0.0, top + 14.0, size=14.0)
    yield text(f"sky {sky} = {in_decibels(band.watts_pct.sky)}", width, top + 14.0, anchor="end")
    left = 0.0
    for mark in ADDRESS_MARKS:
        share = FIGURES[f"watts_pct.{mark.name}"].of(band)
        if share is None:
            continue
        across = share * width / 100.0
        shape = {"x": left, "y": top + 20.0, "width": across, "height": _BAR, "fill": mark.colour}
        yield element("rect", {**shape, "stroke": "#ffffff", "stroke-width": 0.5})
        if across >= _NARROWEST:
            yield text(mark.letter, left + 4.0, top + 37.0, size=13.0, fill=mark.ink)
        left += across


def _key(top: float, bands: Sequence[BandPrediction]) -> Iterator[str]:
    place = 0.0
    for mark in ADDRESS_MARKS:
        if any(FIGURES[f"watts_pct.{mark.name}"].of(band) is not None for band in bands):
            yield element(
                "rect", {"x": place, "y": top + 2.0, "width": 9.0, "height": 9.0, "fill": mark.colour}
            )
            words = f"{mark.letter} {mark.words}"
            yield text(words, place + 12.0, top + 11.0, size=11.0, fill=FAINT)
            place += 20.0 + 5.6 * len(words)
