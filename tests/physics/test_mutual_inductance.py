# SPDX-License-Identifier: BSD-3-Clause
"""Two circles in any position: Neumann's double integral, reciprocity, and the dipole far away."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from ringwright.errors import OutOfRangeError
from ringwright.physics.constants import MU_0
from ringwright.physics.inductance import ring_inductance
from ringwright.physics.mutual_inductance import mutual_inductance_circles, mutual_inductance_coaxial


@pytest.mark.parametrize(("offset", "nanohenry"), [(0.20, 46.236869), (0.38, 96.151429), (0.62, -45.893269)])
def test_coplanar_circles_off_centre(offset, nanohenry):
    # Radii 0.5 and 0.1 m; another program's trapezoid of 200 000 points. 0.38 is where a coupling loop sits.
    value = 1e9 * mutual_inductance_circles(0.5, 0.1, centre=(offset, 0, 0))
    assert value == pytest.approx(nanohenry, rel=1.2e-8, abs=0)


@pytest.mark.parametrize(("degrees", "nanohenry"), [(30, 34.378142), (60, 19.481555)])
def test_tilted_circles_about_one_centre(degrees, nanohenry):
    t = np.radians(degrees)
    value = 1e9 * mutual_inductance_circles(0.5, 0.1, centre=(0, 0, 0), normal=(np.sin(t), 0, np.cos(t)))
    assert value == pytest.approx(nanohenry, rel=3e-8, abs=0)


def test_circles_at_right_angles_about_one_centre_do_not_couple():
    value = mutual_inductance_circles(0.5, 0.1, centre=(0, 0, 0), normal=(1, 0, 0))
    assert abs(value) < 1e-15 * MU_0


def neumann(
    radius_1: float, radius_2: float, centre: np.ndarray, normal: np.ndarray, points: int = 400
) -> float:
    """mu0/4pi times the double sum of dl.dl'/r, spectrally convergent for circles apart."""
    t = np.arange(points) * 2 * np.pi / points
    q, _ = np.linalg.qr(np.stack([normal, [0.3, -0.5, 0.9], [0.8, 0.1, 0.2]], axis=1))
    e1, e2 = q[:, 1], np.cross(normal / np.linalg.norm(normal), q[:, 1])
    one = radius_1 * np.stack([np.cos(t), np.sin(t), 0 * t], axis=1)
    d_one = radius_1 * np.stack([-np.sin(t), np.cos(t), 0 * t], axis=1)
    two = centre + radius_2 * (np.outer(np.cos(t), e1) + np.outer(np.sin(t), e2))
    d_two = radius_2 * (np.outer(np.cos(t), e2) - np.outer(np.sin(t), e1))
    r = np.linalg.norm(one[:, None] - two, axis=2)
    return float(MU_0 / (4 * np.pi) * np.sum(d_one @ d_two.T / r) * (2 * np.pi / points) ** 2)


@pytest.mark.parametrize(
    ("centre", "normal"),
    [
        ((0.2, 0.1, 0.0), (0, 0, 1)),
        ((0.1, -0.2, 0.3), (1, 2, 3)),
        ((0.9, 0, 0.1), (0, 1, -1)),
        ((0.3, 0, 0), (1, 0, 0.2)),
    ],
)
def test_neumann_s_double_integral(centre, normal):
    expected = neumann(0.5, 0.15, np.array(centre, dtype=float), np.array(normal, dtype=float))
    assert mutual_inductance_circles(0.5, 0.15, centre=centre, normal=normal) == pytest.approx(
        expected, rel=1e-10, abs=0
    )


LENGTHS = st.floats(0.05, 1.0)
PLACES = st.floats(-1.5, 1.5)


@given(LENGTHS, LENGTHS, PLACES, PLACES, st.floats(0, np.pi), st.floats(0, np.pi))
def test_either_circle_may_be_the_first(r1, r2, x, z, tilt, turn):
    """Reciprocity: the second circle's frame, seen from the first."""
    n = np.array([np.sin(tilt) * np.cos(turn), np.sin(tilt) * np.sin(turn), np.cos(tilt)])
    c = np.array([x, 0.0, z])
    # Where the filaments come close the sum takes long, and touching ones are refused.
    angle = np.arange(64) * np.pi / 32
    e1 = np.cross(n, [0.6, 0.64, 0.48])
    assume(np.linalg.norm(e1) > 0.1)
    e1 /= np.linalg.norm(e1)
    rim = c + r2 * (np.outer(np.cos(angle), e1) + np.outer(np.sin(angle), np.cross(n, e1)))
    assume(np.min(np.hypot(np.hypot(rim[:, 0], rim[:, 1]) - r1, rim[:, 2])) > 0.15 * r2)
    one = mutual_inductance_circles(r1, r2, centre=c, normal=n)
    frame = np.stack([e1, np.cross(n, e1), n])
    two = mutual_inductance_circles(r2, r1, centre=frame @ -c, normal=frame @ [0.0, 0.0, 1.0])
    assert abs(one - two) <= 1e-10 * MU_0 * min(r1, r2)


@given(LENGTHS, LENGTHS, st.floats(0.02, 1.5))
def test_coaxial_circles_by_either_way(r1, r2, distance):
    exact = mutual_inductance_coaxial(r1, r2, distance=distance)
    assert mutual_inductance_circles(r1, r2, centre=(0, 0, distance)) == pytest.approx(
        exact, rel=1e-10, abs=0
    )


@given(LENGTHS, LENGTHS, st.floats(0.02, 1.5), st.floats(0.1, 10))
def test_mutual_inductance_scales_with_size(r1, r2, distance, scale):
    one = mutual_inductance_coaxial(r1, r2, distance=distance)
    two = mutual_inductance_coaxial(r1 * scale, r2 * scale, distance=distance * scale)
    assert two == pytest.approx(scale * one, rel=1e-11, abs=0)


@given(st.floats(0.2, 1.0), st.floats(0.1, 0.9), st.floats(1e-3, 0.05))
def test_coupling_is_below_one(radius, ratio, thinness):
    other = radius * ratio * (1 - 2 * thinness)
    m = mutual_inductance_coaxial(radius, other, distance=0.0)
    both = ring_inductance(radius, radius * thinness * 0.5) * ring_inductance(other, other * thinness * 0.5)
    assert m**2 < both


def test_far_circles_couple_as_dipoles():
    # mu0 pi A^2 B^2/(2 d^3) on the axis, the next term 3(A^2 + B^2)/2d^2 = 3e-4; half of it, and negative, abreast.
    on_axis = MU_0 * np.pi * 0.1**2 * 0.1**2 / (2 * 10.0**3)
    assert mutual_inductance_coaxial(0.1, 0.1, distance=10.0) == pytest.approx(on_axis, rel=4e-4, abs=0)
    abreast = mutual_inductance_circles(0.1, 0.1, centre=(10.0, 0, 0))
    assert abreast == pytest.approx(-on_axis / 2, rel=8e-4, abs=0)


def test_what_has_no_finite_answer_is_refused():
    with pytest.raises(OutOfRangeError, match="coincide"):
        mutual_inductance_coaxial(0.5, 0.5, distance=0.0)
    with pytest.raises(OutOfRangeError, match=r"come closer|touch"):
        mutual_inductance_circles(0.5, 0.1, centre=(0.4, 0, 0))
    with pytest.raises(OutOfRangeError, match="vectors of three"):
        mutual_inductance_circles(0.5, 0.1, centre=(0.4, 0))
    with pytest.raises(OutOfRangeError, match="normal not zero"):
        mutual_inductance_circles(0.5, 0.1, centre=(0, 0, 0), normal=(0, 0, 0))
