# SPDX-License-Identifier: BSD-3-Clause
"""Fields of a uniform ring: against one another, Maxwell's equations, and values of another program."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import OutOfRangeError
from ringwright.physics.constants import C_0, ETA_0, MU_0
from ringwright.physics.loop_fields import magnetic_dipole_field, ring_axis_field, ring_static_field

LENGTHS = st.floats(0.05, 5.0)


@pytest.mark.parametrize(
    ("z", "static", "at_14_2"),
    [
        (0.0, 1.0, 1.011011),
        (1.0, 0.08944272, 0.09426408),
        (2.0, 0.01426680, 0.01673800),
        (5.0, 0.000985185, 0.001772358),
    ],
)
def test_axis_of_a_ring_of_one_metre(z, static, at_14_2):
    # I b^2/2 rho^3 sqrt(1 + k^2 rho^2) by another program, 7 digits; the static form is every textbook's.
    assert ring_static_field(0.0, z, radius=0.5, current=1.0).axial == pytest.approx(static, rel=6e-7, abs=0)
    field = ring_axis_field(14.2e6, radius=0.5, distance=z, current=1.0)
    assert abs(field) == pytest.approx(at_14_2, rel=6e-7, abs=0)


@pytest.mark.parametrize(
    ("r", "abreast", "ahead", "electric"),
    [
        (1.0, 0.07629788, 0.1660537, 9.308865),
        (3.0, 0.002698515, 0.007902199, 1.328977),
        (10.0, 6.686038e-4, 4.99685e-4, 0.2801202),
    ],
)
def test_magnetic_dipole_at_14_2_mhz(r, abreast, ahead, electric):
    # Textbook form with eta_0 = 376.730313668 by another program; 6 to 7 digits.
    side = magnetic_dipole_field(14.2e6, distance=r, polar=np.pi / 2, moment=1.0)
    front = magnetic_dipole_field(14.2e6, distance=r, polar=0.0, moment=1.0)
    assert abs(side.h_polar) == pytest.approx(abreast, rel=5e-7, abs=0)
    assert abs(front.h_radial) == pytest.approx(ahead, rel=1e-6, abs=0)
    assert abs(side.e_azimuthal) == pytest.approx(electric, rel=5e-7, abs=0)


def test_hundred_watts_in_a_ring_of_three_metres():
    # 28.496 A at 14.2 MHz and 53.297 A at 7.1 MHz in a ring of 3 m: H on the axis by another program, 5 digits.
    for f, current, expected in (
        (14.2e6, 28.496, [2.5134, 0.43803, 0.15620]),
        (7.1e6, 53.297, [4.5248, 0.73078, 0.23783]),
    ):
        h = abs(ring_axis_field(f, radius=3 / (2 * np.pi), distance=[1.0, 2.0, 3.0], current=current))
        assert h == pytest.approx(expected, rel=4e-5, abs=0)


@given(LENGTHS, st.floats(-5.0, 5.0), st.floats(1e5, 6e7))
def test_axis_field_is_the_sum_over_the_ring_s_elements(radius, z, frequency):
    """Retarded field of current elements (J. D. Jackson, Classical Electrodynamics, 3rd ed., eq. 9.5 curled)."""
    k, n = 2 * np.pi * frequency / C_0, 16
    t = np.arange(n) * 2 * np.pi / n
    place = radius * np.stack([np.cos(t), np.sin(t), 0 * t], axis=1)
    step = radius * np.stack([-np.sin(t), np.cos(t), 0 * t], axis=1) * 2 * np.pi / n
    away = np.array([0.0, 0.0, z]) - place
    r = np.linalg.norm(away, axis=1)[:, None]
    h = np.sum(np.cross(step, away) / r**3 * (1 + 1j * k * r) * np.exp(-1j * k * r), axis=0) / (4 * np.pi)
    ours = complex(ring_axis_field(frequency, radius=radius, distance=z, current=1.0))
    assert abs(ours - h[2]) <= 1e-12 * abs(h[2])


def test_static_field_has_neither_sources_nor_currents_off_the_ring():
    """Divergence and curl by central differences, against the size of the single terms."""
    rng = np.random.default_rng(3)
    rho, z, e = rng.uniform(0.1, 2.0, 200), rng.uniform(0.2, 2.0, 200), 1e-4

    def field(dr: float, dz: float) -> tuple[np.ndarray, np.ndarray]:
        value = ring_static_field(rho + dr, z + dz, radius=0.5, current=1.0)
        return value.radial, value.axial

    (r1, z1), (r0, z0), (r3, z3), (r2, z2) = field(e, 0), field(-e, 0), field(0, e), field(0, -e)
    divergence = ((rho + e) * r1 - (rho - e) * r0) / (2 * e * rho) + (z3 - z2) / (2 * e)
    curl = (r3 - r2) / (2 * e) - (z1 - z0) / (2 * e)
    scale = np.abs(r3 - r2) / (2 * e) + np.abs(z3 - z2) / (2 * e)
    # The difference's own error is (e/0.2)^2.
    assert np.max(np.abs(divergence) / scale) < 1e-5
    assert np.max(np.abs(curl) / scale) < 1e-5


def test_dipole_satisfies_faraday_s_law():
    f, r, theta, e = 7.1e6, 3.0, 1.0, 1e-3
    w = 2 * np.pi * f

    def electric(radius: float, polar: float) -> complex:
        return complex(magnetic_dipole_field(f, distance=radius, polar=polar, moment=1.0).e_azimuthal)

    here = magnetic_dipole_field(f, distance=r, polar=theta, moment=1.0)
    up = (np.sin(theta + e) * electric(r, theta + e) - np.sin(theta - e) * electric(r, theta - e)) / (2 * e)
    out = ((r + e) * electric(r + e, theta) - (r - e) * electric(r - e, theta)) / (2 * e)
    # Central differences: e^2/6.
    assert abs(up / (r * np.sin(theta)) / (-1j * w * MU_0 * here.h_radial) - 1) < 1e-6
    assert abs(-out / r / (-1j * w * MU_0 * here.h_polar) - 1) < 1e-6


@given(st.floats(1e6, 6e7), st.floats(0.0, 3.0))
def test_ring_becomes_the_dipole_far_away(frequency, angle):
    r, b = 60.0, 0.05
    m = np.pi * b**2
    dipole = magnetic_dipole_field(frequency, distance=r, polar=0.0, moment=m).h_radial
    ring = ring_axis_field(frequency, radius=b, distance=r, current=1.0)
    assert abs(ring / dipole - 1) < 3 * (b / r) ** 2 + (2 * np.pi * frequency / C_0 * b**2 / r)
    still = magnetic_dipole_field(1.0, distance=r, polar=angle, moment=m)
    field = ring_static_field(r * np.sin(angle), r * np.cos(angle), radius=b, current=1.0)
    radial = field.radial * np.sin(angle) + field.axial * np.cos(angle)
    size = m / (4 * np.pi * r**3)
    # Next multipole: 3 (b/r)^2/2; rounding of the elliptic integrals that far out: 1e-16 over 4 b/r.
    assert abs(radial - still.h_radial.real) < 4 * (b / r) ** 2 * size + 1e-7 * size


@given(st.floats(1e6, 6e7), st.floats(0.1, 3.0))
def test_far_field_is_a_plane_wave_with_the_directivity_of_a_small_loop(frequency, polar):
    r = 1e4 * C_0 / frequency
    field = magnetic_dipole_field(frequency, distance=r, polar=polar, moment=1.0)
    assert abs(field.e_azimuthal / field.h_polar) == pytest.approx(ETA_0, rel=1e-8, abs=0)
    assert field.e_azimuthal / field.h_polar == pytest.approx(-ETA_0, rel=1e-4, abs=0)  # E x H points outward


def test_a_point_on_the_filament_is_refused():
    with pytest.raises(OutOfRangeError, match="on the ring's filament"):
        ring_static_field([0.1, 0.5], 0.0, radius=0.5, current=1.0)
    with pytest.raises(OutOfRangeError, match="not negative"):
        ring_static_field(-0.1, 0.0, radius=0.5, current=1.0)
