# SPDX-License-Identifier: BSD-3-Clause
"""magpylib, a general-purpose magnetics library: the static field of a current ring anywhere.

Relative comparison only (abs=0): the library's fields are in tesla, where any absolute tolerance hides everything.
"""

import magpylib
import numpy as np
import pytest

from ringwright.physics.constants import MU_0
from ringwright.physics.loop_fields import ring_static_field
from ringwright.physics.mutual_inductance import mutual_inductance_circles

RADIUS, CURRENT = 0.4774648, 28.5


def test_field_of_a_ring_at_two_thousand_points():
    rng = np.random.default_rng(20)
    rho, z = rng.uniform(0.0, 5.0, 2000), rng.uniform(-5.0, 5.0, 2000)
    points = np.stack([rho, np.zeros_like(rho), z], axis=1)
    ring = magpylib.current.Circle(diameter=2 * RADIUS, current=CURRENT)
    expected = np.asarray(ring.getH(points))
    ours = ring_static_field(rho, z, radius=RADIUS, current=CURRENT)
    size = np.linalg.norm(expected, axis=1)
    # Both are elliptic integrals in double precision; components cancel to 1e-13 of the whole, five metres out.
    assert np.max(np.hypot(ours.radial - expected[:, 0], ours.axial - expected[:, 2]) / size) < 1e-11


def test_field_close_to_the_conductor():
    angle = np.linspace(0.1, 6.2, 50)
    for distance in (1e-2, 1e-4, 1e-6):
        rho, z = RADIUS + distance * np.cos(angle), distance * np.sin(angle)
        ring = magpylib.current.Circle(diameter=2 * RADIUS, current=CURRENT)
        expected = np.asarray(ring.getH(np.stack([rho, np.zeros_like(rho), z], axis=1)))
        ours = ring_static_field(rho, z, radius=RADIUS, current=CURRENT)
        size = np.linalg.norm(expected, axis=1)
        off = np.hypot(ours.radial - expected[:, 0], ours.axial - expected[:, 2])
        # R - rho itself is known to 1e-16/distance only.
        assert np.max(off / size) < 1e-12 + 1e-15 / distance


@pytest.mark.parametrize(
    ("centre", "normal"),
    [((0.2, 0.0, 0.0), (0, 0, 1)), ((0.6, 0.1, 0.05), (0, 0, 1)), ((0.1, 0.2, 0.3), (1, 2, 3))],
)
def test_flux_of_the_ring_through_a_second_circle(centre, normal):
    """Mutual inductance by integrating the library's field over the disc, not the potential round its rim."""
    radius = 0.1
    node, weight = np.polynomial.legendre.leggauss(40)
    s, ds = 0.5 * radius * (node + 1), 0.5 * radius * weight
    t = np.arange(64) * 2 * np.pi / 64
    n = np.asarray(normal) / np.linalg.norm(normal)
    e1 = np.cross(n, [0.0, 1.0, 0.0])
    e1 /= np.linalg.norm(e1)
    e2 = np.cross(n, e1)
    across = np.cos(t)[:, None] * e1 + np.sin(t)[:, None] * e2
    points = np.asarray(centre) + s[:, None, None] * across
    ring = magpylib.current.Circle(diameter=1.0, current=1.0)
    normal_field = np.asarray(ring.getH(points.reshape(-1, 3))).reshape(*points.shape) @ n
    flux = MU_0 * np.sum(normal_field.mean(axis=1) * 2 * np.pi * s * ds)
    value = mutual_inductance_circles(0.5, radius, centre=centre, normal=normal)
    # The disc's rule: the nearest filament is half a radius outside the rim or more, 1e-9.
    assert value == pytest.approx(flux, rel=1e-9, abs=0)
