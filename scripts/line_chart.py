# SPDX-License-Identifier: BSD-3-Clause
"""Curves and points on one pair of axes, for the documentation's figures."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from ringwright.antenna.charts.svg import (
    FAINT,
    INK,
    PAPER,
    circle,
    curve,
    element,
    group,
    line,
    page,
    text,
    ticks,
)
from ringwright.physics.graph import FloatArray

WIDTH, HEIGHT = 720.0, 400.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 62.0, 18.0, 40.0, 44.0
STROKES = (
    INK,
    "#0072B2",
    "#D55E00",
    "#009E73",
    "#CC79A7",
)  # M. Okabe and K. Ito, 2008: safe for colour-blind eyes
DASHES = ("", "7 4", "2 3", "10 3 2 3", "4 2")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Curve:
    """Points of one curve; `is_printed` are the original's values, drawn as circles."""

    name: str
    x: FloatArray
    y: FloatArray
    is_printed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Chart:
    """Axes with what is drawn on them; `logarithmic` names the axes that are."""

    title: str
    across: str
    up: str
    curves: Sequence[Curve]
    low: float
    high: float
    logarithmic: str = ""
    names_left: bool = False

    def drawn(self) -> str:
        """The whole SVG file."""
        plots = [part for number, one in enumerate(self.curves) for part in self._plot(one, number)]
        return page(WIDTH, HEIGHT, self.title, content=[group({}, [*self._frame(), *self._names(), *plots])])

    def _ends(self) -> tuple[float, float]:
        every = np.concatenate([one.x for one in self.curves])
        return float(every.min()), float(every.max())

    def _x(self, x: ArrayLike) -> FloatArray:
        low, high = self._ends()
        return np.asarray(
            _LEFT + _share(x, low, high, is_log="x" in self.logarithmic) * (WIDTH - _LEFT - _RIGHT)
        )

    def _y(self, y: ArrayLike) -> FloatArray:
        share = _share(y, self.low, self.high, is_log="y" in self.logarithmic)
        return np.asarray(HEIGHT - _BOTTOM - share * (HEIGHT - _TOP - _BOTTOM))

    def _frame(self) -> Iterator[str]:
        for value in _marks(self.low, self.high, is_log="y" in self.logarithmic):
            at = float(self._y(value))
            yield line(_LEFT, at, WIDTH - _RIGHT, y2=at, stroke=FAINT)
            yield text(f"{value + 0.0:g}", _LEFT - 6.0, at + 4.0, anchor="end")
        for value in _marks(*self._ends(), is_log="x" in self.logarithmic):
            at = float(self._x(value))
            yield line(at, HEIGHT - _BOTTOM, at, y2=HEIGHT - _BOTTOM + 5.0)
            yield text(f"{value:g}", at, HEIGHT - _BOTTOM + 18.0, anchor="middle")
        yield text(self.up, 8.0, 16.0)
        yield text(self.across, WIDTH - _RIGHT, HEIGHT - 8.0, anchor="end")

    def _plot(self, one: Curve, number: int) -> Iterator[str]:
        stroke = STROKES[number % len(STROKES)]
        seen = (one.y >= self.low) & (one.y <= self.high)
        x, y = self._x(one.x[seen]), self._y(one.y[seen])
        if one.is_printed:
            yield from (
                circle(float(a), float(b), 4.0, stroke=stroke, width=1.6) for a, b in zip(x, y, strict=True)
            )
        else:
            yield curve(x, y, stroke=stroke, dash=DASHES[number % len(DASHES)])

    def _names(self) -> Iterator[str]:
        """Which curve is which, on a patch of paper."""
        at, anchor = (_LEFT + 14.0, "start") if self.names_left else (WIDTH - _RIGHT - 14.0, "end")
        width = 8.0 + 6.6 * max(len(one.name) for one in self.curves)
        corner = at - 6.0 if self.names_left else at - width + 6.0
        size = {"width": width, "height": 10.0 + 16.0 * len(self.curves)}
        yield element("rect", {"x": corner, "y": _TOP + 3.0, "fill": PAPER, **size})
        for number, one in enumerate(self.curves):
            stroke = STROKES[number % len(STROKES)]
            yield text(one.name, at, _TOP + 18.0 + 16.0 * number, anchor=anchor, fill=stroke)


def _share(value: ArrayLike, low: float, high: float, *, is_log: bool) -> FloatArray:
    one = np.asarray(value, dtype=float)
    if is_log:
        return np.asarray(np.log(one / low) / np.log(high / low))
    return np.asarray((one - low) / (high - low))


def _marks(low: float, high: float, *, is_log: bool) -> FloatArray:
    if not is_log:
        return ticks(low, high, about=8)
    decades = 10.0 ** np.arange(np.floor(np.log10(low)), np.ceil(np.log10(high)) + 1.0)
    every = np.concatenate([decades, 2.0 * decades, 5.0 * decades])
    return np.sort(every[(every >= low * 0.999) & (every <= high * 1.001)])
