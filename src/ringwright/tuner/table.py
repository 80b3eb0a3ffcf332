# SPDX-License-Identifier: BSD-3-Clause
"""The tuning table: measured pairs of drive position and resonance over the law that the design predicts."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from scipy.optimize import isotonic_regression

from ringwright.errors import OutOfRangeError, TuningTableError
from ringwright.physics.graph import FloatArray
from ringwright.tuner.table_fit import Drift, Fit
from ringwright.tuner.table_law import Law
from ringwright.tuner.table_monotone import Monotone
from ringwright.tuner.table_point import FIRST_SITE, REFERENCE_TEMPERATURE, Point, site_name
from ringwright.units import shown

MOST_POINTS = 500
FAR_OFF = 6.0
"""Sigmas from the curve beyond which a pair is refused: another antenna, or a position that was lost."""
LEAST = 0.1
"""Of the law's capacitance, what any ring behaves as if it had; keeps pairs of nonsense from making it negative."""
_APART = 1e-3
"""Settings nearer than this, of their capacitance, are one knot of the curve."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TuningTable:
    """Pairs in the order in which they were measured; `site` is where the antenna stands now."""

    law: Law
    points: tuple[Point, ...] = ()
    site: str = FIRST_SITE

    def __post_init__(self) -> None:
        if len(self.points) > MOST_POINTS:
            raise TuningTableError(
                f"points: {len(self.points)} of them; remove the oldest, {MOST_POINTS} are enough"
            )
        for point in self.points:
            if not 0 <= point.position <= self.law.last:
                raise TuningTableError(
                    f"position: {point.position} is outside the travel of 0 to {self.law.last} steps; the drive or "
                    f"its reference has changed, begin a new table"
                )

    def learnt(self, point: Point) -> "TuningTable":
        """With one pair more, measured on the site where the antenna stands; the oldest goes where there are too many.

        Raises
        ------
        TuningTableError
            If it is further from all that is known than can be.
        """
        point = replace(point, site=self.site)
        added = replace(self, points=(*self.points, point)[-MOST_POINTS:])
        curve = self.curve()
        x = self.law.farads.at(point.position)
        off = abs(self.law.farads_showing(point.frequency) - curve.farads.at(x))
        allowed = FAR_OFF * float(np.hypot(curve.spread(x), 2.0 * x * point.spread / point.frequency))
        if off > allowed + _warmth_allowance(point, x, curve.drift):
            raise TuningTableError(
                f"frequency: {point.frequency / 1e6:.4f} MHz at step {point.position} is far from the "
                f"{curve.frequency(point.position, point.temperature) / 1e6:.4f} MHz that the table expects; seek the "
                f"drive's end stop, or begin a new site"
            )
        return added

    def overruled(self, point: Point) -> "TuningTable":
        """With a pair that is certain: the newest pairs of its site go until it can be.

        Raises
        ------
        TuningTableError
            If it contradicts the design itself, or what was measured elsewhere.
        """
        kept = self
        while True:
            try:
                return kept.learnt(point)
            except TuningTableError:
                newest = max(
                    (number for number, each in enumerate(kept.points, 1) if each.site == kept.site),
                    default=0,
                )
                if not newest:
                    raise
                kept = kept.without(newest)

    @property
    def newest(self) -> Point | None:
        """The pair learnt last where the antenna stands now."""
        return newest_of(self.points, self.site)

    def without(self, number: int) -> "TuningTable":
        """Without the pair of this number, counted from 1."""
        self._check(number)
        return replace(self, points=self.points[: number - 1] + self.points[number:])

    def with_edited(self, number: int, point: Point) -> "TuningTable":
        """With another pair in place of this number, counted from 1."""
        self._check(number)
        return replace(self, points=(*self.points[: number - 1], point, *self.points[number:]))

    def moved_to(self, site: str) -> "TuningTable":
        """The antenna stands elsewhere: what was measured before holds there but for a shift, which one pair tells."""
        return replace(self, site=site_name(site))

    @property
    def sites(self) -> tuple[str, ...]:
        """Sites with pairs, and that where the antenna stands, in the order in which they came."""
        return tuple(dict.fromkeys((*(point.site for point in self.points), self.site)))

    def curve(self) -> "TableCurve":
        """What the table says on its site."""
        return TableCurve(self.law, self.points, site=self.site)

    def _check(self, number: int) -> None:
        if not 1 <= number <= len(self.points):
            raise TuningTableError(
                f"number: there is no pair {shown(number)}; the table has {len(self.points)}"
            )


def newest_of(points: Sequence[Point], site: str) -> Point | None:
    """The pair learnt last at a site: not that of the latest date, for a simulation's clock runs ahead."""
    return next((point for point in reversed(points) if point.site == site), None)


def _warmth_allowance(point: Point, x: float, drift: Drift) -> float:
    if point.temperature is None:
        return 0.0
    return abs(2.0 * x * (point.temperature - REFERENCE_TEMPERATURE)) * FAR_OFF * drift.sigma


class TableCurve:
    """Frequency at a position, position of a frequency, and how well that is known; monotone whatever was measured."""

    __slots__ = ("_fit", "_highest", "_lowest", "drift", "farads", "law")

    def __init__(self, law: Law, points: Sequence[Point], *, site: str) -> None:
        self.law = law
        self._fit = Fit(law, points, site=site)
        self.drift = self._fit.drift
        x = _knots(law, points)
        self.farads = _risen(x, np.maximum(self._fit.farads(x), LEAST * x))
        self._highest, self._lowest = self._resonance(self.low), self._resonance(self.high)

    @property
    def low(self) -> int:
        """The first step of the travel."""
        return 0

    @property
    def high(self) -> int:
        """The last one."""
        return self.law.last

    def frequency(self, position: float, temperature_c: float | None = None) -> float:
        """Resonance at a position [Hz]; the reference temperature where none is known, straight on beyond the ends."""
        end = min(max(position, self.low), self.high)
        here = self._resonance(end)
        beyond = position - end
        if beyond:
            here += beyond * self._steepness(end)
        return here * self._warmed(temperature_c)

    def position(self, frequency: float, temperature_c: float | None = None) -> float:
        """Where the ring resonates there [steps, not whole]; straight on beyond the ends."""
        cold = frequency / self._warmed(temperature_c)
        for end, is_beyond in ((self.low, cold > self._highest), (self.high, cold < self._lowest)):
            if is_beyond:
                return end + (cold - self._resonance(end)) / self._steepness(end)
        return self.law.farads.inverse(self.farads.inverse(self.law.farads_showing(cold)))

    def reached(self, frequency: float, temperature_c: float | None = None) -> int:
        """The whole step nearest to a frequency.

        Raises
        ------
        OutOfRangeError
            If the travel does not reach it.
        """
        place = round(self.position(frequency, temperature_c))
        if not self.low <= place <= self.high:
            ends = [self.frequency(end, temperature_c) / 1e6 for end in (self.high, self.low)]
            raise OutOfRangeError(
                f"{frequency / 1e6:.4f} MHz is outside the {ends[0]:.3f} to {ends[1]:.3f} MHz that this ring reaches; "
                f"choose another frequency"
            )
        return place

    def sigma(self, frequency: float) -> float:
        """One sigma of the position [steps]; grows away from what was measured."""
        place = min(max(self.position(frequency), self.low), self.high)
        x = self.law.farads.at(place)
        return self.spread(x) / abs(self.farads.slope(x) * self.law.farads.slope(place))

    def spread(self, x: float) -> float:
        """One sigma of the farads where the law has `x` [F]."""
        return float(self._fit.sigma(np.array([x]))[0])

    def _resonance(self, position: float) -> float:
        return self.law.frequency_of(self.farads.at(self.law.farads.at(position)))

    def _steepness(self, end: float) -> float:
        """Hertz a step at an end of the travel."""
        inner = end + 1.0 if end == self.low else end - 1.0
        return (self._resonance(inner) - self._resonance(end)) / (inner - end)

    def _warmed(self, temperature: float | None) -> float:
        return (
            1.0
            if temperature is None
            else 1.0 + self.drift.per_kelvin * (temperature - REFERENCE_TEMPERATURE)
        )


def _knots(law: Law, points: Sequence[Point]) -> FloatArray:
    """Settings of the law that the curve is laid through: where something was measured, and both ends."""
    low, high = float(law.farads.y[0]), float(law.farads.y[-1])
    kept = [low]
    for x in sorted(law.farads.at(point.position) for point in points):
        if x > kept[-1] * (1.0 + _APART):
            kept.append(x)
    while len(kept) > 1 and high < kept[-1] * (1.0 + _APART):
        kept.pop()
    return np.array([*kept, high])


def _risen(x: FloatArray, y: FloatArray) -> Monotone:
    """A rising curve through what was found; where pairs contradict that, their mean in one place."""
    blocks = isotonic_regression(y).blocks
    places = [slice(first, last) for first, last in pairwise(blocks)]
    middle = np.array([x[place].mean() for place in places])
    level = np.array([y[place].mean() for place in places])
    # An end that lost its own knot lies in proportion to the nearest: as with another inductance, and never below 0.
    before = x[:1] if x[0] < middle[0] else x[:0]
    after = x[-1:] if x[-1] > middle[-1] else x[:0]
    ends = before * level[0] / middle[0], after * level[-1] / middle[-1]
    return Monotone(np.concatenate([before, middle, after]), np.concatenate([ends[0], level, ends[1]]))
