# SPDX-License-Identifier: BSD-3-Clause
r"""Flat plates: what the field beyond their edges adds to the area over the gap.

For two thin plates with the gap d, whatever their shape, the capacitance over epsilon_0 is the area over d plus an edge
term that grows as ln(1/d): near the edge the problem is plane and solved [1]_, and further out the gap is a layer of
dipoles, whose field on the plates' outer faces is that of a current round the edge. Joined at a distance d/(2 pi e)
from the edge the two give Kirchhoff's disc [2]_, the strip of [3]_, and, for a rectangle w x h of diagonal D,

.. math::

    E = \frac{1}{\pi} \left[ 2 (D - w - h) + h \left(1 + \ln\frac{4 \pi h}{d} - \operatorname{arsinh}\frac{h}{w}\right)
        + w \left(1 + \ln\frac{4 \pi w}{d} - \operatorname{arsinh}\frac{w}{h}\right) \right].

The next term is known for the disc [4]_; for the rectangle it is taken with the area corners add, 4 in place of pi.
docs/explanation/made-capacitors.md has the derivation.

References
----------
.. [1] J. C. Maxwell, A Treatise on Electricity and Magnetism, 3rd ed., 1891, art. 202.
.. [2] G. Kirchhoff, Zur Theorie des Condensators, Monatsber. Akad. Wiss. Berlin, 1877, 144-162 (as in L. D. Landau,
       E. M. Lifshitz, Electrodynamics of Continuous Media, sec. 3, problem 4; from memory).
.. [3] H. B. Palmer, The capacitance of a parallel-plate capacitor by the Schwarz-Christoffel transformation,
       Trans. AIEE 56, 363-366, 1937 (from memory).
.. [4] F. Leppington, H. Levine, On the capacity of the circular disc condenser at small separation,
       Proc. Camb. Phil. Soc. 68, 235-254, 1970 (from memory).
.. [5] H. A. Wheeler, Transmission-line properties of parallel strips separated by a dielectric sheet, IEEE Trans.
       MTT-13, 172-185, 1965 (from memory).
.. [6] S. B. Cohn, Characteristic impedance of the shielded-strip transmission line, IRE Trans. MTT-2, 52-57, 1954:
       edge of a thin strip between two planes (from memory).
"""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import FloatArray, positive
from ringwright.physics.constants import EPS_0

WIDEST_GAP = 0.5
"""Largest gap over the smaller side for which two plates were checked. [1]"""
_INNER_EDGE = np.log(2.0) / np.pi
"""What one edge of an inner gap of a stack adds to the overlap, over the gap [6]_; twice it where one plate goes on."""


def plate_capacitance(
    width: ArrayLike, length: ArrayLike, *, gap: ArrayLike, plates: int = 2, permittivity: ArrayLike = 1.0
) -> FloatArray:
    r"""Capacitance of equal rectangular plates one over the other, every second one joined.

    .. math::

        \frac{C}{\epsilon_0} = \epsilon_r (n - 1) \frac{w h}{d} + E + 4 d \left[\left(\frac{E}{L}\right)^2
            + \frac{E}{\pi L} - \frac{1}{4 \pi^2}\right] + \ldots, \quad L = 2 (w + h)

    Parameters
    ----------
    width, length : array_like of float, shape (...)
        Sides w, h of the plates, > 0. [m]
    gap : array_like of float, shape (...)
        Distance d of neighbours, > 0, at most half the smaller side. [m]
    plates : int
        Number n of plates, 2 or more.
    permittivity : array_like of float, shape (...)
        Relative, of sheets that fill the gaps and stand out all round, >= 1. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Capacitance. [F]

    Raises
    ------
    OutOfRangeError
        If a size is not finite and positive, the gap is too wide, or there are fewer than two plates.

    Notes
    -----
    Two plates in air: within 0.5 % up to a gap of a fifth of a square's side and 3 % at half of it, against a solution
    for the charges. More plates: within 3 %. A sheet adds its edge by [5]_. The plates are thin; as thick as their gap,
    they have up to 2 % more.

    References
    ----------
    See the head of this module.
    """
    w, h = positive("width", width), positive("length", length)
    d, eps = _filled_gap(gap, permittivity, smaller_side=np.minimum(w, h), plates=plates)
    around = 2.0 * (w + h)
    edge = _rectangle_edge(w, h, gap=d)
    per_length = edge / around
    second = 4.0 * d * (per_length**2 + per_length / np.pi - 0.25 / np.pi**2)
    inner = (plates - 2) * around * _INNER_EDGE * eps
    sheet = around * _sheet_edge(eps)
    return np.asarray(EPS_0 * (eps * (plates - 1) * w * h / d + edge + second + inner + sheet))


def meshed_capacitance(
    width: ArrayLike,
    overlap: ArrayLike,
    *,
    length: ArrayLike,
    gap: ArrayLike,
    plates: int = 2,
    permittivity: ArrayLike = 1.0,
) -> FloatArray:
    r"""Capacitance of two combs of rectangular plates drawn apart, so that each plate's tip ends over its neighbours.

    .. math::

        \frac{C}{\epsilon_0} = (n - 1) \frac{w x}{d} + \frac{x}{\pi} \left(1 + \ln\frac{2 \pi w}{d}\right)
            + \frac{2 w}{\pi} \left(1 + \ln\frac{\pi l}{d}\right) + (n - 2) (2 x + 4 w) \frac{\ln 2}{\pi}

    Parameters
    ----------
    width, overlap : array_like of float, shape (...)
        Width w of the plates across their travel, and how far x they overlap along it, > 0. [m]
    length : array_like of float, shape (...)
        Length l of each plate along its travel. [m]
    gap : array_like of float, shape (...)
        Distance d of neighbours, > 0, at most half of each other size. [m]
    plates : int
        Number n of plates in both combs, 2 or more.
    permittivity : array_like of float, shape (...)
        Relative, of sheets that fill the gaps and stand out all round, >= 1. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Capacitance. [F]

    Raises
    ------
    OutOfRangeError
        If a size is not finite and positive, the gap is too wide, or there are fewer than two plates.

    Notes
    -----
    Against solutions for the charges: the slope over x within 2 %, the value within 5 % at half overlap; with two
    plates at a tenth of it up to 20 % low, since their far parts see each other too, which belongs to the stray
    capacitance of the build.

    References
    ----------
    See the head of this module.
    """
    w, x, reach = positive("width", width), positive("overlap", overlap), positive("length", length)
    d, eps = _filled_gap(gap, permittivity, smaller_side=np.minimum(w, x), plates=plates)
    if np.any(reach < x):
        raise OutOfRangeError(f"overlap {x} m must not exceed the plates' length, {reach} m")
    sides = x / np.pi * (1.0 + np.log(2.0 * np.pi * w / d)) + 2.0 * x * _sheet_edge(eps)
    tips = 2.0 * w / np.pi * (1.0 + np.log(np.pi * reach / d)) + 4.0 * w * _sheet_edge(eps)
    inner = (plates - 2) * (2.0 * x + 4.0 * w) * _INNER_EDGE * eps
    return np.asarray(EPS_0 * (eps * (plates - 1) * w * x / d + sides + tips + inner))


def disc_capacitance(diameter: ArrayLike, *, gap: ArrayLike, permittivity: ArrayLike = 1.0) -> FloatArray:
    r"""Capacitance of two equal discs face to face.

    .. math::

        \frac{C}{\epsilon_0} = \epsilon_r \frac{\pi a^2}{d} + a (\Lambda - 1) + \frac{d}{4 \pi} (\Lambda^2 - 2),
            \quad \Lambda = \ln\frac{16 \pi a}{d}

    Parameters
    ----------
    diameter : array_like of float, shape (...)
        Diameter 2 a, > 0. [m]
    gap : array_like of float, shape (...)
        Distance d of the discs, > 0, at most half the diameter. [m]
    permittivity : array_like of float, shape (...)
        Relative, of a sheet that fills the gap and stands out all round, >= 1. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Capacitance. [F]

    Raises
    ------
    OutOfRangeError
        If a size is not finite and positive or the gap is too wide.

    Notes
    -----
    In air within 0.1 % up to a tenth of the diameter and 3 % at half of it. Discs as thick as their gap have 2 % more.

    References
    ----------
    See the head of this module.
    """
    across = positive("diameter", diameter)
    d, eps = _filled_gap(gap, permittivity, smaller_side=across)
    a = across / 2.0
    log = np.log(16.0 * np.pi * a / d)
    second = d / (4.0 * np.pi) * (log**2 - 2.0)
    sheet = 2.0 * np.pi * a * _sheet_edge(eps)
    return np.asarray(EPS_0 * (eps * np.pi * a**2 / d + a * (log - 1.0) + second + sheet))


def _rectangle_edge(w: FloatArray, h: FloatArray, *, gap: FloatArray) -> FloatArray:
    """E of the module's head [m]."""
    along_h = 1.0 + np.log(4.0 * np.pi * h / gap) - np.arcsinh(h / w)
    along_w = 1.0 + np.log(4.0 * np.pi * w / gap) - np.arcsinh(w / h)
    return np.asarray((2.0 * (np.hypot(w, h) - w - h) + h * along_h + w * along_w) / np.pi)


def _sheet_edge(eps: FloatArray) -> FloatArray:
    """What a sheet that stands out adds to the edge term, for each metre of the edge [1]; none in air [5]_."""
    return np.asarray((eps - 1.0) * (2.0 * _INNER_EDGE + 0.164 / eps) / 2.0)


def _filled_gap(
    gap: ArrayLike, permittivity: ArrayLike, *, smaller_side: FloatArray, plates: int = 2
) -> tuple[FloatArray, FloatArray]:
    d, eps = positive("gap", gap), positive("permittivity", permittivity)
    if np.any(eps < 1.0):
        raise OutOfRangeError(f"permittivity must be 1 or more, got {eps}")
    if plates < 2:
        raise OutOfRangeError(f"plates must be 2 or more, got {plates}")
    if np.any(d > WIDEST_GAP * smaller_side):
        raise OutOfRangeError(
            f"a gap of {d} m must be at most half the plates' smaller side, {smaller_side} m; bring them closer"
        )
    return d, eps
