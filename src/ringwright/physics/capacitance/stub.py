# SPDX-License-Identifier: BSD-3-Clause
"""A piece of coaxial cable, open at its end, as a capacitor."""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import ComplexArray, FloatArray, not_negative, positive
from ringwright.physics.constants import C_0


def cable_capacitance(impedance: ArrayLike, *, velocity_factor: ArrayLike) -> FloatArray:
    r"""Capacitance of a cable for each metre, from what its datasheet states.

    .. math:: C' = \frac{1}{Z_0 v}

    Parameters
    ----------
    impedance : array_like of float, shape (...)
        Characteristic impedance Z_0, > 0. [ohm]
    velocity_factor : array_like of float, shape (...)
        Velocity v on the cable over that of light, > 0, at most 1. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Capacitance for each metre. [F/m]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive or the velocity factor is above 1.

    Notes
    -----
    Exact for a line without loss.

    References
    ----------
    .. [1] D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012, sec. 2.1.
    """
    return np.asarray(1.0 / (positive("impedance", impedance) * _velocity(velocity_factor)))


def open_stub_impedance(
    frequency: ArrayLike,
    *,
    length: ArrayLike,
    impedance: ArrayLike,
    velocity_factor: ArrayLike,
    conductor_attenuation: ArrayLike = 0.0,
    loss_tangent: ArrayLike = 0.0,
) -> ComplexArray:
    r"""Impedance at the input of an open piece of cable, its metal's and its insulation's loss told apart.

    .. math::

        Z = \sqrt{\frac{Z'}{Y'}} \coth(\sqrt{Z' Y'} \, l), \quad
        Z' = j \omega \frac{Z_0}{v} + 2 Z_0 \alpha_c, \quad Y' = \frac{\omega (j + \tan\delta)}{Z_0 v}

    Parameters
    ----------
    frequency : array_like of float, shape (...)
        Frequency, > 0. [Hz]
    length : array_like of float, shape (...)
        Length l, > 0, shorter than a quarter wave on the cable. [m]
    impedance : array_like of float, shape (...)
        Characteristic impedance Z_0, > 0. [ohm]
    velocity_factor : array_like of float, shape (...)
        Velocity v on the cable over that of light, > 0, at most 1. [1]
    conductor_attenuation : array_like of float, shape (...)
        Attenuation alpha_c of the matched cable by its metal, at this frequency, >= 0. [Np/m]
    loss_tangent : array_like of float, shape (...)
        Of the insulation, >= 0. [1]

    Returns
    -------
    ndarray of complex128, shape (...)
        Input impedance. [ohm]

    Raises
    ------
    OutOfRangeError
        If an input is not finite or of the wrong sign, or the piece is a quarter wave or longer: no capacitor then.

    Notes
    -----
    A short stub has 1/Q = tan(delta) + (2/3) alpha_c l beta l; its current falls to nothing at the open end, so that
    the metal costs far less than a line of real characteristic impedance, with the same attenuation, would suggest.
    Cables of foil or thin braid lose more at low frequencies than their attenuation at high ones tells.

    References
    ----------
    .. [1] D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012, sec. 2.1 and 2.7.
    """
    omega = 2.0 * np.pi * positive("frequency", frequency)
    x, z0, v = positive("length", length), positive("impedance", impedance), _velocity(velocity_factor)
    if np.any(omega * x / v >= np.pi / 2.0):
        longest = np.min(np.pi / 2.0 * v / omega)
        raise OutOfRangeError(
            f"a stub of {np.max(x):.4g} m is a quarter wave or longer, no capacitor; cut it below {longest:.4g} m"
        )
    series = 1j * omega * z0 / v + 2.0 * z0 * not_negative("conductor_attenuation", conductor_attenuation)
    shunt = omega * (1j + not_negative("loss_tangent", loss_tangent)) / (z0 * v)
    return np.asarray(np.sqrt(series / shunt) / np.tanh(np.sqrt(series * shunt) * x))


def _velocity(factor: ArrayLike) -> FloatArray:
    vf = positive("velocity_factor", factor)
    if np.any(vf > 1.0):
        raise OutOfRangeError(f"velocity_factor must be at most 1, got {vf}")
    return np.asarray(vf * C_0)
