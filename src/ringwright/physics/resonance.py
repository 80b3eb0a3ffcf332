# SPDX-License-Identifier: BSD-3-Clause
"""Narrow resonances of a small network: the reactance of best match, and searches that land on the dip."""

from collections.abc import Callable

import numpy as np

from ringwright.physics.graph import FloatArray
from ringwright.physics.wave_kernel import ComplexArray


def best_reactance(
    impedance: ComplexArray, *, reference: float, resistance: FloatArray, loss_tangent: FloatArray
) -> FloatArray:
    r"""Capacitive reactance at port 2 that gives the least reflection at port 1.

    Port 2 ends in r + x (tan delta - j). The reflection is a Moebius function of x, so that its square is a quotient
    of quadratics and the extremes are the roots of a third quadratic: exact, no search.

    Parameters
    ----------
    impedance : ndarray of complex128, shape (f, 2, 2)
        Open-circuit impedance matrix. [ohm]
    reference : float
        Reference resistance of port 1, > 0. [ohm]
    resistance : ndarray of float64, shape (f,)
        The part r of the load that does not follow x. [ohm]
    loss_tangent : ndarray of float64, shape (f,)
        1/Q of the load, 0 where its loss is given as a resistance. [1]

    Returns
    -------
    ndarray of float64, shape (f,)
        x; negative or infinite where no capacitive reactance is best. [ohm]

    Notes
    -----
    Own derivation, docs/explanation/tuning.md. Roots are taken about the ring's own reactance, where they differ by
    a bandwidth, not by rounding.
    """
    z11, z12, z22 = impedance[:, 0, 0], impedance[:, 0, 1], impedance[:, 1, 1]
    centre = z22.imag
    slope = loss_tangent - 1j
    at_centre = z22 + resistance + centre * slope

    def quadratic(port: ComplexArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        linear, constant = slope * port, port * at_centre - z12**2
        return _squared(linear), 2.0 * (linear * constant.conj()).real, _squared(constant)

    n2, n1, n0 = quadratic(z11 - reference)
    d2, d1, d0 = quadratic(z11 + reference)
    a, b, c = n2 * d1 - n1 * d2, n2 * d0 - n0 * d2, n1 * d0 - n0 * d1
    root = np.sqrt(np.maximum(b * b - a * c, 0.0))
    # a u^2 + 2 b u + c changes sign from - to + at the minimum: (-b + root)/a, written without cancellation.
    with np.errstate(divide="ignore", invalid="ignore"):
        offset = np.where(b > 0, -c / (b + root), (root - b) / a)
    return np.asarray(centre + offset)


def _squared(z: ComplexArray) -> FloatArray:
    return np.asarray(z.real**2 + z.imag**2)


def lowest_point(f: Callable[[FloatArray], FloatArray], low: float, high: float) -> tuple[float, float]:
    """Place and value of the least value of a function with one dip between `low` and `high`.

    Parameters
    ----------
    f : callable
        Vectorised over its argument.
    low, high : float
        The interval. [Hz]

    Returns
    -------
    tuple of float
        Argument [Hz] and value there.

    Notes
    -----
    Five zooms of 25 points: the place is found to 1e-5 of the interval.
    """
    for _ in range(5):
        x = np.linspace(low, high, 25)
        best = int(np.argmin(f(x)))
        low, high = float(x[max(best - 1, 0)]), float(x[min(best + 1, 24)])
    middle = (low + high) / 2.0
    return middle, float(f(np.array([middle]))[0])


def crossing(
    f: Callable[[FloatArray], FloatArray], *, inside: float, outside: float, level: float
) -> float | None:
    """Where a function that rises from `inside` to `outside` passes `level`; None if it does not.

    Parameters
    ----------
    f : callable
        Vectorised over its argument.
    inside, outside : float
        f(inside) < level; the first passage on the way is taken. [Hz]
    level : float
        Wanted value. [1]

    Returns
    -------
    float or None
        [Hz]

    Notes
    -----
    Five zooms of 17 points and a last straight line: 1e-7 of the interval.
    """
    for _ in range(5):
        x = np.linspace(inside, outside, 17)
        above = np.flatnonzero(f(x) >= level)
        if len(above) == 0 or above[0] == 0:
            return None
        inside, outside = float(x[above[0] - 1]), float(x[above[0]])
    ends = f(np.array([inside, outside]))
    return float(inside + (outside - inside) * (level - ends[0]) / (ends[1] - ends[0]))
