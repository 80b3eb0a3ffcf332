# SPDX-License-Identifier: BSD-3-Clause
"""Far field of current elements over the earth: direct wave and Fresnel reflection, and the power into the sky."""

import numpy as np

from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.physics.constants import ETA_0
from ringwright.physics.far_field import FieldAt, direction_vectors, intensity, sphere_order
from ringwright.physics.half_space.spectrum import wavenumber
from ringwright.physics.phasors import phasors
from ringwright.physics.static_kernel import gauss_unit

__all__ = ["both_ways", "field_over_earth", "fresnel", "sky_directions", "sky_power"]

GRAZING_POWER = 3
"""sin(elevation) = u^3: the nodes crowd where a good conductor turns its vertical reflection round."""
GRAZING_ORDER = 16


def fresnel(elevation: FloatArray, eps_c: complex | ComplexArray) -> tuple[ComplexArray, ComplexArray]:
    r"""Reflection coefficients of a plane earth.

    .. math:: \Gamma_h = \frac{\sin\psi - q}{\sin\psi + q}, \qquad
              \Gamma_v = \frac{\epsilon_c \sin\psi - q}{\epsilon_c \sin\psi + q}, \qquad
              q = \sqrt{\epsilon_c - \cos^2\psi}

    Parameters
    ----------
    elevation : ndarray of float64, shape (...)
        psi, 0 to pi/2. [rad]
    eps_c : complex, or ndarray of complex128
        Complex relative permittivity of the earth, infinite for a perfect one; of several, in a shape that broadcasts
        with the elevations. [1]

    Returns
    -------
    horizontal, vertical : ndarray of complex128, shape (...)
        Of the horizontal electric field, and of the magnetic field of the other polarisation. [1]

    References
    ----------
    .. [1] J. A. Stratton, Electromagnetic Theory, McGraw-Hill, 1941, sec. 9.5.
    """
    sine = np.sin(elevation) + 0j
    if not np.all(np.isfinite(eps_c)):
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

    def field_at(elevation: FloatArray, azimuth: FloatArray) -> ComplexArray:
        horizontal, vertical = fresnel(elevation, eps_c)
        direct, reflected = both_ways(
            points, moments, elevation=elevation, azimuth=azimuth, frequency=frequency
        )
        return np.asarray(direct + np.stack([vertical, horizontal]) * reflected)

    return field_at


def both_ways(
    points: FloatArray, moments: ComplexArray, *, elevation: FloatArray, azimuth: FloatArray, frequency: float
) -> ComplexArray:
    """Far field of current elements on its direct way, and by the earth before its reflection coefficients.

    Parameters
    ----------
    points : ndarray of float64, shape (n, 3)
        Places, z > 0. [m]
    moments : ndarray of complex128, shape (n, 3, ...)
        Current times length, of one distribution or of several. [A m]
    elevation, azimuth : ndarray of float64, shape (d,)
        Directions. [rad]
    frequency : float
        [Hz]

    Returns
    -------
    ndarray of complex128, shape (2, 2, d, ...)
        Direct and reflected, each its theta and phi parts; r exp(jkr) E. [V]

    Notes
    -----
    Only the coefficients of `fresnel`, vertical for theta and horizontal for phi, depend on the earth.
    """
    k = wavenumber(frequency)
    radial, theta, phi = direction_vectors(elevation, azimuth)
    level = phasors(k * (radial[:, :2] @ points[:, :2].T))
    rise = phasors(k * np.outer(radial[:, 2], points[:, 2]))
    flat = moments.reshape(len(points), -1)
    direct, reflected = (
        (way @ flat).reshape(len(radial), *moments.shape[1:]) for way in (level * rise, level * rise.conj())
    )
    mirrored = theta * np.array([-1.0, -1.0, 1.0])
    parts = [(direct, theta), (direct, phi), (reflected, mirrored), (reflected, phi)]
    fields = np.stack([np.einsum("dc...,dc->d...", field, unit) for field, unit in parts])
    return np.asarray(-1j * k * ETA_0 / (4.0 * np.pi) * fields.reshape(2, 2, *fields.shape[1:]))


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
    By the directions of `sky_directions`. 1e-6 for rings, sea water included.
    """
    elevation, azimuth, weights = sky_directions(points, frequency)
    up, around = np.meshgrid(elevation, azimuth, indexing="ij")
    power = intensity(field_at(up.ravel(), around.ravel())).reshape(up.shape).sum(axis=1)
    return float(weights @ power)


def sky_directions(points: FloatArray, frequency: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Directions of a quadrature over the upper half-space.

    Parameters
    ----------
    points : ndarray of float64, shape (n, 3)
        The sources' places, which set how fine the pattern is. [m]
    frequency : float
        [Hz]

    Returns
    -------
    elevation, azimuth : ndarray of float64, shapes (e,) and (a,)
        All their pairs are meant. [rad]
    weight : ndarray of float64, shape (e,)
        Solid angle that each direction of an elevation stands for. [sr]

    Notes
    -----
    Gauss in u with sin(elevation) = u^3, even steps in azimuth.
    """
    azimuths = 2 * sphere_order(points, frequency)
    height = 2.0 * float(points[:, 2].max()) * wavenumber(frequency)
    u, weights = gauss_unit(GRAZING_ORDER + int(np.ceil(height)) + azimuths // 4)
    azimuth = np.arange(azimuths) * 2.0 * np.pi / azimuths
    solid = weights * GRAZING_POWER * u ** (GRAZING_POWER - 1) * 2.0 * np.pi / azimuths
    return np.arcsin(u**GRAZING_POWER), azimuth, solid
