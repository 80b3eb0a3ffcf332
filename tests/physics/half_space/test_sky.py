# SPDX-License-Identifier: BSD-3-Clause
"""Far field over the earth: images, free space as a limit, what is reflected, and the quadrature of its power."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from ringwright.physics.constants import ETA_0
from ringwright.physics.far_field import free_space_field, intensity, sphere_power
from ringwright.physics.half_space import PERFECT_EARTH, complex_permittivity, wavenumber
from ringwright.physics.half_space.sky import field_over_earth, fresnel, sky_power

RNG = np.random.default_rng(7)
POINTS = RNG.uniform([-1.0, -1.0, 0.2], [1.0, 1.0, 3.0], size=(12, 3))
MOMENTS = RNG.normal(size=(12, 3)) + 1j * RNG.normal(size=(12, 3))
ELEVATION = np.radians([0.0, 0.3, 5.0, 20.0, 45.0, 80.0, 90.0])
AZIMUTH = np.radians([0.0, 40.0, 100.0, 160.0, 220.0, 300.0, 350.0])
SEA, AVERAGE, DRY = (70.0, 5.0), (13.0, 5e-3), (3.0, 1e-4)


@pytest.mark.parametrize("frequency", [1.8e6, 14.2e6, 54e6])
def test_perfect_earth_is_the_images_in_free_space(frequency):
    # Image theory (Balanis, Antenna Theory, sec. 4.7): horizontal current reversed, vertical current kept.
    over = field_over_earth(POINTS, MOMENTS, frequency=frequency, eps_c=PERFECT_EARTH)
    both = free_space_field(
        np.concatenate([POINTS, POINTS * [1.0, 1.0, -1.0]]),
        np.concatenate([MOMENTS, MOMENTS * [-1.0, -1.0, 1.0]]),
        frequency,
    )
    expected = both(ELEVATION, AZIMUTH)
    assert np.max(abs(over(ELEVATION, AZIMUTH) - expected)) < 1e-12 * np.max(abs(expected))


@given(st.floats(1.0, 81.0), st.floats(1e-6, 10.0), st.floats(1.8e6, 54e6), st.floats(0.0, np.pi / 2.0))
def test_no_earth_reflects_more_than_arrives(permittivity, conductivity, frequency, elevation):
    both = fresnel(np.array([elevation]), complex_permittivity(frequency, permittivity, conductivity))
    assert max(abs(both[0][0]), abs(both[1][0])) <= 1.0 + 1e-12


@pytest.mark.parametrize("eps_c", [complex_permittivity(14.2e6, *earth) for earth in (SEA, AVERAGE, DRY)])
def test_at_the_zenith_polarisations_cannot_be_told_apart_and_at_grazing_both_reverse(eps_c):
    # Normal incidence (Stratton 1941, sec. 9.4): (1 - n)/(1 + n) of the electric field, the opposite of the magnetic.
    n = np.sqrt(eps_c)
    (overhead, grazing), (overhead_v, grazing_v) = fresnel(np.array([np.pi / 2.0, 0.0]), eps_c)
    assert abs(overhead - (1.0 - n) / (1.0 + n)) < 1e-12
    assert abs(overhead_v + overhead) < 1e-12
    assert (grazing, grazing_v) == (-1.0, -1.0)


def test_an_earth_like_air_is_no_earth():
    over = field_over_earth(POINTS, MOMENTS, frequency=14.2e6, eps_c=1.0 + 0j)
    alone = free_space_field(POINTS, MOMENTS, 14.2e6)(ELEVATION[1:], AZIMUTH[1:])
    assert np.max(abs(over(ELEVATION[1:], AZIMUTH[1:]) - alone)) < 1e-12 * np.max(abs(alone))


@pytest.mark.parametrize("height_waves", [0.05, 0.25, 0.6])
def test_power_over_a_perfect_earth_closed(height_waves):
    # Induced by the image (check: h = 0.25 wavelengths gives S = -0.151982, Co = 0.303964), x = 2 k h, side by side S =
    # 1.5j exp(-jx)(1/x - j/x^2 - 1/x^3) and in line Co = 1.5j exp(-jx)(2j/x^2 + 2/x^3): VED 1 + Re Co, HED 1 - Re S.
    k = wavenumber(14.2e6)
    x = 2.0 * height_waves * 2.0 * np.pi
    side = 1.5j * np.exp(-1j * x) * (1.0 / x - 1j / x**2 - 1.0 / x**3)
    ahead = 1.5j * np.exp(-1j * x) * (2j / x**2 + 2.0 / x**3)
    place = np.array([[0.0, 0.0, x / (2.0 * k)]])
    for axis, expected in ((2, 1.0 + ahead.real), (0, 1.0 - side.real)):
        moment = np.eye(3, dtype=complex)[None, axis]
        field = field_over_earth(place, moment, frequency=14.2e6, eps_c=PERFECT_EARTH)
        power = sky_power(field, points=place, frequency=14.2e6) / (ETA_0 * k**2 / (6.0 * np.pi))
        assert power == pytest.approx(expected, rel=1e-9, abs=0)


@pytest.mark.parametrize("earth", [SEA, AVERAGE, DRY])
@pytest.mark.parametrize("frequency", [1.8e6, 14.2e6, 54e6])
@pytest.mark.parametrize("height", [0.1, 2.0, 25.0])
def test_power_into_the_sky_is_the_integral_of_the_pattern(height, frequency, earth):
    """Over sea a vertical current's pattern turns round within a degree of the horizon."""
    place = np.array([[0.0, 0.0, height]])
    for moment in (np.array([[0j, 0j, 1.0]]), np.array([[1.0, 0j, 0j]])):
        field = field_over_earth(
            place, moment, frequency=frequency, eps_c=complex_permittivity(frequency, *earth)
        )

        def ring(sine: float, field=field) -> float:
            around = np.radians(
                [0.0, 90.0]
            )  # a dipole's pattern goes as cos^2 and sin^2: two azimuths average it
            return float(intensity(field(np.full(2, np.arcsin(sine)), around)).mean())

        turns = abs(1.0 / np.sqrt(1.0 + complex_permittivity(frequency, *earth)))
        expected, _ = quad(ring, 0.0, 1.0, points=[0.2 * turns, turns, 5.0 * turns], epsrel=1e-10, limit=500)
        power = sky_power(field, points=place, frequency=frequency)
        assert power == pytest.approx(2.0 * np.pi * expected, rel=1e-7, abs=0)


@pytest.mark.parametrize("frequency", [1.8e6, 28.5e6])
def test_power_of_a_wide_site_needs_no_more_directions(frequency):
    points = POINTS * [5.0, 5.0, 1.0]
    field = field_over_earth(
        points, MOMENTS, frequency=frequency, eps_c=complex_permittivity(frequency, *AVERAGE)
    )

    def upper(elevation, azimuth):
        return field(np.maximum(elevation, 0.0), azimuth) * (elevation >= 0.0)

    # Gauss over the whole sphere meets the edge at the horizon, where the pattern is zero, at first order only.
    assert sky_power(field, points=points, frequency=frequency) == pytest.approx(
        sphere_power(upper, 150), rel=1e-4, abs=0
    )
