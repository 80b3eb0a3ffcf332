# SPDX-License-Identifier: BSD-3-Clause
"""Short straight conductors side by side: the leads between a ring's ends and its capacitor."""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import FloatArray, positive
from ringwright.physics.constants import MU_0

WIDEST_STRAP = 1.5
"""Largest width of a strap over the distance of the pair: beyond, the two are plates and not leads. [1]"""


def filament_pair_inductance(length: ArrayLike, distance: ArrayLike) -> FloatArray:
    r"""Mutual inductance of two equal, parallel straight filaments that stand opposite each other.

    .. math:: M = \frac{\mu_0 l}{2 \pi} \left[ \operatorname{asinh}\frac{l}{d} - \sqrt{1 + \frac{d^2}{l^2}}
        + \frac{d}{l} \right]

    Parameters
    ----------
    length, distance : array_like of float, shape (...)
        Length l of each and distance d between them, > 0. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Mutual inductance. [H]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive.

    Notes
    -----
    Exact for filaments. With the geometric mean distance of a cross-section from itself in place of d it is the
    self-inductance of one conductor: the radius of a round wire with its current on the surface, a quarter of a thin
    strap's width in the skin-effect limit, 0.2231 of it with the current spread evenly.

    References
    ----------
    .. [1] E. B. Rosa, The self and mutual inductances of linear conductors, Bull. Bureau of Standards 4, 301-344, 1908.
    """
    along = positive("length", length)
    x = along / positive("distance", distance)
    return np.asarray(MU_0 * along / (2.0 * np.pi) * (np.arcsinh(x) - np.hypot(1.0, 1.0 / x) + 1.0 / x))


def strap_pair_inductance(length: ArrayLike, *, width: ArrayLike, distance: ArrayLike) -> FloatArray:
    r"""Inductance of a pair of flat straps, the current going out in one and back in the other.

    .. math:: L = 2 \, [M(l, w/4) - M(l, d)]

    Parameters
    ----------
    length : array_like of float, shape (...)
        Length l of each strap, > 0. [m]
    width : array_like of float, shape (...)
        Width w of each, > 0 and at most 1.5 d. [m]
    distance : array_like of float, shape (...)
        Distance d of their middles, > 0. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Inductance of both. [H]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or the straps are wider than 1.5 times their distance.

    Notes
    -----
    M is `filament_pair_inductance`, each strap in the skin-effect limit. Two long straps face to face have 8 % more at
    w = d and 19 % more at w = 1.5 d, as the line of two strips has (H. A. Wheeler, 1965): the closer, the more the
    current leaves their edges.

    References
    ----------
    .. [1] E. B. Rosa, The self and mutual inductances of linear conductors, Bull. Bureau of Standards 4, 301-344, 1908.
    """
    w, d = positive("width", width), positive("distance", distance)
    if np.any(w > WIDEST_STRAP * d):
        raise OutOfRangeError(f"width {w} m must be at most {WIDEST_STRAP} times the distance, {d} m")
    return np.asarray(2.0 * (filament_pair_inductance(length, w / 4.0) - filament_pair_inductance(length, d)))
