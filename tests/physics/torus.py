# SPDX-License-Identifier: BSD-3-Clause
"""Oracle: the perfectly conducting torus in the quasi-static limit, by filaments inside it.

Coaxial filaments on a smaller circle inside the wire are given the currents that make the flux through every circle of
its surface the same (least squares, spectral convergence). Elliptic integrals by the arithmetic-geometric mean, so
that nothing is shared with the closed forms they check.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def _k_minus_e_and_k(complement: Array) -> tuple[Array, Array]:
    """K - E and K by the arithmetic-geometric mean, from 1 - m."""
    a, b, c = np.ones_like(complement), np.sqrt(complement), np.sqrt(1.0 - complement)
    total, weight = 0.5 * c * c, 0.5
    for _ in range(9):
        a, b, c, weight = (a + b) / 2.0, np.sqrt(a * b), (a - b) / 2.0, 2.0 * weight
        total = total + weight * c * c
    k = np.pi / (2.0 * a)
    return k * total, k


def _flux(rho: Array, z: Array, r: Array, h: Array) -> Array:
    """Flux through the circle (rho, z) of 1 A in the circle (r, h), over mu_0."""
    s2 = (rho + r) ** 2 + (z - h) ** 2
    complement = ((rho - r) ** 2 + (z - h) ** 2) / s2
    m = 1.0 - complement
    difference, k = _k_minus_e_and_k(complement)
    return np.asarray(np.sqrt(rho * r) * (2.0 * difference / np.sqrt(m) - np.sqrt(m) * k))


def _field(rho: Array, z: Array, r: Array, h: Array) -> tuple[Array, Array]:
    """H along rho and z at (rho, z) of 1 A in the circle (r, h)."""
    y = z - h
    s2, d2 = (rho + r) ** 2 + y**2, (rho - r) ** 2 + y**2
    difference, k = _k_minus_e_and_k(d2 / s2)
    e = k - difference
    scale = 1.0 / (2.0 * np.pi * np.sqrt(s2))
    along_rho = scale * y / rho * (-k + (r**2 + rho**2 + y**2) / d2 * e)
    along_z = scale * (k + (r**2 - rho**2 - y**2) / d2 * e)
    return along_rho, along_z


def solve(thinness: float, filaments: int = 32, depth: float = 0.35) -> tuple[float, float]:
    """L/(mu_0 R) of the torus a/R = `thinness`, and its loss over that of as long a straight wire."""
    points = 3 * filaments
    t = 2.0 * np.pi * np.arange(points) / points
    source = 2.0 * np.pi * np.arange(filaments) / filaments
    rho, z = 1.0 + thinness * np.cos(t), thinness * np.sin(t)
    r, h = 1.0 + depth * thinness * np.cos(source), depth * thinness * np.sin(source)
    matrix = _flux(rho[:, None], z[:, None], r, h)
    current, *_ = np.linalg.lstsq(matrix, np.ones(points), rcond=None)
    residual = np.max(np.abs(matrix @ current - 1.0))
    assert residual < 1e-9, residual
    along_rho, along_z = _field(rho[:, None], z[:, None], r, h)
    surface = -np.sin(t) * (along_rho @ current) + np.cos(t) * (along_z @ current)
    total = np.sum(current)
    loss = np.mean(surface**2 * rho) * (2.0 * np.pi * thinness) ** 2 / total**2
    return float(1.0 / total), float(loss)
