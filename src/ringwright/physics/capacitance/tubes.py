# SPDX-License-Identifier: BSD-3-Clause
"""Tubes that slide into one another: capacitance along the overlap, its ends, and where the field is strongest."""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import FloatArray, positive
from ringwright.physics.constants import EPS_0


def tube_capacitance(
    overlap: ArrayLike,
    *,
    inner_radius: ArrayLike,
    outer_radius: ArrayLike,
    sleeve_radius: ArrayLike | None = None,
    permittivity: ArrayLike = 1.0,
) -> FloatArray:
    r"""Capacitance of a tube that ends inside another, over a stretch in which both run side by side.

    .. math::

        C = \frac{2 \pi \epsilon_0 x}{\frac{1}{\epsilon_r} \ln\frac{s}{a} + \ln\frac{b}{s}}
            + 2 \cdot \frac{2 \pi \epsilon_0 \Delta}{\ln(b/a)}, \quad
        \Delta = \frac{b - a}{\pi} \left(1 + \ln\frac{\pi (a + b)}{4 (b - a)}\right)

    Parameters
    ----------
    overlap : array_like of float, shape (...)
        Length x of the overlap, at least the gap b - a. [m]
    inner_radius, outer_radius : array_like of float, shape (...)
        Outer radius a of the inner tube and inner radius b of the outer one, a < b. [m]
    sleeve_radius : array_like of float, shape (...), optional
        Outer radius s of a sleeve on the inner tube, a to b; none if left out. [m]
    permittivity : array_like of float, shape (...)
        Relative, of the sleeve, >= 1. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Capacitance. [F]

    Raises
    ------
    OutOfRangeError
        If a size is not finite and positive, the radii are not in order, or the overlap is shorter than the gap.

    Notes
    -----
    Without its two ends exact. Delta is what the inner tube's end in the bore adds, the edge law of flat plates
    with a quarter of the tubes' mean circumference for the width the field finds: within 2 % of a solution for the
    charges for gaps of 1/20 to 2/5 of the outer radius. The outer tube's mouth is given the same; what its outside
    adds is the stray capacitance of the build. A sleeve's ends count as air.

    References
    ----------
    .. [1] H. B. Palmer, The capacitance of a parallel-plate capacitor by the Schwarz-Christoffel transformation,
           Trans. AIEE 56, 363-366, 1937 (from memory): the edge law of flat plates.
    """
    a, s, b = _radii(inner_radius, sleeve_radius, outer_radius)
    x = positive("overlap", overlap)
    if np.any(x < b - a):
        raise OutOfRangeError(f"overlap {x} m must be at least the gap between the tubes, {b - a} m")
    ends = 2.0 / np.pi * (b - a) * (1.0 + np.log(np.pi * (a + b) / (4.0 * (b - a))))
    along = x / (np.log(s / a) / _relative(permittivity) + np.log(b / s))
    return np.asarray(2.0 * np.pi * EPS_0 * (along + ends / np.log(b / a)))


def tube_equivalent_gaps(
    *,
    inner_radius: ArrayLike,
    outer_radius: ArrayLike,
    sleeve_radius: ArrayLike | None = None,
    permittivity: ArrayLike = 1.0,
) -> tuple[FloatArray, FloatArray]:
    r"""Plate gaps in which the same voltage makes a uniform field as strong as the strongest between the tubes.

    .. math::

        g_{air} = s \left(\frac{1}{\epsilon_r} \ln\frac{s}{a} + \ln\frac{b}{s}\right), \quad
        g_{sleeve} = \frac{\epsilon_r a}{s} g_{air}

    Parameters
    ----------
    inner_radius, outer_radius : array_like of float, shape (...)
        Outer radius a of the inner tube and inner radius b of the outer one, a < b. [m]
    sleeve_radius : array_like of float, shape (...), optional
        Outer radius s of a sleeve on the inner tube, a to b; none if left out. [m]
    permittivity : array_like of float, shape (...)
        Relative, of the sleeve, >= 1. [1]

    Returns
    -------
    air, sleeve : ndarray of float64, shape (...)
        Voltage over the strongest field in the air, at the sleeve's outside, and in the sleeve, at the inner tube.
        [m]

    Raises
    ------
    OutOfRangeError
        If a size is not finite and positive or the radii are not in order.

    Notes
    -----
    Exact along the tubes; their rims concentrate the field further. Air breaks down by the field and the distance
    over which it is strong: for the curved field the plate gap is the careful side, since thin layers stand more.

    References
    ----------
    .. [1] E. Kuffel, W. S. Zaengl, J. Kuffel, High Voltage Engineering: Fundamentals, 2nd ed., Newnes, 2000, ch. 4
           (from memory): coaxial cylinders with layered dielectric.
    """
    a, s, b = _radii(inner_radius, sleeve_radius, outer_radius)
    eps = _relative(permittivity)
    air = s * (np.log(s / a) / eps + np.log(b / s))
    return np.asarray(air), np.asarray(eps * a / s * air)


def _radii(
    inner: ArrayLike, sleeve: ArrayLike | None, outer: ArrayLike
) -> tuple[FloatArray, FloatArray, FloatArray]:
    a, b = positive("inner_radius", inner), positive("outer_radius", outer)
    s = a if sleeve is None else positive("sleeve_radius", sleeve)
    if np.any(a >= b) or np.any(s < a) or np.any(s > b):
        raise OutOfRangeError(
            f"inner_radius {a} m, sleeve_radius {s} m and outer_radius {b} m must grow in this order"
        )
    return a, s, b


def _relative(permittivity: ArrayLike) -> FloatArray:
    eps = positive("permittivity", permittivity)
    if np.any(eps < 1.0):
        raise OutOfRangeError(f"permittivity must be 1 or more, got {eps}")
    return eps
