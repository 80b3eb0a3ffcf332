# SPDX-License-Identifier: BSD-3-Clause
"""How warm a body gets in still air."""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.physics.checks import FloatArray, not_negative, positive

_COEFFICIENT = 1.32  # W/(m^2 K) (m/K)^(1/4)


def cylinder_temperature_rise(power: ArrayLike, *, diameter: ArrayLike, length: ArrayLike) -> FloatArray:
    r"""Rise above still air of a cylinder that loses its heat by free convection alone.

    .. math:: P = h A \, \Delta T, \quad h = 1.32 \left( \Delta T / D \right)^{1/4} \text{W/(m}^2\text{K)}, \quad
        A = \pi D L + \pi D^2 / 2

    Parameters
    ----------
    power : array_like of float, shape (...)
        Heat P that leaves the surface, >= 0. [W]
    diameter, length : array_like of float, shape (...)
        Of the cylinder, > 0; both ends count to the surface A. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Temperature rise, in the steady state. [K]

    Raises
    ------
    OutOfRangeError
        If power is negative, a size is not positive, or one of them not finite.

    Notes
    -----
    Simplified expression for a lying cylinder in air, laminar: D^3 times the rise from 1e-4 to 10 m^3 K, for 60 mm and
    1 to 1000 K. Radiation is left out: bright metal adds a twentieth, a painted body as much again. Air that is shut
    into a box is warmer than the air outside.

    References
    ----------
    .. [1] J. P. Holman, Heat Transfer, 10th ed., McGraw-Hill, 2010, table 7-2 (from memory).
    """
    P, D, L = not_negative("power", power), positive("diameter", diameter), positive("length", length)
    area = np.pi * D * (L + D / 2.0)
    return np.asarray((P * D**0.25 / (_COEFFICIENT * area)) ** 0.8)
