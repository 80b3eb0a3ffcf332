# SPDX-License-Identifier: BSD-3-Clause
"""What a conductor costs at radio frequency: internal impedance per length of wire and tube.

The internal impedance is the axial electric field at the conductor's outer surface over its current [ohm/m], for a
current spread evenly round the conductor. What bends that even spread (a tight ring, a near turn) comes on top: near
turns are in `ringwright.physics.proximity`.
The flat strip, whose current is never even, is in `ringwright.physics.strip`. A braid has no theory: it is a solid wire
times a measured factor, which the design states.
"""

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import ive, kve

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import ComplexArray, FloatArray, finite, positive
from ringwright.physics.constants import MU_0

REFERENCE_TEMPERATURE_C = 20.0
"""Temperature to which tables of conductivity refer. [deg C]"""


def skin_depth(frequency: ArrayLike, conductivity: ArrayLike, *, mu_r: ArrayLike = 1.0) -> FloatArray:
    r"""Depth at which the current density in a good conductor has fallen to 1/e.

    .. math:: \delta = 1 / \sqrt{\pi f \mu_0 \mu_r \sigma}

    Parameters
    ----------
    frequency, conductivity : array_like of float, shape (...)
        Frequency, > 0. [Hz]  Conductivity, > 0. [S/m]  Broadcast together.
    mu_r : array_like of float, shape (...)
        Relative permeability, > 0; 1 for every metal but iron and its like. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Skin depth. [m]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive.

    Notes
    -----
    Valid where conduction current dominates: sigma >> 2 pi f epsilon, any metal at any radio frequency.

    References
    ----------
    .. [1] D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012, sec. 1.4.
    """
    f, sigma, mu = (
        positive("frequency", frequency),
        positive("conductivity", conductivity),
        positive("mu_r", mu_r),
    )
    return np.asarray(1.0 / np.sqrt(np.pi * f * MU_0 * mu * sigma))


def surface_resistance(frequency: ArrayLike, conductivity: ArrayLike, *, mu_r: ArrayLike = 1.0) -> FloatArray:
    r"""Resistance of a square of thick, flat conductor.

    .. math:: R_s = 1 / (\sigma \delta)

    Parameters
    ----------
    frequency, conductivity : array_like of float, shape (...)
        Frequency, > 0. [Hz]  Conductivity, > 0. [S/m]  Broadcast together.
    mu_r : array_like of float, shape (...)
        Relative permeability, > 0. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Surface resistance. [ohm]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive.

    Notes
    -----
    Valid where the conductor is thick and its radius of curvature large, both against the skin depth.

    References
    ----------
    .. [1] D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012, sec. 1.7.
    """
    return np.asarray(
        1.0 / (positive("conductivity", conductivity) * skin_depth(frequency, conductivity, mu_r=mu_r))
    )


def conductivity_at(
    temperature_c: ArrayLike, *, conductivity: ArrayLike, temperature_coefficient: ArrayLike
) -> FloatArray:
    r"""Conductivity of a metal at a temperature, from its value at 20 degrees C.

    .. math:: \sigma(T) = \sigma_{20} / (1 + \alpha_{20} (T - 20))

    Parameters
    ----------
    temperature_c : array_like of float, shape (...)
        Temperature of the conductor. [deg C]
    conductivity : array_like of float, shape (...)
        Conductivity at 20 degrees C, > 0. [S/m]
    temperature_coefficient : array_like of float, shape (...)
        Coefficient of resistivity at 20 degrees C; 0.00393 for annealed copper [1]_. [1/K]

    Returns
    -------
    ndarray of float64, shape (...)
        Conductivity at the temperature. [S/m]

    Raises
    ------
    OutOfRangeError
        If an input is not finite, or the straight line has left physics: resistivity zero or below.

    Notes
    -----
    The straight line is meant for -40 to 150 degrees C, where a ring lives. Skin-effect resistance follows the
    square root of resistivity, so it rises half as fast with temperature as the direct-current one.

    References
    ----------
    .. [1] IEC 60028:1925, International standard of resistance for copper.
    """
    sigma, t = positive("conductivity", conductivity), finite("temperature_c", temperature_c)
    relative = 1.0 + finite("temperature_coefficient", temperature_coefficient) * (
        t - REFERENCE_TEMPERATURE_C
    )
    if np.any(relative <= 0.0):
        raise OutOfRangeError(
            f"temperature {t} deg C is outside the straight-line law of resistivity, use -40 to 150 deg C"
        )
    return np.asarray(sigma / relative)


def solid_wire_impedance(
    frequency: ArrayLike, *, radius: ArrayLike, conductivity: ArrayLike, mu_r: ArrayLike = 1.0
) -> ComplexArray:
    r"""Internal impedance per length of a solid round wire, at any ratio of radius to skin depth.

    .. math:: Z = \frac{\gamma}{2 \pi a \sigma} \frac{I_0(\gamma a)}{I_1(\gamma a)}, \quad \gamma = (1 + j)/\delta

    Parameters
    ----------
    frequency : array_like of float, shape (...)
        Frequency, > 0. [Hz]
    radius : array_like of float, shape (...)
        Radius of the wire, > 0. [m]
    conductivity : array_like of float, shape (...)
        Conductivity, > 0. [S/m]
    mu_r : array_like of float, shape (...)
        Relative permeability, > 0. [1]

    Returns
    -------
    ndarray of complex128, shape (...)
        Internal impedance; its imaginary part is the internal reactance. [ohm/m]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive.

    Notes
    -----
    Exact for a straight wire with its return far away against its radius. Scaled Bessel functions keep the ratio
    finite for thick wire.

    References
    ----------
    .. [1] S. Ramo, J. R. Whinnery, T. Van Duzer, Fields and Waves in Communication Electronics, 3rd ed., Wiley,
           1994, sec. 4.5.
    """
    a, sigma = positive("radius", radius), positive("conductivity", conductivity)
    gamma = (1.0 + 1.0j) / skin_depth(frequency, sigma, mu_r=mu_r)
    return np.asarray(gamma / (2.0 * np.pi * a * sigma) * ive(0, gamma * a) / ive(1, gamma * a))


def tube_impedance(
    frequency: ArrayLike,
    *,
    radius: ArrayLike,
    wall: ArrayLike,
    conductivity: ArrayLike,
    mu_r: ArrayLike = 1.0,
) -> ComplexArray:
    r"""Internal impedance per length of a round tube, at any ratio of wall to skin depth.

    .. math::

        Z = \frac{\gamma}{2 \pi b \sigma}
            \frac{I_0(\gamma b) K_1(\gamma c) + K_0(\gamma b) I_1(\gamma c)}
                 {I_1(\gamma b) K_1(\gamma c) - K_1(\gamma b) I_1(\gamma c)}, \quad \gamma = (1 + j)/\delta

    Parameters
    ----------
    frequency : array_like of float, shape (...)
        Frequency, > 0. [Hz]
    radius : array_like of float, shape (...)
        Outer radius b, > 0. [m]
    wall : array_like of float, shape (...)
        Wall thickness b - c, > 0 and less than the radius. [m]
    conductivity : array_like of float, shape (...)
        Conductivity, > 0. [S/m]
    mu_r : array_like of float, shape (...)
        Relative permeability, > 0. [1]

    Returns
    -------
    ndarray of complex128, shape (...)
        Internal impedance at the outer surface; its imaginary part is the internal reactance. [ohm/m]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or the wall is not less than the radius.

    Notes
    -----
    Exact for a straight tube with nothing inside and its return outside. A wall of 1.57 skin depths has 8 % less
    resistance than a thick one: the current that a thick wall carries in antiphase is missing.

    References
    ----------
    .. [1] S. A. Schelkunoff, The electromagnetic theory of coaxial transmission lines and cylindrical shields, Bell
           Syst. Tech. J. 13, 532-579, 1934, doi 10.1002/j.1538-7305.1934.tb00679.x.
    """
    b, t, sigma = positive("radius", radius), positive("wall", wall), positive("conductivity", conductivity)
    if np.any(t >= b):
        raise OutOfRangeError(f"wall {t} m must be less than the radius {b} m; a filled tube is a solid wire")
    gamma = (1.0 + 1.0j) / skin_depth(frequency, sigma, mu_r=mu_r)
    outer, inner = gamma * b, gamma * (b - t)
    # Scaled functions leave out exp(Re outer - inner) from every first product; what is left of the second is:
    decay = np.exp(-(gamma + gamma.real) * t)
    numerator = ive(0, outer) * kve(1, inner) + decay * kve(0, outer) * ive(1, inner)
    denominator = ive(1, outer) * kve(1, inner) - decay * kve(1, outer) * ive(1, inner)
    return np.asarray(gamma / (2.0 * np.pi * b * sigma) * numerator / denominator)
