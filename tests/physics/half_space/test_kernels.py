# SPDX-License-Identifier: BSD-3-Clause
"""The tables of the half-space kernels against adaptive quadrature, images and their own limits of validity."""

import numpy as np
import pytest

from ringwright.errors import OutOfRangeError
from ringwright.physics.half_space import (
    PERFECT_EARTH,
    POTENTIALS,
    GroundKernels,
    GroundOperator,
    PerfectEarth,
    complex_permittivity,
    wavenumber,
)
from tests.physics.half_space.by_quadrature import reflected_kernels

EARTHS = {
    "sea": (80.0, 5.0),
    "fresh water": (80.0, 3e-3),
    "wet": (30.0, 1e-2),
    "average": (13.0, 5e-3),
    "very dry": (3.0, 1e-4),
}
SITES = {  # lowest and highest sum of heights, widest distance [m], highest frequency [Hz]
    "ring at 1 m": (1.0, 6.0, 2.0, 30e6),
    "ring at 0.2 m": (0.4, 3.0, 1.0, 54e6),
    "ring with a 10 m railing": (0.2, 6.0, 10.0, 30e6),
    "lowest and widest": (0.2, 6.0, 20.0, 54e6),
    "on a mast": (10.0, 24.0, 3.0, 54e6),
}


def stacked(kernels: GroundKernels) -> np.ndarray:
    return np.array([kernels.k_phi, kernels.k_xx, kernels.k_zz, kernels.w])


def pairs_of(site: str) -> tuple[np.ndarray, np.ndarray, float]:
    low, high, wide, f_max = SITES[site]
    h = low * (high / low) ** np.array([0.0, 0.0, 1.0, 0.3, 0.8])
    rho = wide * np.array([0.0, 1.0, 0.7, 0.02, 0.2])
    return rho, h, f_max


@pytest.mark.parametrize("site", SITES)
@pytest.mark.parametrize("earth", EARTHS)
def test_tables_agree_with_adaptive_quadrature(site, earth):
    rho, h, f_max = pairs_of(site)
    r = np.hypot(rho, h)
    # Over the kernel of a perfect image, 1/(4 pi r) for potentials and 1/(4 pi r^2) for W: twice the tolerance.
    image = 1.0 / (4.0 * np.pi * np.array([r, r, r, r**2]))
    operator = GroundOperator.build(rho, h, k_max=wavenumber(f_max))
    for frequency in (1.8e6, f_max):
        eps_c = complex_permittivity(frequency, *EARTHS[earth])
        slow = reflected_kernels(POTENTIALS, rho, h, frequency=frequency, eps_c=eps_c)
        fast = stacked(operator.evaluate(frequency, eps_c))
        assert np.abs((fast - slow) / image).max() < 2e-6


def test_a_nearly_perfect_conductor_gives_the_images():
    # Image theory. The skin depth at 1e12 S/m is 0.13 um: 1e-6 of the lowest height.
    rho, h, f_max = pairs_of("ring at 0.2 m")
    lossy = GroundOperator.build(rho, h, k_max=wavenumber(f_max)).evaluate(
        14.2e6, complex_permittivity(14.2e6, 1.0, 1e12)
    )
    perfect = PerfectEarth(rho, h).evaluate(14.2e6, PERFECT_EARTH)
    size = np.abs(perfect.k_zz)
    for name in ("k_phi", "k_xx", "k_zz"):
        assert np.max(np.abs(getattr(lossy, name) - getattr(perfect, name)) / size) < 1e-5
    assert np.max(np.abs(lossy.w) * np.hypot(rho, h) / size) < 1e-5


def test_a_slow_dielectric_gives_the_electrostatic_image():
    # Electrostatics: a charge over a dielectric has the image charge -(eps - 1)/(eps + 1) (Jackson, 3rd ed., sec. 4.4,
    # from memory). Retardation over 0.2 to 1 m at 1.8 MHz is (k r)^2 = 1.5e-3 at most.
    rho, h = np.array([0.0, 0.2, 0.5]), np.array([0.2, 0.3, 0.4])
    kernels = GroundOperator.build(rho, h, k_max=0.1).evaluate(1.8e6, 4.0 + 0j)
    image = (4.0 - 1.0) / (4.0 + 1.0) / (4.0 * np.pi * np.hypot(rho, h))
    assert -kernels.k_phi.real / image == pytest.approx(1.0, rel=3e-3, abs=0)


def test_pairs_keep_their_shape_and_do_not_see_each_other():
    rho, h = np.array([[0.0, 1.0], [2.0, 0.5]]), np.array([[2.0, 3.0], [2.5, 4.0]])
    eps_c = complex_permittivity(14.2e6, 13.0, 5e-3)
    together = GroundOperator.build(rho, h, k_max=0.63).evaluate(14.2e6, eps_c)
    alone = GroundOperator.build(rho[1, 0], h[1, 0], k_max=0.63).evaluate(14.2e6, eps_c)
    assert together.k_zz.shape == (2, 2)
    assert alone.k_zz == pytest.approx(together.k_zz[1, 0], rel=1e-5, abs=0)


@pytest.mark.parametrize(
    ("rho", "h", "k_max"), [(1.0, 0.19, 0.3), (41.0, 1.0, 0.3), (1.0, 1.0, 1.2), (1.0, -1.0, 0.3)]
)
def test_pairs_outside_the_verified_range_are_refused(rho, h, k_max):
    with pytest.raises(OutOfRangeError):
        GroundOperator.build(rho, h, k_max=k_max)


def test_frequencies_and_earths_outside_the_operator_are_refused():
    operator = GroundOperator.build(1.0, 1.0, k_max=0.3, index_max=3.0)
    for frequency, eps_c in [
        (1.6e6, 9 - 1j),
        (15e6, 9 - 1j),
        (14e6, 12 - 0.1j),
        (14e6, 9 + 1j),
        (14e6, 0.5 - 1j),
    ]:
        with pytest.raises(OutOfRangeError):
            operator.evaluate(frequency, eps_c)
    with pytest.raises(OutOfRangeError):
        PerfectEarth(np.ones(1), np.ones(1)).evaluate(14e6, 9 - 1j)
