# SPDX-License-Identifier: BSD-3-Clause
r"""One path of integration for every kernel, pair of points, frequency and earth of a table.

The singularities of the integrands (branch points at k_0 and k_1, the pole of the TM reflection near k_0) lie on or
below the real axis. The path leaves the origin upwards at 45 degrees, runs at height d above all of them and comes
back to the real axis beyond the largest:

.. math:: k_\rho(u) = u + j d \tanh(u/d) \tanh((a - u)/d), \quad 0 \le u \le a

then stays real, where the Bessel functions are cheap, until exp(-gamma_0 h) has fallen below the tolerance. Because the
path depends on no frequency, neither do the Bessel functions on it. Panels are Gauss-Legendre, graded towards the
origin, where the path comes near the branch points of low frequencies.
"""

import itertools
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy.special import gamma, gammainccinv

from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.physics.half_space.spectrum import Kernel

__all__ = [
    "K_MIN",
    "Contour",
    "Reach",
]

K_MIN = 0.0370
"""Smallest wavenumber in air that the grading towards the origin is made for; 1.765 MHz. [1/m]"""

_MAX_HEIGHT = 1.0  # [1/m], above which nothing is gained
_MAX_GROWTH = 3.0  # J_n grows as exp(d rho): three powers of e are lost at most
_MAX_ORDER = 40


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Reach:
    """What a table must cover.

    Attributes
    ----------
    h_min, h_max, rho_max : float
        Least and largest sum of heights, > 0, and largest horizontal distance. [m]
    k_max, k_earth : float
        Largest wavenumber in air, and in the earth (real part). [1/m]
    """

    h_min: float
    h_max: float
    rho_max: float
    k_max: float
    k_earth: float

    @classmethod
    def of(cls, rho: FloatArray, h: FloatArray, *, k_max: float, k_earth: float) -> "Reach":
        """Just what the pairs need."""
        low, high, wide = float(h.min()), float(h.max()), float(rho.max())
        return cls(h_min=low, h_max=high, rho_max=wide, k_max=k_max, k_earth=k_earth)


@dataclass(frozen=True, slots=True, eq=False)
class Contour:
    """Nodes [1/m] and weights [1/m] of an integral over k_rho, both complex, shape (n,)."""

    k_rho: ComplexArray
    weight: ComplexArray

    @classmethod
    def build(cls, kernels: tuple[Kernel, ...], reach: Reach, *, tolerance: float) -> "Contour":
        """Path for `kernels` at all pairs within `reach`, to `tolerance` of 1/(4 pi r^decay)."""
        height = min(_MAX_HEIGHT, _MAX_GROWTH / max(reach.rho_max, 1e-9))
        fine = tolerance / max(cancellation(kernel, reach.rho_max / reach.h_min) for kernel in kernels)
        end = float(np.hypot(max(_tail(kernel, fine) for kernel in kernels) / reach.h_min, reach.k_max))
        beyond_air = 1.1 * reach.k_max + 2.0 * height
        landing = max(beyond_air, min(end, 1.1 * reach.k_earth + 2.0 * height))
        order = int(np.ceil(2.0 - np.log10(fine)))
        panels = [
            _raised(a, b, order=order, height=height, landing=landing) for a, b in _graded(height, landing)
        ]
        for a, b in _geometric(landing, end):
            panels += _oscillating(a, b, order=order, reach=reach)
        nodes, weights = zip(*panels, strict=True)
        return cls(np.concatenate(nodes), np.concatenate(weights))


_Panel = tuple[ComplexArray, ComplexArray]


def _tail(kernel: Kernel, tolerance: float) -> float:
    """gamma_0 h beyond which a kernel's integrand at rho = 0 adds less than `tolerance` of 1/(4 pi h^decay)."""
    size = float(gamma(kernel.decay)) / (2.0**kernel.order * float(gamma(kernel.order + 1)))
    return float(gammainccinv(kernel.decay, tolerance / size))


def cancellation(kernel: Kernel, slope: float) -> float:
    """How far the integrand exceeds its integral at rho = `slope` h, from J_n ~ (k_rho rho)^(-1/2)."""
    return float(max(1.0, slope) ** max(0.0, kernel.decay - kernel.order - 1.5))


def _graded(height: float, landing: float) -> list[tuple[float, float]]:
    """Panels from 0 to `landing`: doubling from `K_MIN`, then even ones of at most 1.5 times the path's height."""
    edges, length = [0.0], K_MIN
    while length < 1.5 * height and edges[-1] + length < landing:
        edges.append(edges[-1] + length)
        length *= 2.0
    rest = landing - edges[-1]
    edges += list(edges[-1] + np.linspace(0.0, rest, int(np.ceil(rest / (1.5 * height))) + 1)[1:])
    return list(itertools.pairwise(edges))


def _geometric(start: float, end: float) -> list[tuple[float, float]]:
    """Panels from `start` to `end`, each reaching three times as far as the one before."""
    edges = [start]
    while edges[-1] < end:
        edges.append(min(3.0 * edges[-1], end))
    return list(itertools.pairwise(edges))


def _raised(a: float, b: float, *, order: int, height: float, landing: float) -> _Panel:
    u, w = _gauss(a, b, order)
    rise, fall = np.tanh(u / height), np.tanh((landing - u) / height)
    slope = (1.0 - rise**2) * fall - rise * (1.0 - fall**2)
    return np.asarray(u + 1j * height * rise * fall), np.asarray(w * (1.0 + 1j * slope))


def _oscillating(a: float, b: float, *, order: int, reach: Reach) -> list[_Panel]:
    """Real panels that follow J_n(u rho_max) exp(-u h_min)."""
    per_length = (
        0.28 * reach.rho_max + 0.25 * reach.h_min
    )  # measured; Gauss needs ever more than 1/4 a radian
    parts = max(1, int(np.ceil((b - a) * per_length / max(_MAX_ORDER - order, 15))))
    edges = np.linspace(a, b, parts + 1)
    needed = order + int(np.ceil((b - a) / parts * per_length))
    rules = [_gauss(lo, hi, needed) for lo, hi in itertools.pairwise(edges)]
    return [(u.astype(complex), w.astype(complex)) for u, w in rules]


def _gauss(a: float, b: float, order: int) -> tuple[FloatArray, FloatArray]:
    x, w = _gauss_rule(order)
    return 0.5 * (b - a) * x + 0.5 * (a + b), 0.5 * (b - a) * w


@lru_cache(maxsize=64)
def _gauss_rule(order: int) -> tuple[FloatArray, FloatArray]:
    x, w = np.polynomial.legendre.leggauss(order)
    return x, w
