# SPDX-License-Identifier: BSD-3-Clause
"""C. A. Balanis, Antenna Theory, 4th ed., sec. 4.2 (eq. 4-8, 4-10): all field components of an infinitesimal dipole.

The formulas are from memory; they contain no charge and no potential, so integrating them along a wire checks both.
"""

import numpy as np

from ringwright.physics.constants import C_0, ETA_0
from ringwright.physics.graph import chain
from ringwright.physics.near_field import near_field

FREQUENCY = 28.5e6
LENGTH = 0.4  # [m]


def field_of_z_dipole(moment, offset):
    """E and H (n, 3) of a current moment along z [A m], seen `offset` (n, 3) from it."""
    k = 2.0 * np.pi * FREQUENCY / C_0
    r = np.linalg.norm(offset, axis=1)
    cosine, sine = offset[:, 2] / r, np.hypot(offset[:, 0], offset[:, 1]) / r
    wave = np.exp(-1j * k * r)
    h_phi = 1j * k * moment * sine / (4 * np.pi * r) * (1 + 1 / (1j * k * r)) * wave
    e_r = ETA_0 * moment * cosine / (2 * np.pi * r**2) * (1 + 1 / (1j * k * r)) * wave
    e_theta = (
        1j * ETA_0 * k * moment * sine / (4 * np.pi * r) * (1 + 1 / (1j * k * r) - 1 / (k * r) ** 2) * wave
    )
    azimuth = np.arctan2(offset[:, 1], offset[:, 0])
    radial = offset / r[:, None]
    theta = np.stack([cosine * np.cos(azimuth), cosine * np.sin(azimuth), -sine], axis=1)
    phi = np.stack([-np.sin(azimuth), np.cos(azimuth), 0 * azimuth], axis=1)
    return e_r[:, None] * radial + e_theta[:, None] * theta, h_phi[:, None] * phi


def test_wire_with_a_triangular_current_is_a_row_of_infinitesimal_dipoles():
    count = 8
    z = np.linspace(-LENGTH / 2, LENGTH / 2, count + 1)
    graph = chain(np.stack([0 * z, 0 * z, z], axis=1), radius=1e-4, closed=False)
    at_nodes = (1.0 - abs(z) / (LENGTH / 2)) * (2.0 - 1.0j)
    ours = near_field(graph, np.stack([at_nodes[:-1], at_nodes[1:]], axis=1), FREQUENCY)

    rng = np.random.default_rng(9)
    points = rng.normal(size=(60, 3)) * 0.6
    points[:10, :2] = 0.02 * points[:10, :2] / np.linalg.norm(points[:10, :2], axis=1, keepdims=True)
    points[:10, 2] = np.linspace(-0.3, 0.3, 10)  # 20 mm beside the wire, and beyond its ends
    points[10] = 0.0, 0.0, 0.5  # in line with it
    expected = np.zeros((2, 60, 3), dtype=complex)
    x, w = np.polynomial.legendre.leggauss(400)
    for half in (-1.0, 1.0):
        at = half * LENGTH / 4 * (1.0 + x)
        moments = w * LENGTH / 4 * (1.0 - abs(at) / (LENGTH / 2)) * (2.0 - 1.0j)
        for place, moment in zip(at, moments, strict=True):
            expected += np.stack(field_of_z_dipole(moment, points - np.array([0.0, 0.0, place])))
    electric, magnetic = ours(points)
    off = np.linalg.norm(electric - expected[0], axis=1) / np.linalg.norm(expected[0], axis=1)
    assert off.max() < 1e-6
    off = np.linalg.norm(magnetic - expected[1], axis=1) / np.linalg.norm(electric, axis=1) * ETA_0
    assert off.max() < 1e-6
    assert np.all(magnetic[10] == 0.0)
