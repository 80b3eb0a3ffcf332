# SPDX-License-Identifier: BSD-3-Clause
"""Measured pairs over a predicted law: by how many farads the ring differs from the law, and how well that is known.

A pair says that at its position the ring behaves as if there were y farads across the gap where the law has x. The
difference is taken as a capacitance that is always there, a part of x, a smooth remainder that is alike at settings
that are near each other, the warmth, and the reading's own error; on another site the first two differ once more. All
are normal and independent before anything is measured, so that conditioning on the pairs is linear algebra [1]_. Two
pairs already tell a stray capacitance from an inductance; one pair goes to whichever is likelier at that setting.

References
----------
.. [1] C. E. Rasmussen and C. K. I. Williams, Gaussian Processes for Machine Learning, MIT Press, 2006, sec. 2.2 and
   2.7, equations 2.25, 2.26 and 2.41.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.linalg import cho_factor, cho_solve

from ringwright.physics.graph import FloatArray
from ringwright.tuner.table_law import Law
from ringwright.tuner.table_point import REFERENCE_TEMPERATURE, Point

STRAY, SCALE = 3e-12, 0.05
"""How far a design's capacitance may be off: always the same [F], and in proportion. Own assumption, one sigma."""
SITE_STRAY, SITE_SCALE = 1e-12, 0.01
"""How far that changes from site to site [F, 1]. Own assumption, one sigma."""
SHAPE, ALIKE = 0.005, 0.3
"""The remainder in proportion, and over which change of ln(farads) it stays alike. Own assumption."""
PER_KELVIN = 50e-6
"""How far the predicted drift may be off [1/K]: leaves of brass, steel or aluminium. Own assumption, one sigma."""
UNKNOWN_WARMTH = 10.0
"""Spread of a temperature that nobody wrote down [K]; own assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drift:
    """By what part of itself the resonance moves in a kelvin, one sigma [1/K]; `is_learnt` where the pairs say so."""

    per_kelvin: float
    sigma: float

    @property
    def is_learnt(self) -> bool:
        """Whether the pairs have told more than half of what the design left open."""
        return self.sigma < 0.5 * PER_KELVIN


class Fit:
    """What the pairs say of one site at the reference temperature."""

    def __init__(self, law: Law, points: Sequence[Point], *, site: str) -> None:
        self._law, self._site = law, site
        self._farads = np.array([law.farads.at(point.position) for point in points])
        self._kelvin = np.array([_kelvin(point) for point in points])
        self._sites = np.array([point.site for point in points], dtype=object)
        shown = np.array([law.farads_showing(point.frequency) for point in points])
        left = shown - self._farads - self._by_warmth(self._farads, self._kelvin) * law.per_kelvin
        error = np.array([_relative_error(point, law) for point in points]) * 2.0 * shown
        self._factor = None
        if points:
            known = self._alike(self._farads, self._sites, self._kelvin) + np.diag(error**2)
            self._factor = cho_factor(known, lower=True)
            self._weights = cho_solve(self._factor, left)

    def farads(self, x: FloatArray) -> FloatArray:
        """What the ring behaves as if it had, where the law has `x` [F]."""
        if self._factor is None:
            return x
        return np.asarray(x + self._between(x) @ self._weights)

    def sigma(self, x: FloatArray) -> FloatArray:
        """One sigma of that [F]."""
        before = np.diag(self._alike(x, self._here(x), np.zeros(len(x))))
        if self._factor is None:
            return np.asarray(np.sqrt(before))
        across = self._between(x)
        told = np.einsum("ij,ji->i", across, cho_solve(self._factor, across.T))
        return np.asarray(np.sqrt(np.maximum(before - told, 0.0)))

    @property
    def drift(self) -> Drift:
        """The temperature term."""
        if self._factor is None:
            return Drift(per_kelvin=self._law.per_kelvin, sigma=PER_KELVIN)
        across = PER_KELVIN**2 * self._by_warmth(self._farads, self._kelvin)
        told = float(across @ cho_solve(self._factor, across))
        change = float(across @ self._weights)
        return Drift(
            per_kelvin=self._law.per_kelvin + change, sigma=float(np.sqrt(max(PER_KELVIN**2 - told, 0.0)))
        )

    def _here(self, x: FloatArray) -> FloatArray:
        return np.full(len(x), self._site, dtype=object)

    def _between(self, x: FloatArray) -> FloatArray:
        return self._alike(
            *(x, self._here(x), np.zeros(len(x))), others=(self._farads, self._sites, self._kelvin)
        )

    def _alike(
        self,
        x: FloatArray,
        sites: FloatArray,
        kelvin: FloatArray,
        *,
        others: tuple[FloatArray, FloatArray, FloatArray] | None = None,
    ) -> FloatArray:
        """Covariance of the differences at some settings with those at others, or with themselves [F^2]."""
        other_x, other_sites, other_kelvin = (x, sites, kelvin) if others is None else others
        product = np.outer(x, other_x)
        apart = abs(np.subtract.outer(np.log(x), np.log(other_x))) / ALIKE
        stray = float(np.hypot(STRAY, self._law.stray_within))
        same = np.equal.outer(sites, other_sites).astype(float)
        warmth = np.outer(self._by_warmth(x, kelvin), self._by_warmth(other_x, other_kelvin))
        covariance = stray**2 + SCALE**2 * product
        covariance += (
            SHAPE**2 * product * (1.0 + apart) * np.exp(-apart)
        )  # Matern 3/2: smooth, but not too smooth
        covariance += same * (SITE_STRAY**2 + SITE_SCALE**2 * product)
        covariance += PER_KELVIN**2 * warmth
        return np.asarray(covariance)

    @staticmethod
    def _by_warmth(x: FloatArray, kelvin: FloatArray) -> FloatArray:
        """Farads for a drift of 1 1/K: C f^2 stands, so that dC/C = -2 df/f."""
        return np.asarray(-2.0 * x * kelvin)


def _kelvin(point: Point) -> float:
    return 0.0 if point.temperature is None else point.temperature - REFERENCE_TEMPERATURE


def _relative_error(point: Point, law: Law) -> float:
    """One sigma of the frequency over itself."""
    unknown = UNKNOWN_WARMTH * (abs(law.per_kelvin) + PER_KELVIN) if point.temperature is None else 0.0
    return float(np.hypot(point.spread / point.frequency, unknown))
