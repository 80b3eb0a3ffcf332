# SPDX-License-Identifier: BSD-3-Clause
"""Field and power far away from thin wires in free space."""

from collections.abc import Callable

import numpy as np

from ringwright.physics.constants import C_0, ETA_0
from ringwright.physics.graph import FloatArray, WireGraph
from ringwright.physics.phasors import phasors
from ringwright.physics.static_kernel import gauss_unit
from ringwright.physics.wave_kernel import ComplexArray

__all__ = [
    "FieldAt",
    "current_elements",
    "free_space_field",
    "sphere_power",
]  # what is meant for outside; the rest serves its neighbours

LEAST_ORDER = 8

FieldAt = Callable[[FloatArray, FloatArray], ComplexArray]
"""r exp(jkr) E (2, n) [V] (theta, phi parts) at elevations and azimuths (n,) [rad]."""


def current_elements(graph: WireGraph, current: ComplexArray) -> tuple[FloatArray, ComplexArray]:
    """Two point elements a segment that radiate as its linear current does.

    Parameters
    ----------
    graph : WireGraph
        The wires. [m]
    current : ndarray of complex128, shape (n_segments, 2)
        At start and end of each segment, along it. [A]

    Returns
    -------
    points : ndarray of float64, shape (2 n_segments, 3)
        [m]
    moments : ndarray of complex128, shape (2 n_segments, 3)
        Current times length, as vectors. [A m]

    Notes
    -----
    Gauss points: exact for phases cubic in the distance along a segment; segments far below a wavelength.
    """
    x, w = gauss_unit(2)
    there = current[:, :1] * (1.0 - x) + current[:, 1:] * x
    moments = (there * w)[:, :, None] * graph.vectors[:, None, :]
    return graph.points(x).reshape(-1, 3), moments.reshape(-1, 3)


def direction_vectors(
    elevation: FloatArray, azimuth: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Unit vectors r, theta (downwards) and phi, each (n, 3), for angles [rad]; azimuth from x towards y."""
    ce, se, ca, sa = np.cos(elevation), np.sin(elevation), np.cos(azimuth), np.sin(azimuth)
    radial = np.stack([ce * ca, ce * sa, se], axis=-1)
    theta = np.stack([se * ca, se * sa, -ce], axis=-1)
    phi = np.stack([-sa, ca, np.zeros_like(sa)], axis=-1)
    return radial, theta, phi


def free_space_field(points: FloatArray, moments: ComplexArray, frequency: float) -> FieldAt:
    r"""Far field of current elements.

    .. math:: r e^{jkr} \mathbf{E} = -\frac{j k \eta_0}{4\pi} \sum_i (\mathbf{m}_i - \hat r \hat r \cdot \mathbf{m}_i)
              e^{jk \hat r \cdot \mathbf{r}_i}

    Parameters
    ----------
    points : ndarray of float64, shape (n, 3)
        [m]
    moments : ndarray of complex128, shape (n, 3)
        [A m]
    frequency : float
        [Hz]

    Returns
    -------
    FieldAt
        Function of elevation and azimuth. [V]

    References
    ----------
    .. [1] C. A. Balanis, Antenna Theory, 4th ed., Wiley, 2016, sec. 3.6.
    """
    k = 2.0 * np.pi * frequency / C_0

    def field_at(elevation: FloatArray, azimuth: FloatArray) -> ComplexArray:
        radial, theta, phi = direction_vectors(elevation, azimuth)
        total = phasors(k * (radial @ points.T)) @ moments
        parts = np.stack([np.sum(total * theta, axis=-1), np.sum(total * phi, axis=-1)])
        return np.asarray(-1j * k * ETA_0 / (4.0 * np.pi) * parts)

    return field_at


def intensity(field: ComplexArray) -> FloatArray:
    """Power into a unit of solid angle [W/sr] from rms r E (2, n) [V]."""
    return np.asarray(np.sum(abs(field) ** 2, axis=0) / ETA_0)


def sphere_order(points: FloatArray, frequency: float) -> int:
    """Order of the sphere quadrature for sources at `points` [m] and `frequency` [Hz].

    The power pattern of a source of radius R holds harmonics up to about 2 k R, which Gauss of order k R and as many
    azimuths as harmonics integrate exactly; what is beyond falls faster than exponentially.
    """
    radius = float(np.linalg.norm(points - points.mean(axis=0), axis=1).max())
    return LEAST_ORDER + 2 * int(np.ceil(2.0 * np.pi * frequency / C_0 * radius))


def sphere_power(field_at: FieldAt, order: int) -> float:
    """Power through the whole far sphere.

    Parameters
    ----------
    field_at : FieldAt
        Rms far field. [V]
    order : int
        Of the quadrature; see `sphere_order`.

    Returns
    -------
    float
        [W]

    Notes
    -----
    Gauss in the sine of elevation, even steps in azimuth.
    """
    unit, weights = gauss_unit(order)
    sines = 2.0 * unit - 1.0
    azimuth = np.arange(2 * order) * np.pi / order
    elevation, around = np.meshgrid(np.arcsin(sines), azimuth, indexing="ij")
    power = intensity(field_at(elevation.ravel(), around.ravel())).reshape(elevation.shape)
    return float(weights @ power.mean(axis=1) * 4.0 * np.pi)
