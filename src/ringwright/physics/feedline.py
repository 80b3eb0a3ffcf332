# SPDX-License-Identifier: BSD-3-Clause
"""A length of coaxial line between transmitter and coupling loop: what it shows at its input and what it burns.

Attenuation is in nepers and the line's characteristic impedance is taken as real; a datasheet's decibels become nepers
at the edge of the program (8.686 dB a neper).
"""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import ComplexArray, FloatArray, finite, not_negative, positive


def attenuation_at(
    frequency: ArrayLike, *, attenuation: ArrayLike, reference_frequency: ArrayLike
) -> FloatArray:
    r"""Matched attenuation of a line at another frequency than its datasheet's.

    .. math:: \alpha(f) = \alpha(f_1) \sqrt{f / f_1}

    Parameters
    ----------
    frequency : array_like of float, shape (...)
        Frequency, > 0. [Hz]
    attenuation : array_like of float, shape (...)
        Attenuation at the reference frequency, >= 0, of a length or for each metre; the result is the same. [Np]
    reference_frequency : array_like of float, shape (...)
        Frequency f_1 of the datasheet, > 0. [Hz]

    Returns
    -------
    ndarray of float64, shape (...)
        Attenuation. [Np]

    Raises
    ------
    OutOfRangeError
        If an input is not finite or of the wrong sign.

    Notes
    -----
    Conductor loss only, which rules below 100 MHz in a solid dielectric: within 10 % over a factor of ten.

    References
    ----------
    .. [1] D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012, sec. 2.7 (skin effect in the line's conductors).
    """
    ratio = positive("frequency", frequency) / positive("reference_frequency", reference_frequency)
    return np.asarray(not_negative("attenuation", attenuation) * np.sqrt(ratio))


def reflection_through_line(
    reflection: ArrayLike, *, attenuation: ArrayLike, electrical_length: ArrayLike
) -> ComplexArray:
    r"""Reflection coefficient at the input of a line, from that of the load at its end.

    .. math:: \Gamma_{in} = \Gamma_L e^{-2 (\alpha l + j \beta l)}

    Parameters
    ----------
    reflection : array_like of complex, shape (...)
        Reflection coefficient of the load, to the line's characteristic impedance. [1]
    attenuation : array_like of float, shape (...)
        Matched attenuation of the whole length, >= 0. [Np]
    electrical_length : array_like of float, shape (...)
        beta l of the whole length: 2 pi f l/(c times velocity factor). [rad]

    Returns
    -------
    ndarray of complex128, shape (...)
        Reflection coefficient at the input. [1]

    Raises
    ------
    OutOfRangeError
        If a length is not finite or the attenuation is negative.

    Notes
    -----
    Exact for a uniform line with a real characteristic impedance. A lossy line hides a bad match: the SWR at its
    input is lower than at the loop.

    References
    ----------
    .. [1] D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012, sec. 2.7.
    """
    twice = 2.0 * (
        not_negative("attenuation", attenuation) + 1j * finite("electrical_length", electrical_length)
    )
    return np.asarray(np.asarray(reflection) * np.exp(-twice), dtype=np.complex128)


def line_input_impedance(
    load: ArrayLike, *, characteristic: ArrayLike, attenuation: ArrayLike, electrical_length: ArrayLike
) -> ComplexArray:
    r"""Impedance at the input of a line that ends in a load.

    .. math:: Z_{in} = Z_c \frac{Z_L + Z_c \tanh\gamma l}{Z_c + Z_L \tanh\gamma l}, \quad \gamma = \alpha + j\beta

    Parameters
    ----------
    load : array_like of complex, shape (...)
        Load. [ohm]
    characteristic : array_like of float, shape (...)
        Characteristic impedance, real, > 0. [ohm]
    attenuation : array_like of float, shape (...)
        Matched attenuation of the whole length, >= 0. [Np]
    electrical_length : array_like of float, shape (...)
        beta l of the whole length. [rad]

    Returns
    -------
    ndarray of complex128, shape (...)
        Input impedance. [ohm]

    Raises
    ------
    OutOfRangeError
        If a length is not finite, the attenuation is negative, or the characteristic impedance is not positive.

    Notes
    -----
    Exact for a uniform line with a real characteristic impedance.

    References
    ----------
    .. [1] D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012, sec. 2.7.
    """
    zc, zl = positive("characteristic", characteristic), np.asarray(load, dtype=np.complex128)
    gamma = not_negative("attenuation", attenuation) + 1j * finite("electrical_length", electrical_length)
    t = np.tanh(gamma)
    return np.asarray(zc * (zl + zc * t) / (zc + zl * t))


def line_loss(reflection: ArrayLike, *, attenuation: ArrayLike) -> FloatArray:
    r"""Power into a line over the power that its load takes, with the loss that the standing wave adds.

    .. math:: \frac{P_{in}}{P_L} = \frac{A^2 - |\Gamma_L|^2}{A (1 - |\Gamma_L|^2)}, \quad A = e^{2 \alpha l}

    Parameters
    ----------
    reflection : array_like of complex, shape (...)
        Reflection coefficient of the load, below 1 in size. [1]
    attenuation : array_like of float, shape (...)
        Matched attenuation of the whole length, >= 0. [Np]

    Returns
    -------
    ndarray of float64, shape (...)
        Power ratio, 1 or more. [1]

    Raises
    ------
    OutOfRangeError
        If the load reflects everything or more, or the attenuation is negative.

    Notes
    -----
    Exact for a real characteristic impedance. A line whose loss is all in its conductors has a slightly complex one;
    a piece shorter than a quarter wave, badly mismatched, then loses more or less, as the current in it is large or
    small.

    References
    ----------
    .. [1] Follows from the power of the two waves, D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012, sec. 2.7.
    """
    size2 = np.abs(np.asarray(reflection)) ** 2
    if not np.all(size2 < 1.0):
        raise OutOfRangeError(
            f"the load must take some power: |reflection| below 1, got {np.sqrt(np.max(size2)):.6g}"
        )
    a = np.exp(2.0 * not_negative("attenuation", attenuation))
    return np.asarray((a**2 - size2) / (a * (1.0 - size2)))
