# SPDX-License-Identifier: BSD-3-Clause
"""Far field of wires: a Hertzian dipole and a small loop in closed form, a large loop, and the sphere's quadrature."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import j1, sici

from ringwright.physics.constants import C_0, ETA_0
from ringwright.physics.far_field import (
    current_elements,
    direction_vectors,
    free_space_field,
    intensity,
    sphere_order,
    sphere_power,
)
from ringwright.physics.graph import chain
from tests.physics.wires import circle, dipole

ANGLES = (np.radians([-70.0, -20.0, 0.0, 15.0, 45.0, 88.0]), np.radians([0.0, 200.0, 33.0, 90.0, 301.0, 5.0]))


def even_field(graph, frequency, current=1.0):
    points, moments = current_elements(graph, np.full((len(graph.segments), 2), current, dtype=complex))
    return points, free_space_field(points, moments, frequency)


def test_hertzian_dipole():
    """Balanis 2016, sec. 4.2: E_theta = j eta k I l sin(theta)/(4 pi r) exp(-jkr); R = 80 pi^2 (l/lambda)^2."""
    length, current = 1e-4, 2.0
    points, field_at = even_field(dipole(length, 1e-7, 2), C_0, current)
    theta, phi = field_at(*ANGLES)
    k = 2.0 * np.pi
    expected = 1j * ETA_0 * k * current * length * np.cos(ANGLES[0]) / (4.0 * np.pi)
    # The formula is for a vanishing length: (k l)^2/24 = 2e-8.
    assert theta == pytest.approx(expected, rel=1e-7, abs=0)
    assert np.max(abs(phi)) < 1e-15 * np.max(abs(theta))
    power = sphere_power(field_at, sphere_order(points, C_0))
    assert power == pytest.approx(current**2 * ETA_0 * 2.0 * np.pi / 3.0 * length**2, rel=1e-7, abs=0)


def test_short_dipole_with_triangular_current_radiates_a_quarter():
    # Balanis 2016, sec. 4.3: 20 pi^2 (l/lambda)^2; at l = 0.001 wavelengths the next order is 1e-6.
    graph = dipole(1e-3, 1e-6, 2)
    current = np.array([[0.0, 1.0], [1.0, 0.0]], dtype=complex)
    points, moments = current_elements(graph, current)
    power = sphere_power(free_space_field(points, moments, C_0), sphere_order(points, C_0))
    assert power == pytest.approx(20.0 * np.pi**2 * 1e-6 * ETA_0 / (120.0 * np.pi), rel=2e-6, abs=0)


@pytest.mark.parametrize("size", [0.001, 0.1, 1.0])
def test_ring_with_even_current(size):
    """Balanis 2016, sec. 5.3: E_phi = eta k b I/2 J1(k b sin theta) for a ring of k b in the plane z = 0."""
    b = size / (2.0 * np.pi)
    _, field_at = even_field(chain(circle(b, segments=240), radius=1e-6, closed=True), C_0)
    theta, phi = field_at(*ANGLES)
    expected = ETA_0 * size / 2.0 * j1(size * np.cos(ANGLES[0]))
    # A polygon of 240 sides with the circle's area: (2 pi/240)^2/12 of the field's higher orders.
    assert phi == pytest.approx(expected, rel=1e-4, abs=0)
    assert np.max(abs(theta)) < 1e-6 * np.max(abs(phi))


def test_small_ring_radiates_as_its_area():
    # Balanis 2016, eq. 5-24: R = eta k^4 A^2/(6 pi).
    area = 1e-6
    points, field_at = even_field(
        chain(circle(np.sqrt(area / np.pi), segments=48), radius=1e-6, closed=True), C_0
    )
    power = sphere_power(field_at, sphere_order(points, C_0))
    expected = ETA_0 / (6.0 * np.pi) * (2.0 * np.pi) ** 4 * area**2
    # Next order (k b)^2/5 = 2.5e-6.
    assert power == pytest.approx(expected, rel=5e-6, abs=0)


def test_half_wave_of_sinusoidal_current():
    """Balanis 2016, eq. 4-93: R = eta/(4 pi) Cin(2 pi) = 73.08 ohm (73.13 with eta = 120 pi)."""
    graph = dipole(0.5, 1e-6, 200)
    at_nodes = np.cos(2.0 * np.pi * graph.nodes[:, 2])
    points, moments = current_elements(graph, at_nodes[graph.segments].astype(complex))
    power = sphere_power(free_space_field(points, moments, C_0), sphere_order(points, C_0))
    cin = np.euler_gamma + np.log(2.0 * np.pi) - sici(2.0 * np.pi)[1]
    # The sine in 200 straight pieces: (pi/200)^2/12 twice over.
    assert power == pytest.approx(ETA_0 / (4.0 * np.pi) * cin, rel=5e-5, abs=0)


def test_moving_the_source_turns_the_phase_only():
    graph = dipole(0.3, 1e-3, 6, at=(2.0, -1.0, 0.5))
    _, moved = even_field(graph, C_0)
    _, here = even_field(dipole(0.3, 1e-3, 6), C_0)
    radial, _, _ = direction_vectors(*ANGLES)
    phase = np.exp(2j * np.pi * radial @ np.array([2.0, -1.0, 0.5]))
    assert moved(*ANGLES)[0] == pytest.approx(phase * here(*ANGLES)[0], rel=1e-9, abs=0)


@given(st.floats(-1.5, 1.5), st.floats(0.0, 6.3))
def test_directions_are_a_right_handed_frame(elevation, azimuth):
    radial, theta, phi = direction_vectors(np.array([elevation]), np.array([azimuth]))
    assert np.cross(theta, phi) == pytest.approx(radial, abs=1e-14)
    assert radial[0, 2] == pytest.approx(np.sin(elevation), rel=1e-14, abs=0)
    assert theta[0, 2] <= 0.0


@given(st.integers(0, 10**6), st.floats(0.01, 2.0))
def test_sphere_order_is_enough_for_any_current(seed, size):
    """Twice the order finds the same power, up to a wire two wavelengths long."""
    rng = np.random.default_rng(seed)
    graph = dipole(size, 1e-4, 40, at=tuple(rng.normal(size=3)))
    current = rng.normal(size=(40, 2)) + 1j * rng.normal(size=(40, 2))
    points, moments = current_elements(graph, current)
    field_at, order = free_space_field(points, moments, C_0), sphere_order(points, C_0)
    assert sphere_power(field_at, order) == pytest.approx(sphere_power(field_at, 2 * order), rel=1e-10, abs=0)


def test_intensity_is_power_through_a_solid_angle():
    # 1 V/m at 1 m, both components, rms: 2/eta.
    assert intensity(np.array([[1.0 + 0j], [1j]]))[0] == pytest.approx(2.0 / ETA_0, rel=1e-14, abs=0)
