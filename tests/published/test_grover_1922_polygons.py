# SPDX-License-Identifier: BSD-3-Clause
"""F. W. Grover, Sci. Papers Bureau of Standards 18, 737-762, 1922 (no. 468): polygons of round wire.

L = (mu0/2pi) N s [ln(s/a) + c_N] in the skin-effect limit, without Grover's term for the wire's thickness
at the corners.
"""

import numpy as np
import pytest

from ringwright.physics.constants import MU_0
from ringwright.physics.graph import chain
from ringwright.physics.inductance import polygon_constant, polygon_inductance
from tests.physics.wires import solve


@pytest.mark.parametrize(("sides", "printed"), [(3, -1.40546), (4, -0.77401), (6, -0.15152), (8, 0.21198)])
def test_constant_as_grover_prints_it(sides, printed):
    # From memory, each confirmed by an independent computation; one unit of the fifth decimal. For the pentagon memory
    # says -0.40914 and the computation below -0.40922: trust the computation.
    assert polygon_constant(sides) == pytest.approx(printed, rel=1e-5 / abs(printed), abs=0)


@pytest.mark.parametrize(
    ("sides", "expected"),
    [
        (3, -1.405465),
        (4, np.log(2) + np.sqrt(2) - np.arcsinh(1) - 2),  # closed form of the square
        (5, -0.409221),
        (6, -0.151519),
        (8, 0.211977),
        (12, 0.674151),
        (36, 1.817943),
    ],
)
def test_constant_by_independent_computation(sides, expected):
    # Six decimals, by Neumann's integral elsewhere.
    assert polygon_constant(sides) == pytest.approx(expected, rel=1e-6 / abs(expected), abs=0)


@pytest.mark.parametrize(("sides", "nanohenry"), [(4, 2068.899), (6, 2199.117), (8, 2244.605)])
def test_three_metres_of_22_mm_tube(sides, nanohenry):
    value = 1e9 * polygon_inductance(sides, side=3.0 / sides, wire_radius=0.011)
    assert value == pytest.approx(nanohenry, rel=4e-7, abs=0)


def test_many_sides_make_a_circle():
    # alpha = ln 2N - c_N tends to 2 - ln(2/pi) = 2.451583; the polygon's defect falls as 1/N^2, 1.5e-7 here.
    sides = 3000
    assert np.log(2 * sides) - polygon_constant(sides) == pytest.approx(
        2 - np.log(2 / np.pi), rel=1e-6, abs=0
    )


@pytest.mark.parametrize("wire_radius", [1e-4, 1e-3])
@pytest.mark.parametrize(("sides", "printed"), [(3, -1.40546), (4, -0.77401), (6, -0.15152), (8, 0.21198)])
def test_solved_polygon_is_the_inductor(sides, printed, wire_radius):
    """Perimeter 3 m, twelve segments a side, where the wavelength is three kilometres."""
    corner = np.exp(2j * np.pi * np.arange(sides + 1) / sides) / (2 * np.sin(np.pi / sides)) * 3.0 / sides
    along = np.arange(12)[:, None] / 12
    z = (corner[:-1] + along * np.diff(corner)).T.ravel()
    nodes = np.stack([z.real, z.imag, 0 * z.real], axis=1)
    f = 1e5
    x = solve(chain(nodes, radius=wire_radius, closed=True), [6], f).impedance[0, 0, 0].imag
    expected = MU_0 / (2 * np.pi) * 3.0 * (np.log(3.0 / sides / wire_radius) + printed)
    # What the corners add is of the order of Grover's own term, N a mu0/2pi; for a triangle three times it.
    corners = MU_0 / (2 * np.pi) * sides * wire_radius
    assert -0.1 * corners < x / (2 * np.pi * f) - expected < 3.5 * corners + 1e-5 * expected
