# SPDX-License-Identifier: BSD-3-Clause
"""Energy: what currents spend over an earth is what leaves into the sky and what crosses z = 0, by three roads.

Spent: power in free space and work against the ground part of the near field (tables). Sky: Fresnel far field. Earth:
plane-wave flux, which knows neither.
"""

import numpy as np
import pytest

from ringwright.physics.far_field import current_elements, free_space_field, sphere_order, sphere_power
from ringwright.physics.graph import WireGraph, chain
from ringwright.physics.half_space import PERFECT_EARTH, complex_permittivity
from ringwright.physics.half_space.into_earth import earth_power
from ringwright.physics.half_space.sky import field_over_earth, sky_power
from tests.physics.half_space.element_fields import ground_field

EARTHS = {"sea": (80.0, 5.0), "fresh water": (80.0, 3e-3), "average": (13.0, 5e-3), "very dry": (3.0, 1e-4)}
SHORT = 0.05  # [m]


def dipole(direction: list[float], height: float) -> tuple[WireGraph, np.ndarray]:
    """A short wire with its largest current in the middle."""
    along = SHORT * np.array(direction) / np.linalg.norm(direction)
    nodes = np.array([[0.3, 0.1, height]]) + np.array([[-1.0], [0.0], [1.0]]) * along
    return chain(nodes, radius=1e-4, closed=False), np.array([[0.0, 1.0], [1.0, 0.0]], dtype=complex)


def ring(height: float, tilt: float) -> tuple[WireGraph, np.ndarray]:
    """A ring of 24 sides and 1 m across, with a current that varies round it."""
    angle = np.arange(24) * 2.0 * np.pi / 24
    out, up = np.cos(angle), np.sin(angle)
    nodes = 0.5 * np.stack([out, up * np.sin(tilt), up * np.cos(tilt)], axis=1) + [0.0, 0.0, height]
    current = 1.0 + (0.1 - 0.05j) * np.cos(angle)
    return chain(nodes, radius=1e-3, closed=True), np.stack([current, np.roll(current, -1)], axis=1)


SOURCES = {
    "vertical dipole": dipole([0.0, 0.0, 1.0], 1.0),
    "slanted dipole, low": dipole([1.0, 2.0, 1.0], 0.3),
    "standing ring": ring(1.5, 0.0),
    "slanted ring": ring(2.0, 0.6),
    "lying ring": ring(0.4, np.pi / 2.0),
}


def spent(graph: WireGraph, current: np.ndarray, frequency: float, eps_c: complex) -> float:
    points, moments = current_elements(graph, current)
    free = sphere_power(free_space_field(points, moments, frequency), sphere_order(points, frequency))
    electric, _ = ground_field(points, moments, frequency=frequency, eps_c=eps_c, tolerance=1e-9)(points)
    return float(free - np.sum(electric * moments.conj()).real)


def into_sky(graph: WireGraph, current: np.ndarray, frequency: float, eps_c: complex) -> float:
    points, moments = current_elements(graph, current)
    field = field_over_earth(points, moments, frequency=frequency, eps_c=eps_c)
    return sky_power(field, points=points, frequency=frequency)


@pytest.mark.parametrize("frequency", [3.65e6, 14.2e6, 28.5e6])
@pytest.mark.parametrize("earth", EARTHS)
@pytest.mark.parametrize("source", SOURCES)
def test_what_is_spent_goes_into_sky_and_earth(source, earth, frequency):
    graph, current = SOURCES[source]
    eps_c = complex_permittivity(frequency, *EARTHS[earth])
    sky = into_sky(graph, current, frequency, eps_c)
    into_earth = earth_power(graph, current, frequency=frequency, eps_c=eps_c)
    # The flux is made for 1e-5.
    assert sky + into_earth == pytest.approx(spent(graph, current, frequency, eps_c), rel=1e-5, abs=0)


@pytest.mark.parametrize("source", SOURCES)
def test_over_a_perfect_earth_all_of_it_goes_into_the_sky(source):
    graph, current = SOURCES[source]
    sky = into_sky(graph, current, 14.2e6, PERFECT_EARTH)
    assert sky == pytest.approx(spent(graph, current, 14.2e6, PERFECT_EARTH), rel=1e-6, abs=0)
