# SPDX-License-Identifier: BSD-3-Clause
"""Far field of current elements over the earth: direct wave and Fresnel reflection, and the power into the sky."""

import numpy as np

from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.physics.constants import ETA_0
from ringwright.physics.far_field import FieldAt, direction_vectors, intensity, sphere_order
from ringwright.physics.half_space.spectrum import wavenumber
from ringwright.physics.phasors import phasors
from ringwright.physics.static_kernel import gauss_unit

__all__ = ["field_over_earth", "fresnel", "sky_power"]

GRAZING_POWER = 3
"""sin(elevation) = u^3: the nodes crowd where a good conductor turns its vertical reflection round."""
GRAZING_ORDER = 16


def fresnel(elevation: FloatArray, eps_c: complex) -> tuple[ComplexArray, ComplexArray]:
    r"""Reflection coefficients of a plane earth.

    .. math:: \Gamma_h = \frac{\sin\psi - q}{\sin\psi + q}, \qquad
              \Gamma_v = \frac{\epsilon_c \sin\psi - q}{\epsilon_c \sin\psi + q}, \qquad
              q = \sqrt{\epsilon_c - \cos^2\psi}

    Parameters
    ----------
    elevation : ndarray of float64, shape (...)
        psi, 0 to pi/2. [rad]
    eps_c : complex
        Complex relative permittivity of the earth, infinite for a perfect one. [1]

    Returns
    -------
    horizontal, vertical : ndarray of complex128, shape (...)
        Of the horizontal electric field, and of the magnetic field of the other polarisation. [1]

    References
    ----------
    .. [1] J. A. Stratton, Electromagnetic Theory, McGraw-Hill, 1941, sec. 9.5.
    """
    sine = np.sin(elevation) + 0j
    if not np.isfinite(eps_c):
        return -np.ones_like(sine), np.ones_like(sine)
    q = np.sqrt(eps_c - 1.0 + sine**2)
    return (sine - q) / (sine + q), (eps_c * sine - q) / (eps_c * sine + q)


def field_over_earth(
    points: FloatArray, moments: ComplexArray, *, frequency: float, eps_c: complex
) -> FieldAt:
    r"""Far field of current elements above a plane earth.

    .. math::
        e^\pm &= e^{jk(\hat r_\rho \cdot \rho \pm z \sin\psi)} \\
        E_\phi &\propto \sum m_\phi (e^{+} + \Gamma_h e^{-}) \\
        E_\theta &\propto \sum m_\rho \sin\psi (e^{+} - \Gamma_v e^{-}) - m_z \cos\psi (e^{+} + \Gamma_v e^{-})

    Parameters
    ----------
    points : ndarray of float64, shape (n, 3)
        Places, z > 0. [m]
    moments : ndarray of complex128, shape (n, 3)
        Current times length. [A m]
    frequency : float
        [Hz]
    eps_c : complex
        Complex relative permittivity of the earth. [1]

    Returns
    -------
    FieldAt
        Function of elevation and azimuth; r exp(jkr) E. [V]

    Notes
    -----
    The space wave alone: the surface wave falls faster than 1/r and carries nothing into the sky.

    References
    ----------
    .. [1] C. A. Balanis, Antenna Theory, 4th ed., Wiley, 2016, sec. 4.8.
    """
    k = wavenumber(frequency)

    def field_at(elevation: FloatArray, azimuth: FloatArray) -> ComplexArray:
        radial, theta, phi = direction_vectors(elevation, azimuth)
        horizontal, vertical = fresnel(elevation, eps_c)
        level = phasors(k * (radial[:, :2] @ points[:, :2].T))
        rise = phasors(k * np.outer(radial[:, 2], points[:, 2]))
        direct, reflected = (level * rise) @ moments, (level * rise.conj()) @ moments
        mirrored = reflected * np.array([-1.0, -1.0, 1.0])
        e_theta = np.sum(direct * theta, axis=1) + vertical * np.sum(mirrored * theta, axis=1)
        e_phi = np.sum(direct * phi, axis=1) + horizontal * np.sum(reflected * phi, axis=1)
        return np.asarray(-1j * k * ETA_0 / (4.0 * np.pi) * np.stack([e_theta, e_phi]))

    return field_at


def sky_power(field_at: FieldAt, *, points: FloatArray, frequency: float) -> float:
    """Power into the upper half-space.

    Parameters
    ----------
    field_at : FieldAt
        Rms far field over the earth. [V]
    points : ndarray of float64, shape (n, 3)
        The sources' places, which set how fine the pattern is. [m]
    frequency : float
        [Hz]

    Returns
    -------
    float
        [W]

    Notes
    -----
    Gauss in u with sin(elevation) = u^3, even steps in azimuth. 1e-6 for rings, sea water included.
    """
    azimuths = 2 * sphere_order(points, frequency)
    height = 2.0 * float(points[:, 2].max()) * wavenumber(frequency)
    u, weights = gauss_unit(GRAZING_ORDER + int(np.ceil(height)) + azimuths // 4)
    sine = u**GRAZING_POWER
    azimuth = np.arange(azimuths) * 2.0 * np.pi / azimuths
    elevation, around = np.meshgrid(np.arcsin(sine), azimuth, indexing="ij")
    power = intensity(field_at(elevation.ravel(), around.ravel())).reshape(elevation.shape).mean(axis=1)
    return float(np.sum(weights * GRAZING_POWER * u ** (GRAZING_POWER - 1) * power) * 2.0 * np.pi)
