# SPDX-License-Identifier: BSD-3-Clause
r"""Flat strip: the round wire it equals from outside, and what its edges cost.

Both come from one conformal map, that of the outside of a disc of radius C onto the outside of a w x t rectangle,
which puts the current of a perfect conductor evenly round the disc [1]_. With m the parameter of the complete elliptic
integrals, m' = 1 - m,

.. math:: w = 4 C [E(m') - m K(m')], \quad t = 4 C [E(m) - m' K(m)].

C is the equivalent radius: w/4 for a thin strip, 0.590 w for a square bar. The square of the current density summed
round the rectangle gives the loss, with K(m) from the two narrow sides and K(m') from the two faces:

.. math:: R = R_s \frac{K(m) + K(m')}{2 \pi^2 C} \to \frac{R_s}{\pi^2 w} \ln\frac{w}{t / (4 \pi e^\pi)}, \quad t \ll w,

where t/(4 pi e^pi) = t/290.8 is the distance from the edge at which [2]_ stop the integral over a strip without
thickness. Their limit was found another way.

References
----------
.. [1] E. Weber, Electromagnetic Fields, vol. 1, Wiley, 1950, on the outside of a rectangle.
.. [2] C. L. Holloway, E. F. Kuester, Edge shape effects and quasi-closed form expressions for the conductor loss of
       microstrip lines, Radio Science 29, 539-559, 1994, doi 10.1029/93RS03305.
"""

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import ellipe, ellipk

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import ComplexArray, positive
from ringwright.physics.conductors import skin_depth

THINNEST = 1e-6
"""Smallest ratio of thickness to width: a micrometre on a metre."""
NARROWEST = 100.0
"""Least width in skin depths for which the loss formula was checked. [1]"""


def _side(m: float) -> float:
    """Side of the rectangle that grows with `m`, over 4 C."""
    return float(ellipe(m) - (1.0 - m) * ellipk(m))


def _map(width: float, thickness: float) -> tuple[float, float]:
    """Parameter m of the map and the equivalent radius C [m]."""
    # Met only here: it would cost 130 ms at every start, for the few rings of strip.
    from scipy.optimize import brentq

    w, t = float(positive("width", width)), float(positive("thickness", thickness))
    if not THINNEST * w <= t <= w:
        raise OutOfRangeError(f"thickness {t} m must be between width/1e6 and the width, {w} m")
    m = (
        0.5
        if t == w
        else brentq(lambda x: _side(x) * w - _side(1.0 - x) * t, 1e-9, 0.5, xtol=1e-18, rtol=1e-12)
    )
    return m, w / (4.0 * _side(1.0 - m))


def strip_equivalent_radius(width: float, thickness: float) -> float:
    r"""Radius of the round wire with the same field outside as a straight strip.

    .. math:: C = w / (4 [E(m') - m K(m')])

    Parameters
    ----------
    width, thickness : float
        Width, > 0, and thickness, > 0 and not more than the width. [m]

    Returns
    -------
    float
        Equivalent radius; width/4 for a thin strip. [m]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or the thickness is not between width/1e6 and the width.

    Notes
    -----
    Exact for a straight strip in the skin-effect limit. The inductance of a ring that follows is within 0.2 % for a
    width up to a twentieth of the ring's diameter, 0.6 % up to a tenth, whichever way the strip faces.

    References
    ----------
    .. [1] E. Weber, Electromagnetic Fields, vol. 1, Wiley, 1950, on the outside of a rectangle.
    """
    return _map(width, thickness)[1]


def strip_impedance(
    frequency: ArrayLike, *, width: float, thickness: float, conductivity: ArrayLike, mu_r: ArrayLike = 1.0
) -> ComplexArray:
    r"""Internal impedance per length of a straight flat strip, with the crowding of current at its edges.

    .. math::

        Z = \frac{(1 + j) R_s}{2 \pi^2 C} \left[ K(m) + K(m') \coth\frac{(1 + j) t}{2 \delta} \right]

    Parameters
    ----------
    frequency : array_like of float, shape (...)
        Frequency, > 0. [Hz]
    width, thickness : float
        Width and thickness of the strip. [m]
    conductivity : array_like of float, shape (...)
        Conductivity, > 0. [S/m]
    mu_r : array_like of float, shape (...)
        Relative permeability, > 0. [1]

    Returns
    -------
    ndarray of complex128, shape (...)
        Internal impedance, to be added to the reactance of the perfect strip. [ohm/m]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, the thickness is less than one skin depth or more than the width, or
        the width is less than 100 skin depths.

    Notes
    -----
    The map of the module's head with the two faces coupled through the metal (coth). Against a two-dimensional
    solution of the diffusion of current, the resistance is within 3 % (mostly high) from 1.5 skin depths of thickness
    on and 7 % high at one; the reactance within 4 % from two on and 20 % low at one. The corners are sharp; a strip
    bent into a ring crowds its current further to the inside.

    References
    ----------
    .. [1] C. L. Holloway, E. F. Kuester, Edge shape effects and quasi-closed form expressions for the conductor loss
           of microstrip lines, Radio Science 29, 539-559, 1994, doi 10.1029/93RS03305.
    """
    sigma = positive("conductivity", conductivity)
    delta = skin_depth(frequency, sigma, mu_r=mu_r)
    m, radius = _map(width, thickness)
    if np.any(thickness < delta):
        raise OutOfRangeError(
            f"thickness {thickness} m must be at least one skin depth, {np.max(delta):.3g} m"
        )
    if np.any(width < NARROWEST * delta):
        raise OutOfRangeError(
            f"width {width} m must be at least 100 skin depths, {100.0 * np.max(delta):.3g} m"
        )
    faces = ellipk(1.0 - m) / np.tanh((1.0 + 1.0j) * thickness / (2.0 * delta))
    return np.asarray((1.0 + 1.0j) / (sigma * delta) * (ellipk(m) + faces) / (2.0 * np.pi**2 * radius))
