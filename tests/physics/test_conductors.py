# SPDX-License-Identifier: BSD-3-Clause
"""Limits and properties of the internal impedance of wire and tube."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import OutOfRangeError
from ringwright.physics.conductors import (
    conductivity_at,
    skin_depth,
    solid_wire_impedance,
    surface_resistance,
    tube_impedance,
)
from ringwright.physics.constants import MU_0

COPPER = 58.0e6
FREQUENCIES = st.floats(1e3, 1e9)
RADII = st.floats(1e-5, 0.05)
WALLS = st.floats(1e-3, 0.999)
"""Of the radius."""


def test_wire_has_its_direct_current_resistance_and_inductance_at_low_frequency():
    # mu0/8pi a metre: the textbook internal inductance of an evenly filled wire. x = 0.08, next term x^4/192 = 2e-7.
    a, f = 1e-3, 20.0
    z = solid_wire_impedance(f, radius=a, conductivity=COPPER)
    assert z.real == pytest.approx(1.0 / (np.pi * a**2 * COPPER), rel=1e-6, abs=0)
    assert z.imag == pytest.approx(2 * np.pi * f * MU_0 / (8 * np.pi), rel=1e-6, abs=0)


def test_tube_has_its_direct_current_resistance_at_low_frequency():
    b, t, f = 11e-3, 1e-3, 20.0
    z = tube_impedance(f, radius=b, wall=t, conductivity=COPPER)
    # The wall is 0.07 skin depths; the resistance rises with the fourth power of that.
    assert z.real == pytest.approx(1.0 / (np.pi * (b**2 - (b - t) ** 2) * COPPER), rel=1e-5, abs=0)


def test_thick_wire_is_a_flat_surface_rolled_up():
    # R = Rs/(2 pi a) (1 + delta/2a + 3 delta^2/8a^2 ...), the asymptotic series of J0/J1 in DLMF 10.17; X without the
    # first correction.
    a, f = 11e-3, 14.2e6
    z = solid_wire_impedance(f, radius=a, conductivity=COPPER)
    flat = surface_resistance(f, COPPER) / (2 * np.pi * a)
    q = skin_depth(f, COPPER) / a
    assert z.real == pytest.approx(flat * (1 + q / 2 + 3 * q**2 / 16), rel=1e-7, abs=0)
    assert z.imag == pytest.approx(flat * (1 - 3 * q**2 / 16), rel=1e-7, abs=0)


def test_thin_walled_tube_is_a_flat_sheet_rolled_up():
    # Re[(1+j) coth((1+j) t/delta)], field on one side only: 1.085636 at one skin depth, 0.917152 at pi/2. The curvature
    # left out is of the order of delta/b = 2e-6.
    delta = float(skin_depth(14.2e6, COPPER))
    flat = surface_resistance(14.2e6, COPPER) / (2 * np.pi * 10.0)
    for wall, expected in ((1.0, 1.085636), (np.pi / 2, 0.917152)):
        z = tube_impedance(14.2e6, radius=10.0, wall=wall * delta, conductivity=COPPER)
        assert z.real / flat == pytest.approx(expected, rel=5e-6, abs=0)


def test_a_wall_of_pi_half_skin_depths_has_the_least_resistance():
    delta = float(skin_depth(14.2e6, COPPER))
    walls = np.linspace(1.0, 3.0, 401)
    r = tube_impedance(14.2e6, radius=11e-3, wall=walls * delta, conductivity=COPPER).real
    assert walls[np.argmin(r)] == pytest.approx(np.pi / 2, rel=0.01, abs=0)


@given(FREQUENCIES, RADII)
def test_tube_with_a_pinhole_is_a_wire(frequency, radius):
    wire = solid_wire_impedance(frequency, radius=radius, conductivity=COPPER)
    tube = tube_impedance(frequency, radius=radius, wall=radius * (1 - 1e-7), conductivity=COPPER)
    # Where the reactance is small against the resistance it carries the rounding of the larger one.
    assert abs(tube - wire) <= 1e-10 * abs(wire)


@given(FREQUENCIES, RADII, WALLS)
def test_tube_satisfies_the_power_theorem(frequency, radius, wall):
    # A conductor only burns and stores: R >= its direct-current value, X > 0.
    thickness = wall * radius
    z = tube_impedance(frequency, radius=radius, wall=thickness, conductivity=COPPER)
    dc = 1.0 / (np.pi * COPPER * thickness * (2 * radius - thickness))
    assert z.real >= dc * (1 - 1e-9)
    assert z.imag > 0


@given(FREQUENCIES, RADII, WALLS, st.floats(0.1, 10.0))
def test_scaling_length_and_skin_depth_together_changes_nothing_but_the_resistance(
    frequency, radius, wall, scale
):
    one = tube_impedance(frequency, radius=radius, wall=wall * radius, conductivity=COPPER)
    two = tube_impedance(
        frequency / scale**2, radius=radius * scale, wall=wall * radius * scale, conductivity=COPPER
    )
    assert abs(two * scale**2 - one) <= 1e-9 * abs(one)


def test_resistance_of_thick_conductors_follows_the_square_roots():
    z = solid_wire_impedance([7.1e6, 28.4e6], radius=11e-3, conductivity=COPPER).real
    assert z[1] / z[0] == pytest.approx(2.0, rel=3e-3, abs=0)  # delta/4a = 6e-4 of curvature
    iron = surface_resistance(7.1e6, 1e7, mu_r=100.0)
    assert iron / surface_resistance(7.1e6, 1e7) == pytest.approx(10.0, rel=1e-12, abs=0)


def test_nothing_overflows_at_any_ratio_of_wire_to_skin_depth():
    z = solid_wire_impedance(np.geomspace(1e-3, 1e15, 40), radius=0.02, conductivity=COPPER)
    t = tube_impedance(np.geomspace(1e-3, 1e15, 40), radius=0.02, wall=1e-3, conductivity=COPPER)
    for values in (z, t):
        assert np.all(np.isfinite(values))
        assert np.all(np.diff(np.log(values.imag)) > 0)


def test_shapes_broadcast():
    z = tube_impedance(np.ones((3, 1)) * 1e7, radius=[1e-3, 2e-3], wall=5e-4, conductivity=COPPER)
    assert z.shape == (3, 2)
    assert z.dtype == np.complex128


@given(st.floats(-40, 150))
def test_skin_resistance_rises_half_as_fast_as_direct_current_resistance(temperature):
    sigma = conductivity_at(temperature, conductivity=COPPER, temperature_coefficient=0.00393)
    direct, skin = COPPER / sigma, surface_resistance(1e7, sigma) / surface_resistance(1e7, COPPER)
    assert skin**2 == pytest.approx(direct, rel=1e-12, abs=0)


@pytest.mark.parametrize("bad", [0.0, -1.0, np.nan, np.inf])
def test_what_is_not_a_positive_number_is_refused_by_name(bad):
    with pytest.raises(OutOfRangeError, match="frequency must be finite and > 0"):
        skin_depth(bad, COPPER)
    with pytest.raises(OutOfRangeError, match="radius must be finite and > 0"):
        solid_wire_impedance(1e7, radius=bad, conductivity=COPPER)
    with pytest.raises(OutOfRangeError, match="wall must be finite and > 0"):
        tube_impedance(1e7, radius=0.01, wall=bad, conductivity=COPPER)


def test_a_wall_as_thick_as_the_radius_is_refused():
    with pytest.raises(OutOfRangeError, match="must be less than the radius"):
        tube_impedance(1e7, radius=0.01, wall=0.01, conductivity=COPPER)


def test_a_temperature_where_resistivity_would_vanish_is_refused():
    with pytest.raises(OutOfRangeError, match="straight-line law"):
        conductivity_at(-250.0, conductivity=COPPER, temperature_coefficient=0.00393)
