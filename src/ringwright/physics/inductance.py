# SPDX-License-Identifier: BSD-3-Clause
"""Self-inductance of single-turn rings of round wire in the skin-effect limit, and the crowding that goes with it.

All current is on the surface; the little flux inside the metal is the imaginary part of the conductor's internal
impedance (`ringwright.physics.conductors`). A strip enters with `strip_equivalent_radius` as its wire radius.
These are forms for low frequency: at a circumference of 0.07 wavelengths the capacitor found with them is 2 % too
large, at 0.14 it is 9 % (`ringwright.physics.small_loop` says more).
"""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import FloatArray, positive
from ringwright.physics.constants import MU_0

THICKEST_RING = 0.2
"""Largest ratio of wire radius to ring radius for which the expansions were checked. [1]"""
THICKEST_SIDE = 0.2
"""Largest ratio of wire radius to the side of a polygon or rectangle: beyond, the corners are the inductor. [1]"""
_GAUSS = np.polynomial.legendre.leggauss(32)
"""Points along a side for the flux of a side it does not touch; 32 give all digits down to a triangle's neighbours."""


def _slender(wire_radius: ArrayLike, size: FloatArray, *, limit: float, what: str) -> FloatArray:
    """The wire's radius, refused above `limit` of the size [m] that the formula needs to be large."""
    a = positive("wire_radius", wire_radius)
    if np.any(a > limit * size):
        raise OutOfRangeError(f"wire_radius {a} m must be at most {limit} of the {what}, {size} m")
    return a


def ring_inductance(radius: ArrayLike, wire_radius: ArrayLike) -> FloatArray:
    r"""Inductance of a circular ring of round wire in the skin-effect limit.

    .. math::

        L = \mu_0 R \left[ \left(1 + \frac{a^2}{4 R^2}\right) \Lambda - 2
            - \frac{a^2}{4 R^2} \left(\Lambda - \tfrac12\right)^2 \right], \quad \Lambda = \ln\frac{8 R}{a}

    Parameters
    ----------
    radius, wire_radius : array_like of float, shape (...)
        Radius R of the ring, > 0, to the wire's axis, and radius a of the wire, > 0 and at most R/5. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Inductance. [H]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or the wire is thicker than a fifth of the ring's radius.

    Notes
    -----
    Within 0.1 % of the exact torus up to a = R/5, 1e-5 up to R/20. The first two terms are the flux of a current
    spread evenly round the wire [1]_. A perfect conductor lets the current crowd to the inside,
    :math:`K(\theta) = K_0 [1 - (a/R)(\Lambda - \frac12) \cos\theta]`, until no flux crosses its surface, and that
    takes away the last term (own derivation: it is the square of the first harmonic that the even current leaves).

    References
    ----------
    .. [1] E. B. Rosa, F. W. Grover, Formulas and tables for the calculation of mutual and self-inductance (revised),
           Bull. Bureau of Standards 8, 1-237, 1912 (Sci. Paper 169).
    """
    r = positive("radius", radius)
    a = _slender(wire_radius, r, limit=THICKEST_RING, what="ring's radius")
    log, q = np.log(8.0 * r / a), (a / r) ** 2 / 4.0
    return np.asarray(MU_0 * r * ((1.0 + q) * log - 2.0 - q * (log - 0.5) ** 2))


def ring_crowding(radius: ArrayLike, wire_radius: ArrayLike) -> FloatArray:
    r"""Loss of a circular ring over that of the same length of straight wire, in the skin-effect limit.

    .. math:: 1 + (a/R)^2 \Lambda' \left(\tfrac12 \Lambda' - 1\right), \quad \Lambda' = \ln\frac{8 R}{a} - \tfrac12

    Parameters
    ----------
    radius, wire_radius : array_like of float, shape (...)
        Radius R of the ring, > 0, to the wire's axis, and radius a of the wire, > 0 and at most R/5. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Factor on the resistance, above 1. [1]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or the wire is thicker than a fifth of the ring's radius.

    Notes
    -----
    Follows from the crowded current of `ring_inductance`, more of it on the shorter inner side. Its excess over 1 is
    within 1.3 % up to a = R/10 and 4.2 % up to R/5. The wire must be thick against the skin depth.

    References
    ----------
    .. [1] Own derivation; there is no table known for it. The tests solve the torus.
    """
    r = positive("radius", radius)
    a = _slender(wire_radius, r, limit=THICKEST_RING, what="ring's radius")
    drive = np.log(8.0 * r / a) - 0.5
    return np.asarray(1.0 + (a / r) ** 2 * drive * (0.5 * drive - 1.0))


def polygon_constant(sides: int) -> float:
    r"""Shape constant c of a regular polygon's inductance.

    .. math:: c_N = \ln 2 - 1 + \frac{1}{2} \sum_{i \ne 0} \cos\frac{2 \pi i}{N}
              \int_0^1 2 \operatorname{artanh}\frac{1}{r_1 + r_2}\,dt

    with r_1, r_2 the distances of the point t of side 0 from the ends of side i, in units of the side.

    Parameters
    ----------
    sides : int
        Number of sides N, 3 or more. [1]

    Returns
    -------
    float
        The constant that `polygon_inductance` takes. [1]

    Raises
    ------
    OutOfRangeError
        If there are fewer than three sides.

    Notes
    -----
    Exact for a filament; the two sides that touch side 0 are taken in closed form.

    References
    ----------
    .. [1] F. W. Grover, Formulas and tables for the calculation of the inductance of coils of polygonal form, Sci.
           Papers Bureau of Standards 18, 737-762, 1922 (no. 468).
    """
    if sides < 3:
        raise OutOfRangeError(f"a polygon has at least 3 sides, got {sides}")
    turn = 2.0 * np.pi / sides
    across = 2.0 * np.cos(turn / 2.0)  # between the far ends of two sides that touch
    touching = 8.0 * np.cos(turn) * np.arctanh(1.0 / (1.0 + across))
    corner = np.exp(1j * turn * np.arange(sides + 1)) / (2.0 * np.sin(turn / 2.0))
    point = corner[0] + (0.5 + 0.5 * _GAUSS[0]) * (corner[1] - corner[0])
    start, end = corner[2:-2, None], corner[3:-1, None]
    flux = 2.0 * np.arctanh(1.0 / (np.abs(point - start) + np.abs(point - end)))
    apart = np.cos(turn * np.arange(2, sides - 1)) @ (flux @ (0.5 * _GAUSS[1]))
    return float(np.log(2.0) - 1.0 + 0.5 * (touching + apart))


def polygon_inductance(sides: int, *, side: ArrayLike, wire_radius: ArrayLike) -> FloatArray:
    r"""Inductance of a regular polygon of round wire in the skin-effect limit.

    .. math:: L = \frac{\mu_0}{2 \pi} N s \left[ \ln\frac{s}{a} + c_N \right]

    Parameters
    ----------
    sides : int
        Number of sides N, 3 or more. [1]
    side, wire_radius : array_like of float, shape (...)
        Length s of one side along the wire's axis, > 0, and radius a of the wire, > 0 and at most s/5. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Inductance. [H]

    Raises
    ------
    OutOfRangeError
        If there are fewer than three sides, a length is not finite and positive, or the wire is thicker than s/5.

    Notes
    -----
    The corners are those of a filament: what a real bend adds or takes is of the order of N a (MU_0/2 pi), 0.4 % for
    a square and 0.8 % for an octagon of 3 m in 22 mm tube.

    References
    ----------
    .. [1] F. W. Grover, Formulas and tables for the calculation of the inductance of coils of polygonal form, Sci.
           Papers Bureau of Standards 18, 737-762, 1922 (no. 468).
    """
    s = positive("side", side)
    a = _slender(wire_radius, s, limit=THICKEST_SIDE, what="side")
    return np.asarray(MU_0 / (2.0 * np.pi) * sides * s * (np.log(s / a) + polygon_constant(sides)))


def rectangle_inductance(width: ArrayLike, height: ArrayLike, *, wire_radius: ArrayLike) -> FloatArray:
    r"""Inductance of a rectangle of round wire in the skin-effect limit.

    .. math::

        L = \frac{\mu_0}{\pi} \left[ b \ln\frac{2 b}{a} + h \ln\frac{2 h}{a} + 2 g
            - b \operatorname{arsinh}\frac{b}{h} - h \operatorname{arsinh}\frac{h}{b} - 2 (b + h) \right], \quad
        g = \sqrt{b^2 + h^2}

    Parameters
    ----------
    width, height : array_like of float, shape (...)
        Sides b and h along the wire's axis, > 0. [m]
    wire_radius : array_like of float, shape (...)
        Radius a of the wire, > 0 and at most a fifth of the shorter side. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Inductance. [H]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or the wire is thicker than a fifth of the shorter side.

    Notes
    -----
    The corners are those of a filament, as in `polygon_inductance`.

    References
    ----------
    .. [1] E. B. Rosa, F. W. Grover, Formulas and tables for the calculation of mutual and self-inductance (revised),
           Bull. Bureau of Standards 8, 1-237, 1912 (Sci. Paper 169).
    """
    b, h = positive("width", width), positive("height", height)
    a = _slender(wire_radius, np.minimum(b, h), limit=THICKEST_SIDE, what="shorter side")
    sides = b * np.log(2.0 * b / a) + h * np.log(2.0 * h / a) - 2.0 * (b + h)
    mutual = 2.0 * np.hypot(b, h) - b * np.arcsinh(b / h) - h * np.arcsinh(h / b)
    return np.asarray(MU_0 / np.pi * (sides + mutual))
