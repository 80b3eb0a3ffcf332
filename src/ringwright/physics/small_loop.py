# SPDX-License-Identifier: BSD-3-Clause
"""The small loop in closed form: a cross-check with a printed limit, beside the full-wave answer.

The current of a real ring with a capacitor in its gap is largest opposite the gap. Referred to the gap, its radiation
resistance and reactance therefore rise faster with frequency than a uniform current's, and every form below that
assumes one reads low, soon and in one direction. The limits here are circumferences in wavelengths, for an error of
about 3 % referred to the gap in a ring of usual thickness; the Fourier series of the ring in the tests backs them.
"""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import jv, spherical_jn

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import FloatArray, positive
from ringwright.physics.constants import C_0, ETA_0

SMALL_LOOP_LIMIT: Final = 0.05
"""Circumference up to which a uniform current gives the gap-referred radiation resistance to 3 %. [wavelengths]"""
LUMPED_LIMIT: Final = 0.08
"""Circumference up to which inductance alone gives the tuning capacitance to 3 %. [wavelengths]"""
LINE_LIMIT: Final = 0.15
"""Circumference up to which `line_reactance` is within 3 %. [wavelengths]"""
GAP_FIT_LIMIT: Final = 0.2
"""Circumference up to which `gap_radiation_resistance` was fitted. [wavelengths]"""
Q_BOUND_LIMIT: Final = 1.0
"""Size k r up to which the magnetic energy of a loop's mode is the larger one, so that the bounds hold. [1]"""

_BESSEL_TERMS = 40
"""Terms of a sum that falls off like a Bessel function above its argument."""


def _electrical_size(frequency: ArrayLike, circumference: ArrayLike) -> FloatArray:
    return np.asarray(positive("circumference", circumference) * positive("frequency", frequency) / C_0)


def small_loop_radiation_resistance(
    frequency: ArrayLike, *, area: ArrayLike, turns: ArrayLike = 1
) -> FloatArray:
    r"""Radiation resistance of a loop with a uniform current, small against the wavelength.

    .. math:: R_r = \frac{\eta_0}{6 \pi} k^4 (N A)^2

    Parameters
    ----------
    frequency : array_like of float, shape (...)
        Frequency, > 0. [Hz]
    area : array_like of float, shape (...)
        Area A of one turn, of any shape, > 0. [m^2]
    turns : array_like of float, shape (...)
        Number of turns N, > 0. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Radiation resistance. [ohm]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive.

    Notes
    -----
    The form of 20 pi^2 (C/lambda)^4 that holds for any shape. Referred to the gap of a real ring it is 3 % low at
    `SMALL_LOOP_LIMIT`, 6 % at 0.07 and 21 % at 0.14 wavelengths of circumference.

    References
    ----------
    .. [1] C. A. Balanis, Antenna Theory: Analysis and Design, 4th ed., Wiley, 2016, sec. 5.2.
    """
    k = 2.0 * np.pi * positive("frequency", frequency) / C_0
    return np.asarray(ETA_0 / (6.0 * np.pi) * k**4 * (positive("turns", turns) * positive("area", area)) ** 2)


def uniform_loop_radiation_resistance(frequency: ArrayLike, *, circumference: ArrayLike) -> FloatArray:
    r"""Radiation resistance of a circular loop of any size with a uniform current.

    .. math:: R_r = \frac{\pi \eta_0}{2} \frac{C}{\lambda} \int_0^{2 C/\lambda} J_2(y)\,dy

    Parameters
    ----------
    frequency : array_like of float, shape (...)
        Frequency, > 0. [Hz]
    circumference : array_like of float, shape (...)
        Circumference C, > 0, up to 10 wavelengths. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Radiation resistance. [ohm]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or the circumference is above 10 wavelengths.

    Notes
    -----
    Exact for the imposed uniform current, which no ring with one gap carries: good to 3 % up to `SMALL_LOOP_LIMIT`.

    References
    ----------
    .. [1] D. Foster, Loop antennas with uniform current, Proc. IRE 32, 603-607, 1944, doi
           10.1109/JRPROC.1944.229893.
    .. [2] C. A. Balanis, Antenna Theory: Analysis and Design, 4th ed., Wiley, 2016, sec. 5.3.
    """
    size = _electrical_size(frequency, circumference)
    return np.asarray(np.pi * ETA_0 / 2.0 * size * _integral_j2(size))


def uniform_loop_directivity(frequency: ArrayLike, *, circumference: ArrayLike) -> FloatArray:
    r"""Directivity in its own plane of a circular loop with a uniform current.

    .. math:: D = \frac{2 (C/\lambda) J_1^2(C/\lambda)}{\int_0^{2 C/\lambda} J_2(y)\,dy}

    Parameters
    ----------
    frequency : array_like of float, shape (...)
        Frequency, > 0. [Hz]
    circumference : array_like of float, shape (...)
        Circumference C, > 0, up to 10 wavelengths. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Power ratio over an isotropic radiator; 1.5 for a small loop. [1]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or the circumference is above 10 wavelengths.

    Notes
    -----
    Exact for the imposed uniform current. Above a circumference of 1.84 wavelengths the largest is elsewhere.

    References
    ----------
    .. [1] C. A. Balanis, Antenna Theory: Analysis and Design, 4th ed., Wiley, 2016, sec. 5.3.
    """
    size = _electrical_size(frequency, circumference)
    return np.asarray(2.0 * size * jv(1, size) ** 2 / _integral_j2(size))


def _integral_j2(size: FloatArray) -> FloatArray:
    """Integral of J_2 from 0 to 2 `size`: 2 (J_3 + J_5 + ...) at its end, a sum without cancellation."""
    if np.any(size > 10.0):
        raise OutOfRangeError(f"circumference must be at most 10 wavelengths, got {size}")
    orders = 3.0 + 2.0 * np.arange(_BESSEL_TERMS)
    return np.asarray(2.0 * np.sum(jv(orders, 2.0 * size[..., None]), axis=-1))


def gap_radiation_resistance(frequency: ArrayLike, *, circumference: ArrayLike) -> FloatArray:
    r"""Radiation resistance of a circular ring with its true current, referred to the gap: a fit.

    .. math:: R_r = 1.793\,\tan^{3.928}(\pi C/\lambda)

    Parameters
    ----------
    frequency : array_like of float, shape (...)
        Frequency, > 0. [Hz]
    circumference : array_like of float, shape (...)
        Circumference C, > 0, up to 0.2 wavelengths. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Radiation resistance. [ohm]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or the circumference is above 0.2 wavelengths.

    Notes
    -----
    Knows no wire thickness: within 5 % of the Fourier series from 0.05 to 0.2 wavelengths for wire of 1/250 to 1/24 of
    the ring's radius; below it leaves the fourth power, 14 % high at 0.01.

    References
    ----------
    .. [1] K. H. Awadalla, A. A. Sharshar, A simple method to determine the impedance of a loop antenna, IEEE Trans.
           Antennas Propag. 32, 1248-1251, 1984, doi 10.1109/TAP.1984.1143239 (constants from memory).
    """
    size = _electrical_size(frequency, circumference)
    if np.any(size > GAP_FIT_LIMIT):
        raise OutOfRangeError(f"circumference must be at most {GAP_FIT_LIMIT} wavelengths, got {size}")
    return np.asarray(1.793 * np.tan(np.pi * size) ** 3.928)


def tuning_capacitance(frequency: ArrayLike, reactance: ArrayLike) -> FloatArray:
    r"""Capacitance that resonates an inductive reactance.

    .. math:: C = 1 / (2 \pi f X)

    Parameters
    ----------
    frequency, reactance : array_like of float, shape (...)
        Frequency, > 0. [Hz]  Reactance of the ring at its gap, > 0. [ohm]

    Returns
    -------
    ndarray of float64, shape (...)
        Capacitance across the gap. [F]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive.

    Notes
    -----
    Exact; what it is worth is what the reactance is worth. With 2 pi f L it is 3 % too large at `LUMPED_LIMIT`.

    References
    ----------
    .. [1] The definition of resonance.
    """
    return np.asarray(
        1.0 / (2.0 * np.pi * positive("frequency", frequency) * positive("reactance", reactance))
    )


def line_reactance(frequency: ArrayLike, *, inductance: ArrayLike, circumference: ArrayLike) -> FloatArray:
    r"""Reactance of a ring at its gap, taken as a shorted line folded open.

    .. math:: X = Z_0 \tan\frac{\pi C}{\lambda}, \quad Z_0 = \frac{2 c L}{C}

    Parameters
    ----------
    frequency : array_like of float, shape (...)
        Frequency, > 0. [Hz]
    inductance : array_like of float, shape (...)
        Inductance L of the ring at low frequency, > 0. [H]
    circumference : array_like of float, shape (...)
        Length C of the conductor, > 0, less than half a wavelength. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Reactance, positive. [ohm]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or the conductor is half a wavelength long or more.

    Notes
    -----
    Knows that the current falls towards the gap, not that the line's spacing varies: 0.4 % low at 0.07, 1.6 % at
    0.14, 4 % at 0.21 wavelengths of circumference.

    References
    ----------
    .. [1] K. H. Awadalla, A. A. Sharshar, A simple method to determine the impedance of a loop antenna, IEEE Trans.
           Antennas Propag. 32, 1248-1251, 1984, doi 10.1109/TAP.1984.1143239.
    """
    size = _electrical_size(frequency, circumference)
    if np.any(size >= 0.5):
        raise OutOfRangeError(f"circumference must be less than half a wavelength, got {size} wavelengths")
    z0 = 2.0 * C_0 * positive("inductance", inductance) / positive("circumference", circumference)
    return np.asarray(z0 * np.tan(np.pi * size))


def lowest_q(size: ArrayLike) -> FloatArray:
    r"""Least Q of any antenna that excites the lowest magnetic or electric mode outside a sphere.

    .. math:: Q = 1/x^3 + 1/x, \quad x = k r

    Parameters
    ----------
    size : array_like of float, shape (...)
        x = k r with r the radius of the smallest sphere round the antenna, > 0, up to 1. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Lower bound of Q over efficiency. [1]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or above 1.

    Notes
    -----
    Counts no energy inside the sphere. An antenna below it has been computed or measured wrongly.

    References
    ----------
    .. [1] J. S. McLean, A re-examination of the fundamental limits on the radiation Q of electrically small antennas,
           IEEE Trans. Antennas Propag. 44, 672-676, 1996, doi 10.1109/8.496253, eq. (9) (number from memory).
    """
    x = _sphere(size)
    return np.asarray(1.0 / x**3 + 1.0 / x)


def lowest_loop_q(size: ArrayLike) -> FloatArray:
    r"""Least Q of a loop: currents on the sphere, no magnetic material inside.

    .. math::

        Q = \frac{1}{x^3} + \frac{1}{x} + \frac{1 + x^2}{x^4 j_1^2}
            \left[ x j_1 (x j_0 - j_1) + \tfrac12 x^3 (j_1^2 - j_0 j_2) \right], \quad x = k r

    Parameters
    ----------
    size : array_like of float, shape (...)
        x = k r with r the radius of the smallest sphere round the loop, > 0, up to 1. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Lower bound of Q over efficiency; three times `lowest_q` for a small loop. [1]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or above 1.

    Notes
    -----
    Adds the magnetic energy that the same mode stores inside a current sheet on the sphere; the closed form is an own
    derivation from the mode's energy integral and tends to the published factor of 3.

    References
    ----------
    .. [1] H. L. Thal, New radiation Q limits for spherical wire antennas, IEEE Trans. Antennas Propag. 54, 2757-2763,
           2006, doi 10.1109/TAP.2006.882194.
    """
    x = _sphere(size)
    j0, j1, j2 = (spherical_jn(n, x) for n in (0, 1, 2))
    inside = x * j1 * (x * j0 - j1) + 0.5 * x**3 * (j1**2 - j0 * j2)
    return np.asarray(1.0 / x**3 + 1.0 / x + (1.0 + x**2) / (x**4 * j1**2) * inside)


def _sphere(size: ArrayLike) -> FloatArray:
    x = positive("size", size)
    if np.any(x > Q_BOUND_LIMIT):
        raise OutOfRangeError(f"size k r must be at most {Q_BOUND_LIMIT}, got {x}")
    return x
