# SPDX-License-Identifier: BSD-3-Clause
r"""What the earth sends back, wave by wave: reflection coefficients over the transverse wavenumber.

Air fills z > 0, a homogeneous earth of complex relative permittivity eps_c = eps_r - j sigma/(w eps_0) fills z < 0;
the time factor is e^{+jwt}. A source at height z' and a point at height z, rho apart horizontally, meet in the
integral

.. math:: S_n\{f\}(\rho, h) = \frac{1}{2\pi} \int_0^\infty f(k_\rho)\, \frac{e^{-\gamma_0 h}}{2\gamma_0}\,
          J_n(k_\rho \rho)\, k_\rho\, dk_\rho, \qquad h = z + z', \quad \gamma_i = \sqrt{k_\rho^2 - k_i^2}

so that S_0{1} = exp(-jkR)/(4 pi R) with R the distance from the image at -z'. The densities f of the mixed-potential
form C are those of [1]_; written as here none of them has a 0/0 or loses digits at large k_rho.

References
----------
.. [1] K. A. Michalski and J. R. Mosig, Multilayered media Green's functions in integral equation formulations,
       IEEE Trans. Antennas Propag. 45(3), 1997, 508-519, doi:10.1109/8.558666 (from memory); the signs used here are
       derived in docs/explanation/half-space.md and checked against a layered-earth library.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.special import j0, j1, jv

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import ComplexArray, FloatArray, not_negative, positive
from ringwright.physics.constants import C_0, EPS_0

__all__ = [
    "PERFECT_EARTH",
    "Kernel",
    "Spectrum",
    "complex_permittivity",
    "wave_index",
    "wavenumber",
]

PERFECT_EARTH = complex(1.0, -np.inf)
"""The `eps_c` of a perfectly conducting plane, for the functions that take one. [1]"""


def complex_permittivity(frequency: float, permittivity: float, conductivity: float) -> complex:
    r"""Complex relative permittivity of the earth.

    .. math:: \epsilon_c = \epsilon_r - j \sigma / (2 \pi f \epsilon_0)

    Parameters
    ----------
    frequency, permittivity, conductivity : float
        Frequency, > 0. [Hz]  Relative permittivity, >= 1. [1]  Conductivity, >= 0; infinite gives
        `PERFECT_EARTH`. [S/m]

    Returns
    -------
    complex
        Complex relative permittivity. [1]

    Raises
    ------
    OutOfRangeError
        If an input is outside the ranges above.

    Notes
    -----
    Exact for any frequency, as far as the earth's constants hold there.
    """
    f = float(positive("frequency", frequency))
    eps_r = float(positive("relative permittivity of the earth", permittivity))
    if eps_r < 1.0:
        raise OutOfRangeError(f"relative permittivity of the earth must be >= 1, got {eps_r:.4g}")
    if conductivity == np.inf:
        return PERFECT_EARTH
    sigma = float(not_negative("conductivity of the earth", conductivity))
    return complex(eps_r, -sigma / (2.0 * np.pi * f * EPS_0))


def wavenumber(frequency: float) -> float:
    """Wavenumber in air.

    Parameters
    ----------
    frequency : float
        Frequency, > 0. [Hz]

    Returns
    -------
    float
        2 pi f / c. [1/m]

    Raises
    ------
    OutOfRangeError
        If the frequency is not finite and positive.

    Notes
    -----
    Exact.
    """
    return float(2.0 * np.pi * positive("frequency", frequency) / C_0)


def wave_index(eps_c: complex) -> float:
    r"""Refractive index of the earth as far as it shows as waves rather than as loss.

    .. math:: \max(1, \mathrm{Re}\sqrt{\epsilon_c} - |\mathrm{Im}\sqrt{\epsilon_c}|)

    Parameters
    ----------
    eps_c : complex
        Complex relative permittivity of the earth. [1]

    Returns
    -------
    float
        9 for fresh water, 1 for a conductor. [1]

    Raises
    ------
    OutOfRangeError
        If the real part is below 1 or the imaginary part above 0.

    Notes
    -----
    Sets how finely waves along the earth must be followed; own definition, see docs/explanation/half-space.md.
    """
    if not (eps_c.real >= 1.0 and eps_c.imag <= 0.0):
        raise OutOfRangeError(
            f"eps_c of the earth must be eps_r - j sigma/(w eps_0) with eps_r >= 1, got {eps_c:.4g}"
        )
    n = np.sqrt(complex(eps_c))
    return float(max(1.0, n.real - abs(n.imag)))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Spectrum:
    """Reflection at transverse wavenumbers `k_rho`, complex, shape (n,); of several earths at once (earths, n).

    Attributes
    ----------
    k0 : float
        Wavenumber in air. [1/m]
    k_rho, g0, g1 : ndarray of complex128
        Transverse wavenumber; attenuation with height in air and with depth in the earth, Re >= 0. [1/m]
    rte, rtm : ndarray of complex128
        Reflection coefficients for E and for H across the plane of incidence; -1 and +1 on a perfect conductor. [1]
    t : ndarray of complex128
        (rte + rtm) / k_rho^2. [m^2]
    """

    k0: float
    k_rho: ComplexArray
    g0: ComplexArray
    g1: ComplexArray
    rte: ComplexArray
    rtm: ComplexArray
    t: ComplexArray

    @classmethod
    def at(cls, k_rho: ComplexArray, *, k0: float, eps_c: complex | ComplexArray) -> "Spectrum":
        """Evaluate at `k_rho` on the real axis or above it; `eps_c` one earth, or several as a column."""
        square = np.asarray(k_rho, dtype=complex) ** 2
        g0 = np.sqrt(square - k0 * k0)
        g1 = np.sqrt(square - k0 * k0 * eps_c)
        te, tm = g0 + g1, eps_c * g0 + g1
        return cls(
            k0=k0,
            k_rho=k_rho,
            g0=g0,
            g1=g1,
            rte=k0 * k0 * (eps_c - 1.0) / te**2,  # (g0 - g1)/(g0 + g1) without its cancellation
            rtm=(eps_c * g0 - g1) / tm,
            t=2.0 * (eps_c - 1.0) / (te * tm),
        )


@dataclass(frozen=True, slots=True)
class Kernel:
    """One integral S_order{density} / rho^order, an even function of rho.

    Attributes
    ----------
    density : callable
        The factor f of the integral, from a `Spectrum`.
    order : int
        Order n of the Bessel function.
    decay : int
        Power p for which (rho^2 + h^2)^(p/2) times the kernel varies slowly.
    """

    density: Callable[[Spectrum], ComplexArray]
    order: int
    decay: int


def bessel_over_power(order: int, k_rho: ComplexArray, rho: FloatArray) -> ComplexArray:
    """J_n(k_rho rho) / rho^n for every `rho` (rows) and `k_rho` (columns), at rho = 0 its limit.

    Columns with real `k_rho` take the real Bessel functions, which cost a twentieth of the complex ones.
    """
    table = np.empty((len(rho), len(k_rho)), dtype=complex)
    real = k_rho.imag == 0.0
    on_axis = np.outer(rho, k_rho[real].real)
    match order:
        case 0:
            table[:, real] = j0(on_axis)
        case 1:
            table[:, real] = j1(on_axis)
        case _:
            table[:, real] = jv(order, on_axis)
    table[:, ~real] = jv(order, np.outer(rho, k_rho[~real]))
    if order > 0:
        limit = (k_rho / 2.0) ** order / order  # n! = n for the orders 1 and 2 used here
        apart = rho > 0.0
        table[apart] /= rho[apart, None] ** order
        table[~apart] = limit
    return table
