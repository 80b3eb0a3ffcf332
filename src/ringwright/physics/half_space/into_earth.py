# SPDX-License-Identifier: BSD-3-Clause
"""Power that current elements send into the earth, by their plane-wave spectrum at z = 0: no table, no difference."""

from itertools import pairwise

import numpy as np

from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.physics.constants import EPS_0, MU_0
from ringwright.physics.half_space.spectrum import wavenumber
from ringwright.physics.static_kernel import gauss_unit

__all__ = ["earth_power"]

TOLERANCE = 1e-5
PANEL_ORDER = 10
MOST_AT_ONCE = 400_000  # waves times elements: bounds the memory of a wide site


def earth_power(points: FloatArray, moments: ComplexArray, *, frequency: float, eps_c: complex) -> float:
    r"""Flux of power through z = 0 into a lossy earth.

    .. math::
        P = \frac{1}{4\pi^2} \int \left[ \frac{\omega \mu_0 |J_t|^2 \, \mathrm{Im}\, g_1}{|g_0 + g_1|^2}
        + \frac{|\epsilon_c|^2 |j k_\rho J_z + g_0 J_k|^2}{|\epsilon_c g_0 + g_1|^2}
        \, \mathrm{Re}\, \frac{g_1}{j \omega \epsilon_0 \epsilon_c} \right] d^2 k_\rho

    with J the elements' spectrum, each weighted by exp(-g_0 z), J_k along and J_t across the wave.

    Parameters
    ----------
    points : ndarray of float64, shape (n, 3)
        Places, z > 0. [m]
    moments : ndarray of complex128, shape (n, 3)
        Current times length, rms. [A m]
    frequency : float
        [Hz]
    eps_c : complex
        Complex relative permittivity of the earth; a perfect one takes nothing. [1]

    Returns
    -------
    float
        [W]

    Notes
    -----
    Own derivation, docs/explanation/half-space.md: tangential fields are continuous, and below the surface every wave
    has the impedance of its polarisation. 1e-5 of the total power for elements from 0.1 m up.
    """
    if not np.isfinite(eps_c):
        return 0.0
    k0 = wavenumber(frequency)
    lowest = float(points[:, 2].min())
    centred = points - np.array([*((points[:, :2].max(axis=0) + points[:, :2].min(axis=0)) / 2.0), 0.0])
    radius = float(np.linalg.norm(centred[:, :2], axis=1).max())
    total = 0.0
    for g0, k_rho, weight in _panels(k0, lowest, abs(np.sqrt(eps_c)) * k0):
        # Harmonics of the power run to 2 k_rho radius; half as many again leave nothing.
        count = 16 + 2 * int(np.ceil(1.5 * float(k_rho.max()) * radius))
        density = _density(
            centred, moments, g0, k_rho=k_rho, azimuths=count, frequency=frequency, eps_c=eps_c
        )
        total += float(weight @ density)
    return total / (2.0 * np.pi)


def _panels(k0: float, lowest: float, k_earth: float) -> list[tuple[ComplexArray, FloatArray, FloatArray]]:
    """(g0, k_rho, k_rho dk_rho) of the waves: k_rho = k0 sin(t) as far as they travel, then k_rho^2 = k0^2 + g^2."""
    x, w = gauss_unit(PANEL_ORDER)
    t, dt = x * np.pi / 2.0, w * np.pi / 2.0
    k_rho = k0 * np.sin(t)
    out = [(1j * k0 * np.cos(t), k_rho, k_rho * k0 * np.cos(t) * dt)]
    end = np.log(1.0 / TOLERANCE) / (2.0 * lowest) + 1.0 / lowest
    edges = [0.0, min(k0, end)]
    while edges[-1] < end:
        edges.append(min(edges[-1] * 2.5, end))
    if k_earth < end:
        edges = sorted({*edges, k_earth})
    for a, b in pairwise(edges):
        g = a + (b - a) * x
        out.append((g + 0j, np.sqrt(k0**2 + g**2), g * (b - a) * w))
    return out


def _density(
    points: FloatArray,
    moments: ComplexArray,
    g0: ComplexArray,
    *,
    k_rho: FloatArray,
    azimuths: int,
    frequency: float,
    eps_c: complex,
) -> FloatArray:
    """Mean over azimuth of the spectral flux at each k_rho."""
    omega = 2.0 * np.pi * frequency
    k0 = wavenumber(frequency)
    g1 = np.sqrt(k_rho**2 - k0**2 * eps_c)
    along, across, up = _spectrum(points, moments, g0, k_rho=k_rho, azimuths=azimuths)
    te = omega * MU_0 * g1.imag / abs(g0 + g1) ** 2
    tm = abs(eps_c / (eps_c * g0 + g1)) ** 2 * (g1 / (1j * omega * EPS_0 * eps_c)).real
    magnetic = abs(1j * k_rho[:, None] * up + g0[:, None] * along) ** 2
    return np.asarray((te[:, None] * abs(across) ** 2 + tm[:, None] * magnetic).mean(axis=1))


def _spectrum(
    points: FloatArray, moments: ComplexArray, g0: ComplexArray, *, k_rho: FloatArray, azimuths: int
) -> tuple[ComplexArray, ComplexArray, ComplexArray]:
    """Spectrum of the elements along and across the wave and upwards, each (n_waves, azimuths)."""
    angle = np.arange(azimuths) * 2.0 * np.pi / azimuths
    direction = np.stack([np.cos(angle), np.sin(angle)])
    place = points[:, :2] @ direction
    decay = np.exp(-g0[:, None] * points[:, 2])
    out = np.empty((len(k_rho), azimuths, 3), dtype=np.complex128)
    step = max(1, MOST_AT_ONCE // (azimuths * len(points)))
    for first in range(0, len(k_rho), step):
        chosen = slice(first, first + step)
        phase = np.exp(1j * k_rho[chosen, None, None] * place.T)
        out[chosen] = (phase * decay[chosen, None, :]) @ moments
    along = out[..., 0] * direction[0] + out[..., 1] * direction[1]
    across = out[..., 1] * direction[0] - out[..., 0] * direction[1]
    return along, across, out[..., 2]
