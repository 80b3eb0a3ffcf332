# SPDX-License-Identifier: BSD-3-Clause
"""Rings and polygons against the exact torus, Neumann's integral, and what must hold of any inductance."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import OutOfRangeError
from ringwright.physics.constants import MU_0
from ringwright.physics.inductance import (
    polygon_constant,
    polygon_inductance,
    rectangle_inductance,
    ring_crowding,
    ring_inductance,
)
from ringwright.physics.strip import strip_equivalent_radius
from tests.physics.torus import solve

# Inductance over mu_0 R and loss over straight wire of the perfect torus, by the boundary integral of another program.
TORUS = [
    (0.010, 4.683823, 1.00129),
    (0.022, 3.893343, 1.00444),
    (0.050, 3.065247, 1.01478),
    (0.100, 2.355163, 1.03698),
    (0.200, 1.622937, 1.07908),
]


@pytest.mark.parametrize(("thinness", "inductance", "loss"), TORUS)
def test_the_torus_oracle_agrees_with_another_solution(thinness, inductance, loss):
    ours = solve(thinness)
    assert ours[0] == pytest.approx(inductance, rel=3.3e-7, abs=0)  # half its last digit
    assert ours[1] == pytest.approx(loss, rel=5e-6, abs=0)


@pytest.mark.parametrize("thinness", [0.005, 0.01, 0.022, 0.05, 0.1, 0.2])
def test_ring_inductance_is_that_of_the_torus(thinness):
    # The expansion stops at (a/R)^2; what follows is of the order (a/R)^4 ln(8R/a). The oracle is good to 3e-9.
    exact, _ = solve(thinness)
    left_out = thinness**4 * np.log(8 / thinness) / 4
    assert ring_inductance(1.0, thinness) / MU_0 == pytest.approx(exact, rel=left_out + 3e-9, abs=0)


@pytest.mark.parametrize("thinness", [0.005, 0.01, 0.022, 0.05, 0.1, 0.2])
def test_ring_crowding_is_that_of_the_torus(thinness):
    _, exact = solve(thinness)
    # The excess over 1 to a relative (a/R)^2 ln: 1.2 % at 0.1, 4.1 % at 0.2.
    excess = ring_crowding(1.0, thinness) - 1
    assert excess == pytest.approx(exact - 1, rel=1.5 * thinness**2 + 1e-4, abs=0)


@pytest.mark.parametrize(
    ("width", "axial", "radial", "tolerance"),
    # Inductance in nH of strip rings of 3 m by another program: the strip along the ring's axis, and in its plane.
    [(0.02, 2783.358, 2781.788, 5e-4), (0.05, 2234.675, 2227.377, 2e-3), (0.10, 1821.980, 1799.461, 7e-3)],
)
def test_strip_ring_with_its_equivalent_radius(width, axial, radial, tolerance):
    value = 1e9 * ring_inductance(3.0 / (2 * np.pi), strip_equivalent_radius(width, width * 1e-6))
    for exact in (axial, radial):
        assert value == pytest.approx(exact, rel=tolerance, abs=0)


def neumann(sides: int, gap: float) -> float:
    """Inductance of a polygon of side 1 over mu_0/2pi, by the double integral between its axis and a line `gap` off the
    plane: what a filament form says of a tube with that radius, up to the square of the radius."""
    node, weight = np.polynomial.legendre.leggauss(400)
    # Graded towards both ends of each side, where neighbours meet.
    t = 0.5 * (node + 1)
    s, ds = t**3 * (10 - 15 * t + 6 * t**2), 0.5 * weight * 30 * t**2 * (1 - t) ** 2
    corner = np.exp(2j * np.pi * np.arange(sides + 1) / sides) / (2 * np.sin(np.pi / sides))
    first = corner[0] + s * (corner[1] - corner[0])
    total = 0.0
    for i in range(1, sides):
        other = corner[i] + s * (corner[i + 1] - corner[i])
        r = np.sqrt(np.abs(first[:, None] - other) ** 2 + gap**2)
        total += np.cos(2 * np.pi * i / sides) * float(ds @ (1 / r) @ ds)
    own = 2 * (np.arcsinh(1 / gap) - np.sqrt(1 + gap**2) + gap)
    return float(sides * (own + total) / 2)


@pytest.mark.parametrize("sides", [3, 4, 6, 8, 12])
def test_polygon_is_neumann_s_integral(sides):
    gap = 1e-4
    value = float(polygon_inductance(sides, side=1.0, wire_radius=gap)) / (MU_0 / (2 * np.pi))
    # The corners differ by a term of N times the gap: the uncertainty the docstring states, 1e-4 of each side.
    assert value == pytest.approx(neumann(sides, gap), rel=3e-5, abs=0)


def test_of_equal_perimeters_the_rounder_has_more():
    values = [float(polygon_inductance(n, side=3.0 / n, wire_radius=0.005)) for n in (3, 4, 5, 6, 8, 12, 36)]
    assert np.all(np.diff(values) > 0)
    assert values[-1] < ring_inductance(3.0 / (2 * np.pi), 0.005)


def test_of_equal_perimeters_the_squarer_rectangle_has_more():
    widths = np.linspace(0.1, 0.75, 20)
    assert np.all(np.diff(rectangle_inductance(widths, 1.5 - widths, wire_radius=0.005)) > 0)


def test_a_long_rectangle_is_a_two_wire_line():
    # mu0/pi ln(d/a) a metre; the ends add a constant, so take the growth. Textbook.
    a, d = 1e-3, 0.1
    per_metre = rectangle_inductance(101.0, d, wire_radius=a) - rectangle_inductance(100.0, d, wire_radius=a)
    assert per_metre == pytest.approx(MU_0 / np.pi * np.log(d / a), rel=1e-6, abs=0)


@given(st.floats(0.05, 5.0), st.floats(1e-4, 0.19), st.floats(0.1, 10.0), st.integers(3, 40))
def test_inductance_scales_with_size(radius, thinness, scale, sides):
    one, two = (ring_inductance(radius * k, radius * thinness * k) for k in (1.0, scale))
    assert two == pytest.approx(scale * one, rel=1e-12, abs=0)
    one, two = (
        polygon_inductance(sides, side=radius * k, wire_radius=radius * thinness * k) for k in (1.0, scale)
    )
    assert two == pytest.approx(scale * one, rel=1e-12, abs=0)


@given(st.floats(1e-4, 0.19))
def test_thicker_wire_has_less_inductance_and_more_crowding(thinness):
    assert ring_inductance(1.0, thinness * 1.05) < ring_inductance(1.0, thinness)
    assert ring_crowding(1.0, thinness) > 1.0


def test_shapes_broadcast():
    assert ring_inductance(np.ones((4, 1)), [0.01, 0.02]).shape == (4, 2)
    assert polygon_inductance(6, side=np.ones((4, 1)), wire_radius=[0.01, 0.02]).shape == (4, 2)


def test_wire_too_thick_for_its_ring_is_refused():
    with pytest.raises(OutOfRangeError, match=r"at most 0\.2 of the ring's radius"):
        ring_inductance(0.1, 0.021)
    with pytest.raises(OutOfRangeError, match=r"at most 0\.2 of the side"):
        polygon_inductance(8, side=0.05, wire_radius=0.011)
    with pytest.raises(OutOfRangeError, match="shorter side"):
        rectangle_inductance(1.0, 0.05, wire_radius=0.011)
    with pytest.raises(OutOfRangeError, match="at least 3 sides"):
        polygon_constant(2)
