# SPDX-License-Identifier: BSD-3-Clause
"""Mutual inductance of two circular filaments, wherever they lie. What they become at radio frequency: the same.

Filaments are exact while the conductors are thin against the distance between them. A current that rises or falls
round a ring (above a tenth of a wavelength of circumference) is beyond these forms.
"""

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import ellipkm1, elliprd

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import FloatArray, finite, positive
from ringwright.physics.constants import MU_0

_FEWEST, _MOST = 64, 1 << 17
"""Points round the second circle; the most resolve a distance of 1e-4 of its radius."""
_SETTLED = 1e-12
"""Change on doubling the points, relative to the sum without signs, at which the sum is taken."""


def _shape(complement: FloatArray) -> FloatArray:
    """2 (K - E)/m - K, the shape of a ring's vector potential, from 1 - m; Carlson's form has no 0/0 on the axis."""
    return np.asarray(elliprd(0.0, complement, 1.0) / 1.5 - ellipkm1(complement))


def mutual_inductance_coaxial(radius_1: ArrayLike, radius_2: ArrayLike, *, distance: ArrayLike) -> FloatArray:
    r"""Mutual inductance of two circular filaments on a common axis.

    .. math::

        M = \mu_0 \sqrt{A B} \left[ \left(\frac{2}{\kappa} - \kappa\right) K - \frac{2}{\kappa} E \right], \quad
        \kappa^2 = \frac{4 A B}{(A + B)^2 + d^2}

    Parameters
    ----------
    radius_1, radius_2 : array_like of float, shape (...)
        Radii A and B, > 0. [m]
    distance : array_like of float, shape (...)
        Distance d of their planes, either sign. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Mutual inductance, positive. [H]

    Raises
    ------
    OutOfRangeError
        If an input is not finite, a radius is not positive, or the two circles are the same one.

    Notes
    -----
    Exact for filaments at any distance.

    References
    ----------
    .. [1] J. C. Maxwell, A Treatise on Electricity and Magnetism, vol. 2, 1873, art. 701.
    .. [2] E. B. Rosa, F. W. Grover, Formulas and tables for the calculation of mutual and self-inductance (revised),
           Bull. Bureau of Standards 8, 1-237, 1912 (Sci. Paper 169), eq. (1).
    """
    a, b, d = positive("radius_1", radius_1), positive("radius_2", radius_2), finite("distance", distance)
    s2 = (a + b) ** 2 + d**2
    nearest = ((a - b) ** 2 + d**2) / s2
    if np.any(nearest == 0.0):
        raise OutOfRangeError(
            "the two circles coincide: a filament has no self-inductance, give the wire a radius"
        )
    return np.asarray(2.0 * MU_0 * a * b / np.sqrt(s2) * _shape(nearest))


def _potential(radius_1: float, rho: FloatArray, z: FloatArray) -> FloatArray:
    """Azimuthal vector potential of a unit current in circle 1, times 2 pi/MU_0, shape of `rho`. [1]"""
    s2 = (radius_1 + rho) ** 2 + z**2
    nearest = ((radius_1 - rho) ** 2 + z**2) / s2
    if np.any(nearest == 0.0):
        raise OutOfRangeError("the two circles touch: move one of them")
    return np.asarray(2.0 * radius_1 / np.sqrt(s2) * _shape(nearest))


def mutual_inductance_circles(
    radius_1: float, radius_2: float, *, centre: ArrayLike, normal: ArrayLike = (0.0, 0.0, 1.0)
) -> float:
    r"""Mutual inductance of two circular filaments in any position: coplanar, eccentric or tilted.

    .. math:: M = \oint A_\varphi(\rho, z) \frac{x\,dy - y\,dx}{\rho}

    Circle 1 lies in the plane z = 0 about the origin; the integral of its vector potential runs round circle 2.

    Parameters
    ----------
    radius_1, radius_2 : float
        Radii, > 0. [m]
    centre : array_like of float, shape (3,)
        Centre of circle 2. [m]
    normal : array_like of float, shape (3,)
        Direction of its axis, any length; parallel to circle 1's by default, as a coupling loop's is. [1]

    Returns
    -------
    float
        Mutual inductance; negative where the flux of circle 1 returns through circle 2. [H]

    Raises
    ------
    OutOfRangeError
        If an input is not finite, a radius not positive, `normal` zero, or the circles come closer to one another
        than about 1e-4 of `radius_2`.

    Notes
    -----
    Exact for filaments: the periodic sum is doubled until it no longer changes, to 1e-12.

    References
    ----------
    .. [1] S. Babic, F. Sirois, C. Akyel, C. Girardi, Mutual inductance calculation between circular filaments
           arbitrarily positioned in space: alternative to Grover's formula, IEEE Trans. Magn. 46, 3591-3600, 2010,
           doi 10.1109/TMAG.2010.2047651.
    """
    a, b = float(positive("radius_1", radius_1)), float(positive("radius_2", radius_2))
    c, n = finite("centre", centre), finite("normal", normal)
    if c.shape != (3,) or n.shape != (3,) or not np.any(n):
        raise OutOfRangeError(f"centre and normal must be vectors of three, normal not zero, got {c} and {n}")
    n = n / np.linalg.norm(n)
    e1 = np.cross(n, np.eye(3)[np.argmin(np.abs(n))])
    e1 = e1 / np.linalg.norm(e1)
    e2 = np.cross(n, e1)

    def loop_integral(count: int) -> tuple[float, float]:
        """The integral over MU_0, and what it would be were the potential along the circle everywhere."""
        t = np.linspace(0.0, 2.0 * np.pi, count, endpoint=False)
        x, y, z = c[:, None] + b * (np.outer(e1, np.cos(t)) + np.outer(e2, np.sin(t)))
        dx, dy, _ = b * (np.outer(e2, np.cos(t)) - np.outer(e1, np.sin(t)))
        rho = np.hypot(x, y)
        potential = _potential(a, rho, z)
        along = (x * dy - y * dx) / np.where(rho == 0.0, 1.0, rho)
        return float(np.mean(potential * along)), float(np.mean(potential) * b)

    count, (last, _) = _FEWEST, loop_integral(_FEWEST)
    while count < _MOST:
        count *= 2
        value, size = loop_integral(count)
        if abs(value - last) <= _SETTLED * size:
            return MU_0 * value
        last = value
    raise OutOfRangeError(
        f"the two circles come closer than about 1e-4 of the second's radius, {b} m: part them"
    )
