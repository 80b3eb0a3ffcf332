# SPDX-License-Identifier: BSD-3-Clause
"""How fast a body warms that is heated evenly."""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.physics.checks import FloatArray, not_negative, positive


def warming_time(
    rise: ArrayLike, *, power: ArrayLike, heat_capacity: ArrayLike, final_rise: ArrayLike
) -> FloatArray:
    r"""Time until a body has warmed by a given amount.

    .. math:: t = -\tau \ln\left(1 - \frac{\Delta T}{\Delta T_\infty}\right), \quad \tau = C \Delta T_\infty / P

    Parameters
    ----------
    rise : array_like of float, shape (...)
        Warming Delta T that is waited for, >= 0. [K]
    power : array_like of float, shape (...)
        Heat P that goes into it, > 0. [W]
    heat_capacity : array_like of float, shape (...)
        Of the body, C, > 0. [J/K]
    final_rise : array_like of float, shape (...)
        Warming Delta T_inf at which it gives off as much as it gets, > 0. [K]

    Returns
    -------
    ndarray of float64, shape (...)
        Time, infinite where the body never gets that warm. [s]

    Raises
    ------
    OutOfRangeError
        If an input is not finite, or on the wrong side of zero.

    Notes
    -----
    The body gives off heat in proportion to its warming. In still air it gives off relatively less while it is little
    warm, so that the true time lies between C Delta T/P, without any loss, and this.

    References
    ----------
    .. [1] J. P. Holman, Heat Transfer, 10th ed., McGraw-Hill, 2010, sec. 4-2, lumped heat capacity (from memory).
    """
    dT, P = not_negative("rise", rise), positive("power", power)
    C, most = positive("heat_capacity", heat_capacity), positive("final_rise", final_rise)
    share = np.minimum(dT / most, 1.0)
    with np.errstate(divide="ignore"):
        return np.asarray(-C * most / P * np.log1p(-share))
