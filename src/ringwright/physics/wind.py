# SPDX-License-Identifier: BSD-3-Clause
"""What wind does to slender things: its pressure, and the force on tubes that stand in it at any angle."""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import FloatArray, finite, not_negative, positive

AIR_DENSITY = 1.25
"""Of moving air for structures, EN 1991-1-4:2005, 4.5 (from memory). [kg/m^3]"""
CYLINDER_DRAG = 1.2
"""Drag coefficient of a long smooth cylinder across the wind, below Reynolds numbers of 2e5. [1]"""
BOX_DRAG = 2.0
"""Of a long flat-sided body, the safe side of a box: a cube has 1.05 to 1.3. [1]"""
AIR_VISCOSITY = 1.5e-5
"""Kinematic viscosity of air near 20 degrees C. [m^2/s]"""


def wind_pressure(speed: ArrayLike, *, density: ArrayLike = AIR_DENSITY) -> FloatArray:
    r"""Pressure of moving air where it is brought to rest.

    .. math:: q = \rho V^2 / 2

    Parameters
    ----------
    speed : array_like of float, shape (...)
        Wind speed V, >= 0. [m/s]
    density : array_like of float, shape (...)
        Density of the air, > 0. [kg/m^3]

    Returns
    -------
    ndarray of float64, shape (...)
        Velocity pressure. [Pa]

    Raises
    ------
    OutOfRangeError
        If an input is not finite, or on the wrong side of zero.

    Notes
    -----
    The default density, 1.25, gives 0.625 V^2; 0.613 V^2, of BS CP3 chapter V and ASCE 7, is that of 1.226 kg/m^3. A
    gust counts with its own speed, which is about 1.5 times a weather report's mean of ten minutes.

    References
    ----------
    .. [1] EN 1991-1-4:2005, Wind actions, sec. 4.5 (from memory).
    """
    V, rho = not_negative("speed", speed), positive("density", density)
    return np.asarray(0.5 * rho * V**2)


def reynolds_number(speed: ArrayLike, *, diameter: ArrayLike) -> FloatArray:
    r"""How turbulent the flow round a cylinder is.

    .. math:: Re = V d / \nu

    Parameters
    ----------
    speed : array_like of float, shape (...)
        Wind speed V, >= 0. [m/s]
    diameter : array_like of float, shape (...)
        Of the cylinder, > 0. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Reynolds number in air near 20 degrees C. [1]

    Raises
    ------
    OutOfRangeError
        If an input is not finite, or on the wrong side of zero.

    Notes
    -----
    Above some 2e5 the drag of a smooth cylinder falls; `CYLINDER_DRAG` then errs to the safe side.

    References
    ----------
    .. [1] S. F. Hoerner, Fluid-Dynamic Drag, 1965, ch. III (from memory).
    """
    return np.asarray(not_negative("speed", speed) * positive("diameter", diameter) / AIR_VISCOSITY)


def slender_drag(
    edges: ArrayLike,
    wind: ArrayLike,
    *,
    width: ArrayLike,
    pressure: ArrayLike,
    drag: ArrayLike = CYLINDER_DRAG,
) -> FloatArray:
    r"""Force of the wind on straight pieces of tube at any angle to it.

    .. math:: \mathbf F = q\, C_d\, w\, L\, |\mathbf u_\perp|\, \mathbf u_\perp

    Parameters
    ----------
    edges : array_like of float, shape (n, 3)
        Each piece from end to end. [m]
    wind : array_like of float, shape (3,)
        Where the wind blows to, of any length but zero. [1]
    width : array_like of float, shape () or (n,)
        Width w of the pieces across the wind, >= 0. [m]
    pressure : array_like of float, shape ()
        Velocity pressure q, >= 0, as from `wind_pressure`. [Pa]
    drag : array_like of float, shape () or (n,)
        Drag coefficient across the wind, > 0. [1]

    Returns
    -------
    ndarray of float64, shape (n, 3)
        Force on each piece. [N]

    Raises
    ------
    OutOfRangeError
        If an input is not finite or on the wrong side of zero, or the wind has no direction.

    Notes
    -----
    Cross-flow principle: only the wind's component across a piece drags on it; friction along it, some hundredth of
    that, is left out, and no piece shelters another. A circle seen edge-on has 4/(3 pi) of the drag that it has
    face-on.

    References
    ----------
    .. [1] S. F. Hoerner, Fluid-Dynamic Drag, 1965, sec. 3-4, cross-flow principle (from memory).
    """
    pieces, u = finite("edges", edges), finite("wind", wind)
    w, q, cd = not_negative("width", width), not_negative("pressure", pressure), positive("drag", drag)
    strength = np.linalg.norm(u)
    if strength == 0.0:
        raise OutOfRangeError("wind must have a direction, got (0, 0, 0)")
    lengths = np.linalg.norm(pieces, axis=1)
    along = pieces / np.where(lengths > 0.0, lengths, 1.0)[:, None]
    across = u / strength - (along @ (u / strength))[:, None] * along
    amount = q * cd * w * lengths * np.linalg.norm(across, axis=1)
    return np.asarray(amount[:, None] * across)
