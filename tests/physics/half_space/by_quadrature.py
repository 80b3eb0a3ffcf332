# SPDX-License-Identifier: BSD-3-Clause
"""The same integrals one pair at a time by adaptive quadrature: slow, and what the tables are measured against."""

import numpy as np
from numpy.typing import ArrayLike
from scipy.integrate import quad_vec
from scipy.special import gammainccinv

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import ComplexArray, not_negative, positive
from ringwright.physics.half_space.contour import cancellation
from ringwright.physics.half_space.spectrum import Kernel, Spectrum, bessel_over_power, wave_index, wavenumber

_TOLERANCE = 1e-10


def reflected_kernels(
    kernels: tuple[Kernel, ...], rho: ArrayLike, h: ArrayLike, *, frequency: float, eps_c: complex
) -> ComplexArray:
    r"""Kernels at any pairs, by adaptive quadrature along a path above all singularities.

    .. math:: S_n\{f\} / \rho^n

    Parameters
    ----------
    kernels : tuple of Kernel
        What is wanted, e.g. `POTENTIALS`. [1]
    rho, h : array_like of float, shape (...)
        Horizontal distance, >= 0, and sum of the heights, > 0. [m]
    frequency : float
        Frequency, > 0. [Hz]
    eps_c : complex
        Complex relative permittivity of the earth, finite. [1]

    Returns
    -------
    ndarray of complex128, shape (n_kernels, ...)
        Ground part of each kernel. [1/m^decay]

    Raises
    ------
    OutOfRangeError
        If an input is outside the ranges above or the quadrature does not converge.

    Notes
    -----
    About 1e-9 of 1/(4 pi r^decay), for the steepest kernels of `FIELDS` less by (rho/h)^1.5; milliseconds a pair,
    tenths of a second where rho is a hundred times h.
    """
    rho_, h_ = np.broadcast_arrays(not_negative("horizontal distance", rho), positive("z + z'", h))
    wave_index(eps_c)
    k0 = wavenumber(frequency)
    pairs = [
        _one_pair(kernels, float(r), float(z), k0=k0, eps_c=eps_c)
        for r, z in zip(rho_.flat, h_.flat, strict=True)
    ]
    return np.asarray(pairs).T.reshape(len(kernels), *rho_.shape)


def _one_pair(
    kernels: tuple[Kernel, ...], rho: float, h: float, *, k0: float, eps_c: complex
) -> ComplexArray:
    height = min(k0, 3.0 / rho) if rho > 0.0 else k0
    end = float(gammainccinv(max(kernel.decay for kernel in kernels), _TOLERANCE)) / h + 3.0 * k0
    scale = np.array([np.hypot(rho, h) ** kernel.decay for kernel in kernels])
    k_earth = abs(np.sqrt(eps_c)) * k0
    at, orders = np.array([rho]), {kernel.order for kernel in kernels}

    def integrand(u: float) -> ComplexArray:
        rise = np.tanh(u / height)
        k_rho = np.array([u + 1j * height * rise])
        s = Spectrum.at(k_rho, k0=k0, eps_c=eps_c)
        wave = k_rho * np.exp(-s.g0 * h) / (4.0 * np.pi * s.g0) * (1.0 + 1j * (1.0 - rise**2))
        bessel = {n: bessel_over_power(n, k_rho, at)[0, 0] for n in orders}
        values = [(wave * kernel.density(s))[0] * bessel[kernel.order] for kernel in kernels]
        return np.asarray(np.array(values) * scale)

    within = _TOLERANCE * max(cancellation(kernel, rho / h) for kernel in kernels)
    breaks = [u for u in (k0, k_earth, 1.0 / h, 3.0 / h) if u < end]
    value, _, info = quad_vec(
        integrand,
        0.0,
        end,
        epsabs=within,
        epsrel=1e-12,
        limit=20_000,
        points=breaks,
        full_output=True,
    )
    if not info.success:
        raise OutOfRangeError(f"the reflected field at rho = {rho:.4g} m, h = {h:.4g} m did not converge")
    return np.asarray(value / scale)
