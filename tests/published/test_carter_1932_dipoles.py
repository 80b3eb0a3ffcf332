# SPDX-License-Identifier: BSD-3-Clause
"""P. S. Carter, Proc. IRE 20, 1004-1041, 1932: impedances of half-wave dipoles by the induced-EMF method.

First the oracle against the printed and recomputed values, which write eta_0 = 120 pi. Then the solver: Carter
imposes a half sine, the solver finds the current, so its delta-gap dipole of finite radius is *not* 73.1 + j42.5. Two
checks fit the model: the reaction of imposed half sines through the solver's matrix, and the limit of vanishing radius.
"""

import numpy as np
import pytest

from ringwright.physics.constants import C_0, ETA_0
from ringwright.physics.graph import join
from ringwright.physics.thin_wire import ThinWire
from tests.physics.wires import dipole, solve
from tests.published.emf_dipole import mutual_impedance, self_impedance, side_by_side

BOOK = 120 * np.pi / ETA_0


def test_self_impedance_of_a_half_wave():
    assert BOOK * self_impedance() == pytest.approx(73.129602 + 42.544547j, rel=2e-8, abs=0)
    assert self_impedance() == pytest.approx(73.07901 + 42.51511j, rel=2e-7, abs=0)


@pytest.mark.parametrize(
    ("distance", "ohm"),
    [
        (0.10, 67.333615 + 7.537792j),
        (0.25, 40.785720 - 28.349052j),
        (0.50, -12.532077 - 29.928641j),
        (0.75, -22.496807 + 6.632232j),
        (1.00, 4.011631 + 17.742029j),
    ],
)
def test_side_by_side_by_formula_and_by_quadrature(distance, ohm):
    # -12.532 - j29.929 at half a wave is in every handbook; the other digits by another program.
    assert BOOK * side_by_side(distance) == pytest.approx(ohm, rel=3e-8, abs=0)
    assert mutual_impedance(distance) == pytest.approx(side_by_side(distance), rel=1e-8, abs=0)


@pytest.mark.parametrize(
    ("spacing", "ohm"),
    [(0.5, 26.414254 + 20.162129j), (0.75, 2.045675 - 7.970969j), (1.0, -4.118780 - 0.722054j)],
)
def test_collinear_by_quadrature(spacing, ohm):
    # The second dipole is 1e-7 wavelengths aside, for the ends that touch; digits by another program.
    assert BOOK * mutual_impedance(1e-7, spacing) == pytest.approx(ohm, rel=3e-7, abs=0)


def reactions(segments: int, at: tuple[float, float, float]) -> tuple[complex, complex]:
    """Self and mutual impedance [ohm] of imposed half sines on two half-wave dipoles, through the solver's matrix."""
    graph = join([dipole(0.5, 1e-6, segments), dipole(0.5, 1e-6, segments, at=at)])
    wires = ThinWire(graph, [segments // 2])
    node = wires.rooftops.node
    is_second = node > segments
    z = graph.nodes[node, 2] - np.where(is_second, at[2], 0.0)
    first, second = (np.where(chosen, np.cos(2 * np.pi * z), 0.0) for chosen in (~is_second, is_second))
    matrix = wires._interaction(np.array([C_0]))[0]
    return complex(first @ matrix @ first), complex(first @ matrix @ second)


PLACES = [(0.1, 0.0, 0.0), (0.5, 0.0, 0.0), (1e-3, 0.0, 0.75), (0.3, 0.0, 0.4)]


@pytest.mark.parametrize("at", PLACES, ids=["close", "side by side", "collinear", "in echelon"])
def test_solver_s_matrix_gives_carter_s_impedances(at):
    own, mutual = reactions(80, at)
    # A half sine in 80 straight pieces: (pi/80)^2/6 for either; the self term carries (1/24) of it times the
    # logarithm of the radius more.
    assert abs(own / self_impedance() - 1) < 1.5e-3
    assert abs(mutual / mutual_impedance(at[0], at[2]) - 1) < 3e-4


def test_solver_s_matrix_converges_to_carter_with_the_square_of_the_segment():
    errors = []
    for segments in (20, 40, 80):
        own, mutual = reactions(segments, (0.5, 0.0, 0.0))
        errors.append((abs(own / self_impedance() - 1), abs(mutual / side_by_side(0.5) - 1)))
    ratio = np.array(errors[:-1]) / np.array(errors[1:])
    assert np.all(ratio > 3.9)
    assert np.all(ratio < 4.5)


def test_solver_tends_to_carter_as_the_wire_vanishes():
    """Centre-fed pair half a wave apart: impedances as a cubic in 1/Omega, Omega = 2 ln(L/a), and h^2 taken out."""
    radii = np.array([1e-4, 1e-5, 1e-6, 1e-8, 1e-10, 1e-12])

    def pair(wire_radius: float, segments: int) -> np.ndarray:
        graph = join([dipole(0.5, wire_radius, segments), dipole(0.5, wire_radius, segments, at=(0.5, 0, 0))])
        return np.asarray(solve(graph, [segments // 2, segments // 2 + segments + 1]).impedance[0, 0])

    values = np.array([(4 * pair(a, 80) - pair(a, 40)) / 3 for a in radii])
    limit = np.polynomial.polynomial.polyfit(1 / (2 * np.log(0.5 / radii)), values, 3)[0]
    # The next power of 1/Omega, extrapolated over a third of its range.
    assert abs(limit[0] / self_impedance() - 1) < 0.005
    assert abs(limit[1] / side_by_side(0.5) - 1) < 0.005
    # And no radius one can build is there yet: 80.3 at a/lambda = 1e-4.
    assert 1.08 < values[0, 0].real / self_impedance().real < 1.12
