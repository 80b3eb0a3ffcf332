# SPDX-License-Identifier: BSD-3-Clause
"""Oracle: integrals over a pair of segments by nested adaptive quadrature of scipy, from their definition alone."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import quad
from scipy.special import ellipkm1

Array = NDArray[np.float64]


def tube_mean(distance: float, radius: float) -> float:
    """Mean of 1/R over the azimuth of a tube: 2 K(m)/(pi sqrt(d^2 + 4 a^2)), 1 - m = d^2/(d^2 + 4 a^2)."""
    longest = distance**2 + 4.0 * radius**2
    return float(2.0 / np.pi * ellipkm1(distance**2 / longest) / np.sqrt(longest))


def pair_integrals(first: Array, second: Array, kernel: Callable[[float], float]) -> Array:
    """(2, 2) double integrals of shape times shape times `kernel`(distance) over two segments, ends (2, 3) each [m].

    The inner integral is cut where the second segment comes nearest and graded towards that place, the outer one
    towards both ends.
    """
    (p, u), (q, v) = ((ends[0], ends[1] - ends[0]) for ends in (first, second))

    def inner(s: float, rising: bool) -> float:
        x = p + s * u - q
        nearest = float(np.clip(x @ v / (v @ v), 0.0, 1.0))

        def graded(w: float, end: float) -> float:
            t = nearest + (end - nearest) * w**3
            distance = max(float(np.linalg.norm(x - t * v)), 1e-150)
            return 3.0 * w * w * kernel(distance) * (t if rising else 1.0 - t)

        parts = [
            abs(end - nearest) * quad(graded, 0.0, 1.0, args=(end,), epsabs=0.0, epsrel=1e-8, limit=200)[0]
            for end in (0.0, 1.0)
            if end != nearest
        ]
        return float(sum(parts))

    def outer(w: float, rising: tuple[bool, bool]) -> float:
        s = w * w * (3.0 - 2.0 * w)
        return 6.0 * w * (1.0 - w) * inner(s, rising[1]) * (s if rising[0] else 1.0 - s)

    scale = float(np.linalg.norm(u) * np.linalg.norm(v))
    value = [
        [
            quad(outer, 0.0, 1.0, args=((bool(m), bool(n)),), epsabs=0.0, epsrel=3e-8, limit=100)[0]
            for n in (0, 1)
        ]
        for m in (0, 1)
    ]
    return scale * np.array(value)
