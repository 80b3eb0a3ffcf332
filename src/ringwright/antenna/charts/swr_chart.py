# SPDX-License-Identifier: BSD-3-Clause
"""SWR over frequency, with the width below 2."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from ringwright.antenna.charts.svg import ACCENT, FAINT, curve, group, line, text, ticks
from ringwright.antenna.charts.trace import Trace
from ringwright.antenna.figures import FIGURES
from ringwright.physics.graph import FloatArray

WIDTH = 420.0
_HEIGHT, _CAPTION = 225.0, 15.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 34.0, 10.0, 10.0, 36.0
_HIGHEST = 5.0
_MARGIN = 1.3


def swr_chart_height(count: int) -> float:
    """Height of a chart with so many traces, a caption for each above the axes."""
    return _HEIGHT + _CAPTION * count


def swr_chart(traces: Sequence[Trace]) -> str:
    """All traces of one band on one pair of axes; frequency counts from the tuned one."""
    axes = _Axes(
        reach=_MARGIN * max(_reach(one) for one in traces),
        top=_TOP + _CAPTION * len(traces),
        height=swr_chart_height(len(traces)),
    )
    drawn = [part for number, one in enumerate(traces) for part in _draw(one, axes, number=number)]
    return group({}, [*_frame(axes), *drawn])


@dataclass(frozen=True, slots=True, kw_only=True)
class _Axes:
    """Places on the chart; `reach` [Hz] is the greatest offset to either side, SWR 5 lies at `top`."""

    reach: float
    top: float
    height: float

    def x(self, offset: ArrayLike) -> FloatArray:
        share = np.asarray(offset) / self.reach / 2.0 + 0.5
        return np.asarray(_LEFT + share * (WIDTH - _LEFT - _RIGHT))

    def y(self, swr: ArrayLike) -> FloatArray:
        share = (_HIGHEST - np.asarray(swr)) / (_HIGHEST - 1.0)
        return np.asarray(self.top + share * (self.height - self.top - _BOTTOM))


def _reach(one: Trace) -> float:
    """Farthest offset [Hz] at which the curve is still on the chart; the whole trace of a poor match."""
    seen = one.swr <= _HIGHEST
    return float(abs(one.offset[seen]).max() if seen.any() else abs(one.offset).max())


def _frame(axes: _Axes) -> Iterator[str]:
    for swr in range(1, int(_HIGHEST) + 1):
        height = float(axes.y(swr))
        yield line(_LEFT, height, WIDTH - _RIGHT, y2=height, stroke=ACCENT if swr == 2 else FAINT)
        yield text(str(swr), _LEFT - 8.0, height + 4.0, anchor="end")
    floor = float(axes.y(1.0))
    for offset in ticks(-axes.reach, axes.reach, about=7):
        place = float(axes.x(offset))
        yield line(place, floor, place, y2=floor + 5.0)
        yield text(f"{offset / 1e3:+g}" if offset else "0", place, floor + 18.0, anchor="middle")
    yield text("SWR", _LEFT + 4.0, axes.top + 12.0)
    yield text("kHz from the tuned frequency", WIDTH - _RIGHT, axes.height - 4.0, size=11.0, anchor="end")


def _draw(one: Trace, axes: _Axes, *, number: int) -> Iterator[str]:
    """The curve, its width on the line of SWR 2, and both numbers in words above the axes."""
    seen = one.swr <= _HIGHEST
    yield curve(axes.x(one.offset[seen]), axes.y(one.swr[seen]), stroke=one.stroke, dash=one.dash)
    match, words = one.band.match, "never below 2"
    if match.swr2_low is not None and match.swr2_high is not None:
        low, high = axes.x(np.array([match.swr2_low, match.swr2_high]) - one.band.frequency)
        height = float(axes.y(2.0))
        yield line(float(low), height, float(high), y2=height, stroke=one.stroke, width=2.5)
        words = f"below 2 for {FIGURES['bandwidth_swr2_hz'].text(one.band.bandwidth_swr2)}"
    best = f"{one.label} best {FIGURES['match.swr_min'].text(match.swr_min)}".strip()
    height = _TOP + _CAPTION * number + 6.0
    yield text(f"{best}, {words}", float(axes.x(0.0)), height, anchor="middle", fill=one.stroke)
