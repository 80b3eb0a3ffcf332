# SPDX-License-Identifier: BSD-3-Clause
"""The pattern in full: the dipole in the ring's place, cuts, nulls, bearings, and that a gain is a share of power."""

from dataclasses import replace

import numpy as np
import pytest

from ringwright.antenna.design import Design
from ringwright.antenna.directions import (
    azimuth_cut,
    dipole_in_its_place,
    elevation_cut,
    gain_dbi,
    nulls,
    sphere,
    true_bearing,
)
from ringwright.antenna.earths import EARTHS
from ringwright.antenna.far_side import FarSide, far_side
from ringwright.antenna.geometry import build_wires
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.antenna.pattern import Pattern
from ringwright.antenna.predict import operating_points
from ringwright.antenna.solution import SolutionMemory
from ringwright.physics.constants import C_0
from tests.antenna.builds import AVERAGE, at, built

PERFECT = EARTHS["perfect earth"].earth
ANY = {"minimum": 1e-12, "maximum": 1e-8}
CENTRE = 3.0 / (2.0 * np.pi)
"""Of the standard ring above its lowest point. [m]"""


def solved(design: Design) -> tuple[OperatingPoint, FarSide, SolutionMemory]:
    memory = SolutionMemory()
    point = operating_points(design, build_wires(design), memory)[0]
    return point, far_side(point, earth=design.site.earth), memory


def dipole(design: Design) -> Pattern:
    point, _, memory = solved(design)
    return dipole_in_its_place(design, point, memory)


def test_half_wave_dipole_in_free_space():
    # Balanis, Antenna Theory, sec. 4.6: 1.640922 with a sine of current, 2.15088 dBi. A wire of 2 ln(l/a) = 19 carries
    # not quite a sine: some 1/19^2 of the gain.
    assert dipole(built()).gain_max_dbi == pytest.approx(2.15088, rel=0.01, abs=0)


@pytest.mark.parametrize(
    ("height_waves", "resistance", "elevation"), [(0.25, 85.662, 90.0), (0.5, 69.118, 30.0)]
)
def test_half_wave_dipole_over_a_perfect_earth(height_waves, resistance, elevation):
    # Carter 1932: input resistance with the image, 73.130 ohm without; direct and reflected add at sin(elevation) =
    # 1/(4 h). The printed values carry 120 pi throughout, which cancels.
    height = height_waves * C_0 / 14.2e6 - CENTRE
    found = dipole(built(site={"earth": PERFECT, "height": height}))
    expected = 10.0 * np.log10(1.640922 * 4.0 * 73.130 / resistance)
    # A thin wire's current is not quite a sine: 0.4 % of the resistance.
    assert found.gain_max_dbi == pytest.approx(expected, rel=0.02 / expected, abs=0)
    assert found.elevation_deg == pytest.approx(elevation, rel=0.01, abs=0)


@pytest.mark.parametrize("frequency", [1.8e6, 3.65e6])
def test_a_dipole_of_any_band_fits_over_the_earth(frequency):
    design = built(at(frequency), capacitor=ANY, site={"earth": AVERAGE, "height": 8.0})
    point, far, memory = solved(design)
    found = dipole_in_its_place(design, point, memory)
    ring = gain_dbi(far, design.power, elevation=np.array([np.pi / 2.0]), azimuth=np.zeros(1))[0]
    assert ring + 10.0 < found.gain_max_dbi < 7.5


def test_dipole_lies_along_the_ring_s_axis_and_turns_with_it():
    design = built(site={"turn": np.radians(35.0), "earth": AVERAGE, "height": 10.0})
    point, _, memory = solved(design)
    found = dipole_in_its_place(design, point, memory)
    # Broadside of the axis is the ring's plane.
    assert found.azimuth_deg % 180.0 == pytest.approx(35.0, rel=0.02, abs=0)


def test_small_ring_in_free_space():
    # A loop of 0.018 wavelengths round: sin^2 about its axis, 1.5 or 1.761 dBi (Balanis, sec. 5.2), less its losses.
    design = built(at(1.8e6), capacitor=ANY)
    _, far, _ = solved(design)
    efficiency = 10.0 * np.log10(far.sky / design.power)
    angle = np.radians(np.arange(0.0, 91.0, 15.0))
    gain = gain_dbi(far, design.power, elevation=0.0 * angle, azimuth=angle)
    expected = 1.761 + efficiency + 20.0 * np.log10(np.cos(angle[:-1]))
    # The charge's dipole, of order k b = 0.02 against the loop, turns a little of it.
    assert gain[:-1] - expected == pytest.approx(0.0 * expected, abs=0.35)
    axis = nulls(design, far, 0.0)
    assert [null.azimuth_deg for null in axis] == pytest.approx([90.0, 270.0], rel=0.01, abs=0)
    assert all(null.depth_db > 20.0 for null in axis)


@pytest.mark.parametrize(
    ("x_bearing_deg", "azimuth_deg", "expected"),
    [(90.0, 0.0, 90.0), (90.0, 90.0, 0.0), (90.0, 180.0, 270.0), (0.0, 90.0, 270.0), (37.0, 100.0, 297.0)],
)
def test_bearings_run_clockwise_from_north_and_azimuths_from_x_towards_y(
    x_bearing_deg, azimuth_deg, expected
):
    # With x to the east, y is north: an axis up makes x towards y run from east to north.
    design = built(site={"x_bearing": np.radians(x_bearing_deg)})
    assert true_bearing(design, azimuth_deg) == pytest.approx(expected, rel=1e-12, abs=1e-9)


def test_nulls_carry_their_bearing():
    design = built(at(7.1e6), site={"earth": AVERAGE, "x_bearing": np.radians(30.0), "height": 1.0})
    _, far, _ = solved(design)
    found = nulls(design, far, 0.5)
    assert found
    for null in found:
        assert null.bearing_deg == pytest.approx((30.0 - null.azimuth_deg) % 360.0, rel=1e-9, abs=0)
    assert [null.depth_db for null in found] == sorted((null.depth_db for null in found), reverse=True)


def test_gain_over_the_sphere_is_the_share_that_leaves():
    design = built(at(14.2e6), site={"earth": AVERAGE, "height": 1.5})
    _, far, _ = solved(design)
    elevation, azimuth, gain = sphere(far, design.power, step_deg=2.5)
    assert (elevation[0], elevation[-1], azimuth[0], azimuth[-1]) == (0.0, 90.0, 0.0, 360.0)
    assert gain.shape == (37, 145)
    up = np.radians(elevation)
    around = (10.0 ** (gain[:, :-1] / 10.0)).mean(axis=1)
    mean = np.trapezoid(around * np.cos(up), up) / 2.0
    # Trapezoids of 2.5 degrees.
    assert mean == pytest.approx(far.sky / design.power, rel=1e-3, abs=0)


def test_cuts_are_slices_of_the_pattern():
    design = built(at(14.2e6), site={"earth": AVERAGE, "height": 1.5})
    _, far, _ = solved(design)
    angle, over = elevation_cut(far, design.power, 20.0, steps=37)
    assert (angle[0], angle[-1]) == (0.0, 180.0)
    around, level = azimuth_cut(far, design.power, 30.0, steps=36)
    assert around[-1] == 350.0
    assert over[6] == pytest.approx(level[2], rel=1e-9, abs=0)  # 30 degrees up at 20 degrees of azimuth
    assert over[30] == pytest.approx(level[20], rel=1e-9, abs=0)  # and behind


def test_a_turned_ring_turns_its_pattern():
    site = {"earth": AVERAGE, "height": 1.5}
    straight = built(at(14.2e6), site=site)
    turned = replace(straight, site=replace(straight.site, turn=np.radians(50.0)))
    angles = np.radians(np.arange(0.0, 360.0, 30.0))
    gains = []
    for design, offset in ((straight, 0.0), (turned, np.radians(50.0))):
        _, far, _ = solved(design)
        gains.append(gain_dbi(far, design.power, elevation=0.0 * angles + 0.4, azimuth=angles + offset))
    assert gains[1] == pytest.approx(gains[0], rel=1e-6, abs=1e-6)
