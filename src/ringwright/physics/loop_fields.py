# SPDX-License-Identifier: BSD-3-Clause
"""Fields of a ring with a uniform current: on its axis, static anywhere, and of the point magnetic dipole.

Filaments in free space, e^{+jwt}; fields follow the current, so an rms current gives rms fields. Near people the
solver's currents are what counts; these forms check it. In the plane of a real ring the capacitor's electric field,
which none of these has, often decides.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import ellipe, elliprd

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import ComplexArray, FloatArray, finite, positive
from ringwright.physics.constants import C_0, ETA_0


class RingField(NamedTuple):
    """Static magnetic field of a ring in cylindrical coordinates about its axis.

    Attributes
    ----------
    radial, axial : ndarray of float64, shape (...)
        Components along rho and z. [A/m]
    """

    radial: FloatArray
    axial: FloatArray


class DipoleField(NamedTuple):
    """Field of a magnetic dipole in spherical coordinates about its axis.

    Attributes
    ----------
    h_radial, h_polar : ndarray of complex128, shape (...)
        Magnetic field along r and theta. [A/m]
    e_azimuthal : ndarray of complex128, shape (...)
        Electric field along phi. [V/m]
    """

    h_radial: ComplexArray
    h_polar: ComplexArray
    e_azimuthal: ComplexArray


def ring_axis_field(
    frequency: ArrayLike, *, radius: ArrayLike, distance: ArrayLike, current: ArrayLike
) -> ComplexArray:
    r"""Magnetic field on the axis of a circular ring with a uniform current, at any frequency.

    .. math:: H_z = \frac{I b^2}{2 \rho^3} (1 + j k \rho) e^{-j k \rho}, \quad \rho = \sqrt{b^2 + z^2}

    Parameters
    ----------
    frequency : array_like of float, shape (...)
        Frequency, > 0. [Hz]
    radius : array_like of float, shape (...)
        Radius b of the ring, > 0. [m]
    distance : array_like of float, shape (...)
        Distance z along the axis from the ring's centre, either sign. [m]
    current : array_like of complex, shape (...)
        Current round the ring, right-handed about z. [A]

    Returns
    -------
    ndarray of complex128, shape (...)
        Axial magnetic field, the only one there. [A/m]

    Raises
    ------
    OutOfRangeError
        If frequency or radius is not finite and positive, or the distance is not finite.

    Notes
    -----
    Exact for the filament with the imposed uniform current at any frequency and distance.

    References
    ----------
    .. [1] Integral of the retarded vector potential of a current element round the circle; static case in J. D.
           Jackson, Classical Electrodynamics, 3rd ed., Wiley, 1999, sec. 5.5.
    """
    b = positive("radius", radius)
    k = 2.0 * np.pi * positive("frequency", frequency) / C_0
    rho = np.hypot(b, finite("distance", distance))
    return np.asarray(
        np.asarray(current) * b**2 / (2.0 * rho**3) * (1.0 + 1j * k * rho) * np.exp(-1j * k * rho)
    )


def ring_static_field(rho: ArrayLike, z: ArrayLike, *, radius: ArrayLike, current: ArrayLike) -> RingField:
    r"""Static magnetic field of a circular filament at any point off the filament.

    .. math::

        H_z = \frac{I}{2 \pi s} \left[ K + \frac{b^2 - \rho^2 - z^2}{d^2} E \right], \quad
        H_\rho = \frac{I b z}{\pi s} \left[ \frac{E}{d^2} - \frac{2 D}{s^2} \right]

    with :math:`s^2 = (b + \rho)^2 + z^2`, :math:`d^2 = (b - \rho)^2 + z^2`, :math:`m = 4 b \rho / s^2` and
    :math:`D = (K - E)/m`.

    Parameters
    ----------
    rho, z : array_like of float, shape (...)
        Distance from the axis, >= 0, and height over the ring's plane. [m]
    radius : array_like of float, shape (...)
        Radius b of the ring, > 0. [m]
    current : array_like of float, shape (...)
        Current round the ring, right-handed about z. [A]

    Returns
    -------
    RingField
        Radial and axial magnetic field. [A/m]

    Raises
    ------
    OutOfRangeError
        If an input is not finite, the radius is not positive, `rho` is negative, or a point lies on the filament.

    Notes
    -----
    Exact for the filament. Good near a ring at radio frequency while k times the distance is well below 1 and the
    current is uniform.

    References
    ----------
    .. [1] W. R. Smythe, Static and Dynamic Electricity, 3rd ed., McGraw-Hill, 1968, sec. 7.10.
    """
    r, h, i = finite("rho", rho), finite("z", z), finite("current", current)
    b = positive("radius", radius)
    if np.any(r < 0.0):
        raise OutOfRangeError(f"rho is a distance from the axis and not negative, got {r} m")
    s2, d2 = (b + r) ** 2 + h**2, (b - r) ** 2 + h**2
    if np.any(d2 == 0.0):
        raise OutOfRangeError("a point lies on the ring's filament, where the field is infinite: move it")
    m = 4.0 * b * r / s2
    e, d = ellipe(m), elliprd(0.0, d2 / s2, 1.0) / 3.0
    axial = i / (2.0 * np.pi * np.sqrt(s2)) * (e + m * d + (b**2 - r**2 - h**2) / d2 * e)
    radial = i * b * h / (np.pi * np.sqrt(s2)) * (e / d2 - 2.0 * d / s2)
    return RingField(radial=np.asarray(radial), axial=np.asarray(axial))


def magnetic_dipole_field(
    frequency: ArrayLike, *, distance: ArrayLike, polar: ArrayLike, moment: ArrayLike
) -> DipoleField:
    r"""Field of a point magnetic dipole, near and far.

    .. math::

        H_r = \frac{m \cos\theta}{2 \pi r^3} (1 + jx) e^{-jx}, \quad
        H_\theta = \frac{m \sin\theta}{4 \pi r^3} (1 + jx - x^2) e^{-jx}, \quad
        E_\varphi = -j \frac{\eta_0 k m \sin\theta}{4 \pi r^2} (1 + jx) e^{-jx}, \quad x = k r

    Parameters
    ----------
    frequency : array_like of float, shape (...)
        Frequency, > 0. [Hz]
    distance : array_like of float, shape (...)
        Distance r from the dipole, > 0. [m]
    polar : array_like of float, shape (...)
        Angle theta from the dipole's axis. [rad]
    moment : array_like of complex, shape (...)
        Magnetic moment: turns times current times area. [A m^2]

    Returns
    -------
    DipoleField
        Magnetic field along r and theta, electric field along phi. [A/m, V/m]

    Raises
    ------
    OutOfRangeError
        If frequency or distance is not finite and positive, or the angle is not finite.

    Notes
    -----
    Exact for the point. For a ring it is 10 % high on the axis two diameters away, and has no electric field of the
    gap.

    References
    ----------
    .. [1] C. A. Balanis, Antenna Theory: Analysis and Design, 4th ed., Wiley, 2016, sec. 5.2.
    """
    k, r = 2.0 * np.pi * positive("frequency", frequency) / C_0, positive("distance", distance)
    theta, m = finite("polar", polar), np.asarray(moment)
    x = k * r
    wave = m * np.exp(-1j * x) / (4.0 * np.pi * r**3)
    return DipoleField(
        h_radial=np.asarray(2.0 * np.cos(theta) * wave * (1.0 + 1j * x)),
        h_polar=np.asarray(np.sin(theta) * wave * (1.0 + 1j * x - x**2)),
        e_azimuthal=np.asarray(-1j * ETA_0 * x * np.sin(theta) * wave * (1.0 + 1j * x)),
    )
