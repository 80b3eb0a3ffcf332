# SPDX-License-Identifier: BSD-3-Clause
"""Near fields against closed forms of ring and dipole, Maxwell's own equations, power and symmetry."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.physics.constants import C_0, EPS_0, ETA_0, MU_0
from ringwright.physics.far_field import current_elements, free_space_field, sphere_power
from ringwright.physics.graph import WireGraph, chain
from ringwright.physics.near_field import near_field

FREQUENCY = 14.2e6


def ring(radius, count, *, wire_radius=1e-3, centre=(0.0, 0.0, 0.0)):
    """A polygon in the x-y plane with the area of the circle."""
    corner = radius * np.sqrt(2.0 * np.pi / count / np.sin(2.0 * np.pi / count))
    angle = 2.0 * np.pi * np.arange(count) / count
    nodes = np.stack([corner * np.cos(angle), corner * np.sin(angle), 0.0 * angle], axis=1)
    return chain(nodes + np.array(centre), radius=wire_radius, closed=True)


def uneven_current(count, rng):
    at_nodes = 1.0 + 0.3 * (rng.normal(size=count) + 1j * rng.normal(size=count))
    return np.stack([at_nodes, np.roll(at_nodes, -1)], axis=1)


def size(field):
    return np.linalg.norm(field, axis=-1)


@pytest.mark.parametrize(
    ("frequency", "printed"),
    [
        (1.0, (1.000000, 0.08944272, 0.01426680, 0.000985185)),
        (FREQUENCY, (1.011011, 0.09426408, 0.01673800, 0.001772358)),
    ],
)
def test_field_on_the_axis_of_a_ring_with_even_current(frequency, printed):
    # |H| = I b^2 sqrt(1 + k^2 rho^2)/(2 rho^3), exact for a filament ring; the digits were computed from it apart
    # from this program and are good to half of the last one.
    z = np.array([0.0, 1.0, 2.0, 5.0])
    field_at = near_field(ring(0.5, 200), np.ones((200, 2), dtype=complex), frequency)
    _, magnetic = field_at(np.stack([0 * z, 0 * z, z], axis=1))
    assert size(magnetic) == pytest.approx(printed, rel=1e-6, abs=0)
    rho, k = np.hypot(0.5, z), 2.0 * np.pi * frequency / C_0
    closed = 0.25 / (2.0 * rho**3) * np.sqrt(1.0 + (k * rho) ** 2)
    assert size(magnetic) == pytest.approx(closed, rel=1e-8, abs=0)  # 200 corners for the circle


@pytest.mark.parametrize(
    ("distance", "equatorial", "axial", "electric"),
    [
        (1.0, 0.07629788, 0.1660537, 9.308865),
        (3.0, 0.002698515, 0.007902199, 1.328977),
        (10.0, 6.686038e-4, 4.99685e-4, 0.2801202),
    ],
)
def test_small_ring_is_a_magnetic_dipole(distance, equatorial, axial, electric):
    # Printed for a point dipole of 1 A m^2; a ring of 4 mm differs by about (b/r)^2 = 1.6e-5.
    radius = 4e-3
    moment = 1.0 / (np.pi * radius**2)
    field_at = near_field(
        ring(radius, 48, wire_radius=1e-5), np.full((48, 2), moment, dtype=complex), FREQUENCY
    )
    e, h = field_at(np.array([[distance, 0.0, 0.0], [0.0, 0.0, distance]]))
    assert size(h) == pytest.approx([equatorial, axial], rel=3e-5, abs=0)
    assert size(e)[0] == pytest.approx(electric, rel=3e-5, abs=0)


def test_curls_are_those_of_maxwell():
    rng = np.random.default_rng(5)
    graph = ring(0.5, 24, wire_radius=0.01)
    field_at = near_field(graph, uneven_current(24, rng), FREQUENCY)
    points = rng.normal(size=(40, 3)) * 0.8
    # Fields of a filament vary as 1/d^3: five-point differences of d/40 leave some (1/40)^4.
    d = (
        1.0
        / 80.0
        * np.linalg.norm(points[:, None] - graph.points(np.linspace(0, 1, 9)).reshape(-1, 3), axis=2)
    )
    step = d.min(axis=1)[:, None]
    gradients = []
    for axis in np.eye(3):
        terms = [
            (weight / 12.0 / step) * np.stack(field_at(points + n * step * axis))
            for n, weight in ((-2, 1.0), (-1, -8.0), (1, 8.0), (2, -1.0))
        ]
        gradients.append(np.sum(terms, axis=0))
    d_x, d_y, d_z = gradients
    curl = np.stack(
        [
            d_y[..., 2] - d_z[..., 1],
            d_z[..., 0] - d_x[..., 2],
            d_x[..., 1] - d_y[..., 0],
        ],
        axis=-1,
    )
    e, h = field_at(points)
    omega = 2.0 * np.pi * FREQUENCY
    roughness = size(np.abs(np.stack(gradients)).max(axis=0))
    assert np.all(size(curl[0] + 1j * omega * MU_0 * h) < 1e-5 * roughness[0])
    assert np.all(size(curl[1] - 1j * omega * EPS_0 * e) < 1e-5 * roughness[1])
    # Neither side of the two equations is lost in that allowance.
    assert np.median(size(omega * MU_0 * h) / roughness[0]) > 1e-3
    assert np.median(size(omega * EPS_0 * e) / roughness[1]) > 1e-3


@pytest.mark.parametrize("radius", [0.62, 1.0, 8.0])
def test_power_through_a_close_sphere_is_what_arrives_far_away(radius):
    count = 48
    graph = ring(0.5, count, wire_radius=0.011)
    angle = 2.0 * np.pi * np.arange(count) / count
    at_nodes = 28.0 * (1.0 - 0.2 * np.cos(angle)) + 0j  # more opposite the gap, as real rings have
    current = np.stack([at_nodes, np.roll(at_nodes, -1)], axis=1)
    order = 48
    sines, weights = np.polynomial.legendre.leggauss(order)
    around = np.arange(2 * order) * np.pi / order
    up, round_ = (grid.ravel() for grid in np.meshgrid(np.arcsin(sines), around, indexing="ij"))
    outward = np.stack([np.cos(up) * np.cos(round_), np.cos(up) * np.sin(round_), np.sin(up)], axis=1)
    e, h = near_field(graph, current, FREQUENCY)(radius * outward)
    flux = np.sum(np.cross(e, h.conj()).real * outward, axis=1).reshape(order, -1)
    through = float(weights @ flux.mean(axis=1)) * 2.0 * np.pi * radius**2
    far = sphere_power(free_space_field(*current_elements(graph, current), FREQUENCY), 24)
    # Close by, the flux is a ten-thousandth of the field's energy that swings to and fro: 1e-6 is left of the digits.
    assert through == pytest.approx(far, rel=1e-6, abs=0)


def test_far_away_it_becomes_the_far_field():
    rng = np.random.default_rng(6)
    graph, current = ring(0.5, 24), uneven_current(24, rng)
    distance, k = 3e3, 2.0 * np.pi * FREQUENCY / C_0
    up, round_ = rng.uniform(-1.5, 1.5, 20), rng.uniform(0.0, 6.2, 20)
    outward = np.stack([np.cos(up) * np.cos(round_), np.cos(up) * np.sin(round_), np.sin(up)], axis=1)
    e, h = near_field(graph, current, FREQUENCY)(distance * outward)
    far = free_space_field(*current_elements(graph, current), FREQUENCY)(up, round_)
    # The source is 1e-4 of the distance across, 1/(kr)^2 is 1e-6.
    assert size(e) * distance == pytest.approx(np.linalg.norm(far, axis=0), rel=1e-3, abs=0)
    assert size(e) / size(h) == pytest.approx(ETA_0, rel=1e-3, abs=0)
    assert k * distance > 800.0


def test_two_rings_are_reciprocal():
    # Lorentz: what ring 1 induces along ring 2's current equals the reverse (60-point Gauss along each
    # segment). The two points of the remainder leave 2e-8 on sides of 0.2 m.
    rng = np.random.default_rng(7)
    rings = [ring(0.5, 16), ring(0.2, 12, centre=(0.3, 0.2, 0.7))]
    currents = [uneven_current(len(g.segments), rng) for g in rings]

    def induced(source, receiver):
        x, w = (each / 2.0 for each in np.polynomial.legendre.leggauss(60))
        graph, current = rings[receiver], currents[receiver]
        e, _ = near_field(rings[source], currents[source], FREQUENCY)(graph.points(0.5 + x).reshape(-1, 3))
        along = np.einsum("sqc,sc->sq", e.reshape(len(graph.segments), -1, 3), graph.vectors)
        there = current[:, :1] * (0.5 - x) + current[:, 1:] * (0.5 + x)
        return np.sum(along * there * w)

    assert induced(0, 1) == pytest.approx(induced(1, 0), rel=1e-7, abs=0)


@given(st.floats(1e-2, 1e2), st.floats(0.1, 10.0))
def test_fields_scale_with_size_and_current(scale, amperes):
    # At the same size in wavelengths H goes as I/length and E with it.
    rng = np.random.default_rng(8)
    current = uneven_current(12, rng)
    graph, points = ring(0.5, 12), rng.normal(size=(5, 3)) + 1.0
    scaled = WireGraph(
        nodes=graph.nodes * scale,
        segments=graph.segments,
        radius=graph.radius * scale,
        wire=graph.wire,
        turn=graph.turn,
        address=graph.address,
        length_factor=graph.length_factor,
    )
    before = near_field(graph, current, FREQUENCY)(points)
    after = near_field(scaled, current * amperes, FREQUENCY / scale)(points * scale)
    for one, other in zip(before, after, strict=True):
        assert size(other - one * amperes / scale) == pytest.approx(
            0.0, abs=1e-10 * amperes / scale * size(one).min()
        )


def test_points_in_line_with_a_segment_and_on_it_give_numbers():
    graph = ring(0.5, 12, wire_radius=0.01)
    nodes = graph.nodes
    in_line = nodes[0] + np.array([[2.0], [1.0 + 1e-9], [-0.5], [-4.0]]) * (nodes[1] - nodes[0])
    e, h = near_field(graph, np.ones((12, 2), dtype=complex), FREQUENCY)(
        np.concatenate([in_line, nodes, graph.centres])
    )
    assert np.all(np.isfinite(e))
    assert np.all(np.isfinite(h))
