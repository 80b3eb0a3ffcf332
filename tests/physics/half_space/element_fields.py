# SPDX-License-Identifier: BSD-3-Clause
r"""Near fields E and H of current elements over the earth: the ground part, without finite differences.

With the derivatives of the potentials taken under the integral sign, eight even integrals remain. For an element of
moment m at horizontal offset (x, y) from it, with C = (x^2 - y^2)/2:

.. math::
    j\omega\epsilon_0 E_x &= (e_0 + C e_2) m_x + x y e_2 m_y + x e_1 m_z \\
    j\omega\epsilon_0 E_y &= x y e_2 m_x + (e_0 - C e_2) m_y + y e_1 m_z \\
    j\omega\epsilon_0 E_z &= -e_1 (x m_x + y m_y) + e_z m_z \\
    H_x &= x y h_2 m_x - (h_0 + C h_2) m_y - y h_v m_z \\
    H_y &= (h_0 - C h_2) m_x - x y h_2 m_y + x h_v m_z \\
    H_z &= h_t (y m_x - x m_y)

The derivation is in docs/explanation/half-space.md; a layered-earth library confirms every component.
"""

import numpy as np

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.physics.constants import C_0, EPS_0
from ringwright.physics.half_space.contour import Reach
from ringwright.physics.half_space.kernels import K_MAX, WIDEST_PAIR, check_frequency
from ringwright.physics.half_space.spectrum import Kernel, wave_index, wavenumber
from ringwright.physics.half_space.tables import KernelTable
from ringwright.physics.near_field import NearFieldAt

FIELDS = (
    Kernel(lambda s: 0.5 * (s.k0**2 * s.rte + s.g0**2 * s.rtm), order=0, decay=3),  # e_0
    Kernel(lambda s: s.k_rho * s.g0 * s.rtm, order=1, decay=4),  # e_1
    Kernel(lambda s: s.k0**2 * s.rte - s.g0**2 * s.rtm, order=2, decay=5),  # e_2
    Kernel(lambda s: s.k_rho**2 * s.rtm, order=0, decay=3),  # e_z
    Kernel(lambda s: 0.5 * s.g0 * (s.rtm - s.rte), order=0, decay=2),  # h_0
    Kernel(lambda s: s.g0 * (s.rtm + s.rte), order=2, decay=4),  # h_2
    Kernel(lambda s: s.k_rho * s.rte, order=1, decay=3),  # h_t
    Kernel(lambda s: s.k_rho * s.rtm, order=1, decay=3),  # h_v
)
"""The integrals of the fields, in the order e_0, e_1, e_2, e_z, h_0, h_2, h_t, h_v."""

LOWEST_FIELD_PAIR = 0.05
"""Smallest sum of the heights of a point and an element that the fields are verified for. [m]"""

PAIRS_AT_ONCE = 8_000  # of point and element: what stays in a core's cache


def ground_field(
    sources: FloatArray, moments: ComplexArray, *, frequency: float, eps_c: complex, tolerance: float = 1e-5
) -> NearFieldAt:
    r"""Ground part of the near field of current elements, as a function of place.

    .. math:: \mathbf{E} = \mathbf{E}_{free} + \mathbf{E}_{ground}, \qquad
              \mathbf{H} = \mathbf{H}_{free} + \mathbf{H}_{ground}

    Parameters
    ----------
    sources : ndarray of float64, shape (n_sources, 3)
        Places of the elements, z > 0. [m]
    moments : ndarray of complex128, shape (n_sources, 3)
        Current times length, rms phasors for rms fields. [A m]
    frequency : float
        1.8 to 54 MHz. [Hz]
    eps_c : complex
        Complex relative permittivity of the earth, or `PERFECT_EARTH`. [1]
    tolerance : float
        Error aimed at, over the field of a perfect image; 1e-5 is far below what a thin-wire current knows. [1]

    Returns
    -------
    NearFieldAt
        E [V/m] and H [A/m], each (n, 3), at points (n, 3) [m], z >= 0. Many points at once cost least: a call
        lays out its own table.

    Raises
    ------
    OutOfRangeError
        If an input, or later a point, is outside these ranges, or a point and an element lie closer to the earth
        than `LOWEST_FIELD_PAIR` together.

    Notes
    -----
    The elements must be short against the distance of a point from their images: two Gauss points a segment suffice
    down to a segment's length.
    """
    k0 = wavenumber(frequency)
    if np.isfinite(eps_c):
        check_frequency(frequency, K_MAX)
        k_earth = wave_index(eps_c) * k0

    def field_at(points: FloatArray) -> tuple[ComplexArray, ComplexArray]:
        rho, h = _reach(points, sources)
        if not np.isfinite(eps_c):
            return element_field(points, sources * [1, 1, -1], moments * [-1, -1, 1], frequency=frequency)
        table = KernelTable.build(FIELDS, Reach.of(rho, h, k_max=k0, k_earth=k_earth), tolerance=tolerance)
        values = table.values(k0, eps_c)
        out = np.empty((2, *points.shape), dtype=complex)
        step = max(1, PAIRS_AT_ONCE // len(sources))
        for first in range(0, len(points), step):
            part = slice(first, first + step)
            near, up = rho[part].ravel(), h[part].ravel()
            kernels = table.read(values, table.weights(near, up), np.hypot(near, up))
            out[:, part] = _assembled(
                kernels.reshape(-1, *rho[part].shape), points[part, None] - sources, moments
            )
        return out[0] / (1j * k0 * C_0 * EPS_0), out[1]

    return field_at


def element_field(
    points: FloatArray, sources: FloatArray, moments: ComplexArray, *, frequency: float
) -> tuple[ComplexArray, ComplexArray]:
    r"""Near field of current elements in free space.

    .. math:: \mathbf{E} = \frac{1}{j\omega\epsilon_0} (k^2 + \nabla\nabla\cdot)\, G \mathbf{m}, \qquad
              \mathbf{H} = \nabla G \times \mathbf{m}, \qquad G = \frac{e^{-jkR}}{4 \pi R}

    Parameters
    ----------
    points, sources : ndarray of float64, shape (n, 3) and (n_sources, 3)
        Places of the field and of the elements, apart from each other. [m]
    moments : ndarray of complex128, shape (n_sources, 3)
        Current times length. [A m]
    frequency : float
        > 0. [Hz]

    Returns
    -------
    electric, magnetic : ndarray of complex128, shape (n, 3)
        [V/m] and [A/m]

    Raises
    ------
    OutOfRangeError
        If the frequency is not positive.

    Notes
    -----
    Exact for a point element.

    References
    ----------
    .. [1] C. A. Balanis, Antenna Theory, 4th ed., Wiley, 2016, sec. 3.3 and 4.2 (from memory).
    """
    k = wavenumber(frequency)
    d = points[:, None] - sources
    r = np.linalg.norm(d, axis=-1)
    x = k * r
    green = np.exp(-1j * x) / (4.0 * np.pi * r)
    across = green * (x**2 - 1j * x - 1.0) / r**2
    along = green * (3.0 + 3j * x - x**2) / r**4 * np.sum(d * moments, axis=-1)
    electric = across @ moments + np.sum(along[:, :, None] * d, axis=1)
    magnetic = np.sum((-green * (1.0 + 1j * x) / r**2)[:, :, None] * np.cross(d, moments), axis=1)
    return np.asarray(electric / (1j * k * C_0 * EPS_0)), np.asarray(magnetic)


def _reach(points: FloatArray, sources: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Horizontal distances and sums of heights, each (n, n_sources), refused where the method does not hold."""
    if points[:, 2].min() < 0.0 or sources[:, 2].min() <= 0.0:
        raise OutOfRangeError("points must lie on or above the earth and current elements above it")
    h = points[:, None, 2] + sources[:, 2]
    if h.min() < LOWEST_FIELD_PAIR:
        raise OutOfRangeError(
            f"a point and a conductor lie {h.min():.3g} m above the earth together, the fields hold from "
            f"{LOWEST_FIELD_PAIR:.3g} m: choose a higher point"
        )
    rho = np.linalg.norm(points[:, None, :2] - sources[:, :2], axis=-1)
    if rho.max() > WIDEST_PAIR:
        raise OutOfRangeError(
            f"a point lies {rho.max():.3g} m from a conductor, near fields hold to {WIDEST_PAIR:.3g} m: choose a "
            "nearer point"
        )
    return rho, h


def _assembled(kernels: ComplexArray, offset: FloatArray, moments: ComplexArray) -> ComplexArray:
    """j w eps_0 E and H of all elements together, shape (2, n_points, 3), by the formulas at the top."""
    e0, e1, e2, ez, h0, h2, ht, hv = kernels
    x, y = offset[..., 0], offset[..., 1]
    c, xy = 0.5 * (x * x - y * y), x * y
    mx, my, mz = moments.T
    along = x * e1, y * e1
    return np.array(
        [
            [
                (e0 + c * e2) @ mx + (xy * e2) @ my + along[0] @ mz,
                (xy * e2) @ mx + (e0 - c * e2) @ my + along[1] @ mz,
                ez @ mz - along[0] @ mx - along[1] @ my,
            ],
            [
                (xy * h2) @ mx - (h0 + c * h2) @ my - (y * hv) @ mz,
                (h0 - c * h2) @ mx - (xy * h2) @ my + (x * hv) @ mz,
                (y * ht) @ mx - (x * ht) @ my,
            ],
        ]
    ).transpose(0, 2, 1)
