# SPDX-License-Identifier: BSD-3-Clause
r"""One path of integration for every kernel, pair of points, frequency and earth of a table.

The singularities of the integrands (branch points at k_0 and k_1, the pole of the TM reflection near k_0) lie on or
below the real axis. The path leaves the origin upwards at 45 degrees, runs at height d above all of them and comes
back to the real axis beyond the largest:

.. math:: k_\rho(u) = u + j d \tanh(u/d) \tanh((a - u)/d), \quad 0 \le u \le a

then stays real, where the Bessel functions are cheap, until exp(-k_rho h) has fallen below the tolerance. Because the
path depends on no frequency, neither do the Bessel functions on it. Panels are Gauss-Legendre, graded towards the
origin, where the path comes near the branch points of low frequencies.
"""

import itertools
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy.special import gammainccinv

from ringwright.physics.checks import ComplexArray, FloatArray

K_MIN = 0.0370
"""Smallest wavenumber in air that the grading towards the origin is made for; 1.765 MHz. [1/m]"""

_MAX_HEIGHT = 1.0  # [1/m], above which nothing is gained
_MAX_GROWTH = 3.0  # J_n grows as exp(d rho): three powers of e are lost at most
_MAX_ORDER = 40


@dataclass(frozen=True, slots=True, eq=False)
class Contour:
    """Nodes [1/m] and weights [1/m] of an integral over k_rho, both complex, shape (n,)."""

    k_rho: ComplexArray
    weight: ComplexArray

    @classmethod
    def build(
        cls, *, h_min: float, rho_max: float, k_max: float, k_earth: float, decay: int, tolerance: float
    ) -> "Contour":
        """Path for all pairs with h >= `h_min` and rho <= `rho_max`.

        `k_max` and `k_earth` are the largest wavenumbers in air and (real part) in the earth, `decay` the largest
        power of 1/r among the kernels: the tail left out is the upper incomplete gamma function of that order.
        """
        height = min(_MAX_HEIGHT, _MAX_GROWTH / rho_max) if rho_max > 0.0 else _MAX_HEIGHT
        end = float(gammainccinv(decay, tolerance)) / h_min
        landing = min(1.1 * max(k_max, k_earth) + 2.0 * height, max(end, 1.1 * k_max + 2.0 * height))
        order = int(np.ceil(2.0 - np.log10(tolerance)))
        near = _graded(K_MIN, 2.0 * height, landing)
        far = _geometric(landing, end, 3.0)
        nodes: list[ComplexArray] = []
        weights: list[ComplexArray] = []
        for u, w in (_gauss(a, b, order) for a, b in near):
            rise, fall = np.tanh(u / height), np.tanh((landing - u) / height)
            slope = (1.0 - rise**2) * fall - rise * (1.0 - fall**2)
            nodes.append(np.asarray(u + 1j * height * rise * fall))
            weights.append(np.asarray(w * (1.0 + 1j * slope)))
        for a, b in far:
            for u, w in _oscillating(a, b, order=order, rho_max=rho_max, h_min=h_min):
                nodes.append(u.astype(complex))
                weights.append(w.astype(complex))
        return cls(np.concatenate(nodes), np.concatenate(weights))


def _graded(first: float, longest: float, end: float) -> list[tuple[float, float]]:
    """Panels from 0 to `end`, each twice the one before until they are `longest`."""
    edges, length = [0.0], first
    while end - edges[-1] > 1.3 * length:
        edges.append(edges[-1] + length)
        length = min(2.0 * length, longest)
    edges.append(end)
    return list(itertools.pairwise(edges))


def _geometric(start: float, end: float, ratio: float) -> list[tuple[float, float]]:
    """Panels from `start` to `end`, each reaching `ratio` times as far as the one before."""
    edges = [start]
    while edges[-1] < end:
        edges.append(min(edges[-1] * ratio, end))
    return list(itertools.pairwise(edges))


def _oscillating(
    a: float, b: float, *, order: int, rho_max: float, h_min: float
) -> list[tuple[FloatArray, FloatArray]]:
    """Gauss rules on [a, b] that follow J_n(u rho_max) exp(-u h_min): measured, see the explanation page."""
    per_length = 0.28 * rho_max + 0.25 * h_min
    parts = max(1, int(np.ceil((b - a) * per_length / (_MAX_ORDER - order))))
    edges = np.linspace(a, b, parts + 1)
    needed = order + int(np.ceil((b - a) / parts * per_length))
    return [_gauss(lo, hi, needed) for lo, hi in itertools.pairwise(edges)]


def _gauss(a: float, b: float, order: int) -> tuple[FloatArray, FloatArray]:
    x, w = _gauss_rule(order)
    return 0.5 * (b - a) * x + 0.5 * (a + b), 0.5 * (b - a) * w


@lru_cache(maxsize=64)
def _gauss_rule(order: int) -> tuple[FloatArray, FloatArray]:
    x, w = np.polynomial.legendre.leggauss(order)
    return x, w
