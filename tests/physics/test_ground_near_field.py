# SPDX-License-Identifier: BSD-3-Clause
"""The earth's share of the near field: images, Maxwell's equations, the dipole form, and adaptive quadrature."""

import numpy as np
import pytest

from ringwright.errors import OutOfRangeError
from ringwright.physics.constants import EPS_0, MU_0
from ringwright.physics.far_field import current_elements
from ringwright.physics.graph import chain
from ringwright.physics.ground_near_field import FARTHEST, KERNELS, TOLERANCE, ground_near_field
from ringwright.physics.half_space import PERFECT_EARTH, complex_permittivity, wave_index, wavenumber
from ringwright.physics.half_space.contour import Reach
from ringwright.physics.half_space.tables import KernelTable
from ringwright.physics.near_field import near_field
from tests.physics.half_space.by_quadrature import reflected_kernels
from tests.physics.half_space.element_fields import ground_field

FREQUENCY = 14.2e6
EARTHS = {"sea water": (70.0, 5.0), "average": (13.0, 0.005), "dry sand": (3.0, 1e-4)}


def leaning_loop(lowest=0.8):
    """A crooked loop of 32 segments, 0.8 m across, with an uneven current."""
    angle = 2.0 * np.pi * np.arange(32) / 32
    nodes = np.stack([0.4 * np.cos(angle), 0.15 * np.sin(angle), 0.4 * np.sin(angle)], axis=1)
    nodes[:, 2] += lowest - nodes[:, 2].min()
    at_nodes = 20.0 * (1.0 + 0.2 * np.cos(angle) + 0.1j * np.sin(angle))
    return chain(nodes, radius=0.008, closed=True), np.stack([at_nodes, np.roll(at_nodes, -1)], axis=1)


def permittivity(name, frequency=FREQUENCY):
    eps_r, sigma = EARTHS[name]
    return complex_permittivity(frequency, permittivity=eps_r, conductivity=sigma)


def points_above(count=60, spread=2.0):
    points = np.random.default_rng(41).normal(size=(count, 3)) * spread
    points[:, 2] = abs(points[:, 2])
    points[:5, 2] = 0.0
    return points


def size(field):
    return np.linalg.norm(field, axis=-1)


def test_on_a_perfect_earth_the_field_stands_upright():
    graph, current = leaning_loop()
    points = points_above() * [1.0, 1.0, 0.0]
    free = near_field(graph, current, FREQUENCY)(points)
    ground = ground_near_field(graph, current, FREQUENCY, eps_c=PERFECT_EARTH)(points)
    electric, magnetic = free[0] + ground[0], free[1] + ground[1]
    assert np.all(size(electric[:, :2]) < 1e-9 * size(free[0]))
    assert np.all(abs(magnetic[:, 2]) < 1e-9 * size(free[1]))


def test_a_very_good_conductor_is_a_mirror():
    # Skin depth 0.1 um: sigma = 1e12 S/m differs from the image by less than the table's 1e-4.
    graph, current = leaning_loop()
    points = points_above()
    eps_c = complex_permittivity(FREQUENCY, permittivity=1.0, conductivity=1e12)
    mirror = ground_near_field(graph, current, FREQUENCY, eps_c=PERFECT_EARTH)(points)
    lossy = ground_near_field(graph, current, FREQUENCY, eps_c=eps_c)(points)
    for ours, image in zip(lossy, mirror, strict=True):
        assert np.max(size(ours - image) / size(image)) < 1e-3  # point elements of 78 mm at 0.8 m


@pytest.mark.parametrize("name", EARTHS)
def test_obeys_maxwell_in_the_air(name):
    graph, current = leaning_loop()
    field_at = ground_near_field(graph, current, FREQUENCY, eps_c=permittivity(name))
    points = np.add(points_above(30), [0.0, 0.0, 0.3])
    step = 0.1  # a fifteenth of the least distance to the image: the five-point rule leaves (1/15)^4
    slopes = []
    for axis in np.eye(3):
        terms = [
            weight / (12.0 * step) * np.stack(field_at(points + n * step * axis))
            for n, weight in ((-2, 1.0), (-1, -8.0), (1, 8.0), (2, -1.0))
        ]
        slopes.append(np.sum(terms, axis=0))
    d_x, d_y, d_z = slopes
    curl = np.stack(
        [d_y[..., 2] - d_z[..., 1], d_z[..., 0] - d_x[..., 2], d_x[..., 1] - d_y[..., 0]], axis=-1
    )
    electric, magnetic = field_at(points)
    omega = 2.0 * np.pi * FREQUENCY
    steepest = size(np.abs(np.stack(slopes)).max(axis=0))
    # 2e-3 of the steepest slope: the table's 1e-4 over a step of a fifteenth.
    assert np.max(size(curl[0] + 1j * omega * MU_0 * magnetic) / steepest[0]) < 2e-3
    assert np.max(size(curl[1] - 1j * omega * EPS_0 * electric) / steepest[1]) < 2e-3
    assert np.median(size(omega * MU_0 * magnetic) / steepest[0]) > 0.02
    assert np.median(size(omega * EPS_0 * electric) / steepest[1]) > 0.02


@pytest.mark.parametrize("frequency", [1.85e6, 14.2e6, 53e6])
@pytest.mark.parametrize("name", EARTHS)
@pytest.mark.parametrize("lowest", [0.15, 0.8])
def test_charges_and_dipole_ends_tell_the_same(name, frequency, lowest):
    # The form by derivatives under the integral is held to a layered-earth library in its own tests.
    graph, current = leaning_loop(lowest)
    eps_c, points = permittivity(name, frequency), points_above()
    free = near_field(graph, current, frequency)(points)
    ours = ground_near_field(graph, current, frequency, eps_c=eps_c)(points)
    dipoles = ground_field(
        *current_elements(graph, current), frequency=frequency, eps_c=eps_c, tolerance=1e-7
    )(points)
    for one, other, direct in zip(ours, dipoles, free, strict=True):
        assert np.max(size(one - other) / size(direct + other)) < 2e-3


def test_long_wires_are_cut():
    long = chain(np.array([[-2.0, 1.0, 0.4], [0.0, 1.0, 0.4], [2.0, 1.0, 0.4]]), radius=0.02, closed=False)
    fine = chain(np.linspace([-2.0, 1.0, 0.4], [2.0, 1.0, 0.4], 81), radius=0.02, closed=False)
    on_fine = 1.0 - abs(np.linspace(-1.0, 1.0, 81)) + 0j
    points, eps_c = points_above(), permittivity("average")
    coarse = ground_near_field(long, np.array([[0, 1], [1, 0]]) + 0j, FREQUENCY, eps_c=eps_c)(points)
    detailed = ground_near_field(fine, np.stack([on_fine[:-1], on_fine[1:]], axis=1), FREQUENCY, eps_c=eps_c)(
        points
    )
    for one, other in zip(coarse, detailed, strict=True):
        assert (
            np.max(size(one - other) / size(other)) < 5e-3
        )  # elements of a quarter of the height: (1/4)^2/24


@pytest.mark.parametrize("name", EARTHS)
@pytest.mark.parametrize("frequency", [1.85e6, 53e6])
def test_tables_hold_out_to_the_farthest_point(name, frequency):
    eps_c, k = permittivity(name, frequency), wavenumber(frequency)
    rho, h = np.array([9.0, FARTHEST]), np.array([0.4, 30.0])
    reach = Reach(h_min=0.4, h_max=40.0, rho_max=FARTHEST, k_max=k, k_earth=wave_index(eps_c) * k)
    table = KernelTable.build(KERNELS, reach, tolerance=TOLERANCE)
    ours = table.read(table.values(k, eps_c), table.weights(rho, h), np.hypot(rho, h))
    exact = reflected_kernels(KERNELS, rho, h, frequency=frequency, eps_c=eps_c)
    decay = np.array([kernel.decay for kernel in KERNELS])[:, None]
    # Against the kernel of a perfect image, which waves in the air raise by (kr)^(decay - 1) at a distance.
    r = np.hypot(rho, h)
    image = np.maximum(1.0, k * r) ** (decay - 1) / (4.0 * np.pi * r**decay)
    assert np.max(abs(ours - exact) / image) < 10.0 * TOLERANCE


def test_refuses_what_it_does_not_know():
    graph, current = leaning_loop()
    field_at = ground_near_field(graph, current, FREQUENCY, eps_c=permittivity("average"))
    with pytest.raises(OutOfRangeError, match="in the earth"):
        field_at(np.array([[1.0, 0.0, -0.1]]))
    with pytest.raises(OutOfRangeError, match="fields hold to"):
        field_at(np.array([[130.0, 0.0, 1.0]]))
    with pytest.raises(OutOfRangeError, match="frequency"):
        ground_near_field(graph, current, 1e6, eps_c=permittivity("average", 1e6))
