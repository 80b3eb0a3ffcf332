# SPDX-License-Identifier: BSD-3-Clause
"""Near fields over earth: of the potentials' own making, reciprocal, the image's over a good conductor."""

import numpy as np
import pytest

from ringwright.errors import OutOfRangeError
from ringwright.physics.constants import EPS_0, MU_0
from ringwright.physics.half_space import PERFECT_EARTH, POTENTIALS, complex_permittivity
from tests.physics.half_space.by_quadrature import reflected_kernels
from tests.physics.half_space.element_fields import FIELDS, element_field, ground_field

FREQUENCY = 14.2e6
OMEGA = 2.0 * np.pi * FREQUENCY
EPS_C = complex_permittivity(FREQUENCY, 13.0, 5e-3)
SOURCE = np.array([0.2, -0.1, 1.1])
STEP = 0.02
SLOPE = np.array([1.0, -8.0, 0.0, 8.0, -1.0]) / (12.0 * STEP)  # five-point derivative


def potentials(moment: np.ndarray, point: np.ndarray) -> tuple[np.ndarray, complex]:
    """Ground part of A and phi of an element, from the kernels of the mixed potentials.

    Its charges are -div(m delta)/(j w): phi = m . grad' K_phi / (j w eps_0), by differences over the source.
    """

    def kernels(source: np.ndarray) -> np.ndarray:
        rho, h = np.hypot(*(point - source)[:2]), point[2] + source[2]
        return reflected_kernels(POTENTIALS, rho, h, frequency=FREQUENCY, eps_c=EPS_C)

    _, k_xx, k_zz, w = kernels(SOURCE)
    x, y, _ = point - SOURCE
    vector = np.array(
        [
            k_xx * moment[0] + x * w * moment[2],
            k_xx * moment[1] + y * w * moment[2],
            k_zz * moment[2] - w * (x * moment[0] + y * moment[1]),
        ]
    )
    along = [kernels(SOURCE + n * STEP * moment)[0] for n in (-2, -1, 0, 1, 2)]
    return MU_0 * vector, complex(SLOPE @ along / (1j * OMEGA * EPS_0))


@pytest.mark.parametrize("moment", np.eye(3), ids=["x", "y", "z"])
def test_fields_are_those_of_the_mixed_potentials(moment):
    point = np.array([1.3, 0.8, 0.6])
    around = [[potentials(moment, point + n * STEP * axis) for n in (-2, -1, 0, 1, 2)] for axis in np.eye(3)]
    gradient = np.array([SLOPE @ [scalar for _, scalar in line] for line in around])
    d_vector = np.array([np.tensordot(SLOPE, [vector for vector, _ in line], 1) for line in around])
    electric = -1j * OMEGA * around[0][2][0] - gradient
    magnetic = np.array([d_vector[i - 2, i - 1] - d_vector[i - 1, i - 2] for i in range(3)]) / MU_0
    field = ground_field(SOURCE[None], moment[None] + 0j, frequency=FREQUENCY, eps_c=EPS_C, tolerance=1e-8)
    got = field(point[None])
    # Five-point differences at steps of a hundredth of the distance: (0.01)^4 with room for the fifth derivative.
    assert np.abs(got[0][0] - electric).max() < 1e-5 * np.abs(electric).max()
    assert np.abs(got[1][0] - magnetic).max() < 1e-5 * np.abs(magnetic).max()


def test_two_elements_work_on_each_other_alike():
    # Lorentz reciprocity.
    rng = np.random.default_rng(7)
    places, moments = (
        rng.random((2, 3)) + np.array([0.0, 0.0, 0.3]),
        rng.normal(size=(2, 3)).astype(np.complex128),
    )
    there, back = (
        ground_field(places[[a]], moments[[a]], frequency=FREQUENCY, eps_c=EPS_C, tolerance=1e-8)(
            places[[b]]
        )[0][0]
        @ moments[b]
        for a, b in ((0, 1), (1, 0))
    )
    assert there == pytest.approx(back, rel=1e-7, abs=0)


def test_over_a_good_conductor_the_field_is_the_image_s():
    # Image theory; the skin depth at 1e12 S/m is 0.13 um.
    sources, points = np.array([[0.0, 0.0, 0.5]]), np.array([[1.0, 0.5, 0.0], [0.2, 0.0, 2.0]])
    moments = np.array([[1.0, 2.0, 3.0j]])
    image = element_field(points, sources * [1, 1, -1], moments * [-1, -1, 1], frequency=FREQUENCY)
    for eps_c in (PERFECT_EARTH, complex_permittivity(FREQUENCY, 1.0, 1e12)):
        field = ground_field(sources, moments, frequency=FREQUENCY, eps_c=eps_c, tolerance=1e-8)(points)
        for got, expected in zip(field, image, strict=True):
            assert np.abs(got - expected).max() < 1e-6 * np.abs(expected).max()


@pytest.mark.parametrize(("low", "wide"), [(0.05, 3.0), (1.0, 3.0), (0.5, 20.0)])
def test_tables_of_the_fields_agree_with_adaptive_quadrature(low, wide):
    at = np.array(
        [[wide, 0.0, low / 2.0], [wide / 2.0, 0.0, low], [low, 0.0, low / 2.0], [0.0, 0.0, 3.0 * low]]
    )
    rho, h = at[:, 0], at[:, 2] + low / 2.0
    moment, source = np.array([[1.0, 0.5, 1.0]]) + 0j, np.array([[0.0, 0.0, low / 2.0]])
    for earth in ((80.0, 5.0), (13.0, 5e-3)):
        eps_c = complex_permittivity(FREQUENCY, *earth)
        e0, e1, e2, ez, h0, h2, ht, hv = reflected_kernels(FIELDS, rho, h, frequency=FREQUENCY, eps_c=eps_c)
        c = 0.5 * rho**2
        electric = np.array([e0 + c * e2 + rho * e1, 0.5 * (e0 - c * e2), ez - rho * e1]) / (
            1j * OMEGA * EPS_0
        )
        magnetic = np.array([-0.5 * (h0 + c * h2), h0 - c * h2 + rho * hv, -0.5 * rho * ht])
        got = ground_field(source, moment, frequency=FREQUENCY, eps_c=eps_c)(at)
        image = element_field(at, source * [1, 1, -1], moment, frequency=FREQUENCY)
        for ours, expected, scale in zip(got, (electric, magnetic), image, strict=True):
            # Ten times the tolerance, over the field of a perfect image.
            assert np.max(np.linalg.norm(ours.T - expected, axis=0) / np.linalg.norm(scale, axis=1)) < 1e-4


def test_points_outside_the_verified_range_are_refused():
    field = ground_field(
        np.array([[0.0, 0.0, 0.03]]), np.ones((1, 3), dtype=np.complex128), frequency=FREQUENCY, eps_c=EPS_C
    )
    for point in ([1.0, 0.0, -0.1], [1.0, 0.0, 0.01], [41.0, 0.0, 1.0]):
        with pytest.raises(OutOfRangeError):
            field(np.array([point]))
    with pytest.raises(OutOfRangeError):
        ground_field(
            np.array([[0.0, 0.0, 1.0]]), np.ones((1, 3), dtype=np.complex128), frequency=1.6e6, eps_c=EPS_C
        )
