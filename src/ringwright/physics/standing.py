# SPDX-License-Identifier: BSD-3-Clause
"""Whether what stands on feet stays up."""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import FloatArray, not_negative, positive

GRAVITY = 9.80665
"""Standard acceleration of free fall, 3rd General Conference on Weights and Measures, 1901. [m/s^2]"""


def tipping_arm(radius: ArrayLike, *, feet: int) -> FloatArray:
    r"""How far the middle of a stand is from the line about which it tips most easily.

    .. math:: r_t = r \cos(\pi / n)

    Parameters
    ----------
    radius : array_like of float, shape (...)
        Of the circle r on which the feet stand evenly, > 0. [m]
    feet : int
        Their number n, at least 3.

    Returns
    -------
    ndarray of float64, shape (...)
        Distance from the centre to the line through two neighbouring feet. [m]

    Raises
    ------
    OutOfRangeError
        If the radius is not finite and positive, or there are fewer than three feet.

    Notes
    -----
    Half of r for three feet, 0.707 r for four. Level, hard ground.

    References
    ----------
    .. [1] Plane geometry: apothem of the regular polygon.
    """
    if feet < 3:
        raise OutOfRangeError(f"feet must be at least 3, got {feet}; on fewer nothing stands by itself")
    return np.asarray(positive("radius", radius) * np.cos(np.pi / feet))


def ballast_needed(
    overturning: ArrayLike,
    *,
    arm: ArrayLike,
    mass: ArrayLike,
    wind_factor: float = 1.5,
    weight_factor: float = 0.9,
) -> FloatArray:
    r"""Mass to be added low down at the middle so that a moment does not tip a stand.

    .. math:: m_b = \frac{\gamma_w M}{\gamma_g g\, r_t} - m

    Parameters
    ----------
    overturning : array_like of float, shape (...)
        Moment M of the wind about the ground, >= 0. [N m]
    arm : array_like of float, shape (...)
        Distance r_t of the weight from the tipping line, > 0, as from `tipping_arm`. [m]
    mass : array_like of float, shape (...)
        Mass m of all that stands there, >= 0. [kg]
    wind_factor : float
        By which the wind's moment counts more, > 0. [1]
    weight_factor : float
        By which the weight counts less, > 0. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Mass to add, 0 where none is needed. [kg]

    Raises
    ------
    OutOfRangeError
        If an input is not finite, or on the wrong side of zero.

    Notes
    -----
    Static. Gusts that rock a stand in its own rhythm, soft ground and a slope are not in it; nor is sliding.

    References
    ----------
    .. [1] EN 1990:2002, Basis of structural design, table A1.2(A), loss of static equilibrium: variable actions 1.5,
           favourable weight 0.9 (from memory).
    """
    M, r_t, m = not_negative("overturning", overturning), positive("arm", arm), not_negative("mass", mass)
    wind, weight = positive("wind_factor", wind_factor), positive("weight_factor", weight_factor)
    return np.asarray(np.maximum(wind * M / (weight * GRAVITY * r_t) - m, 0.0))
