# SPDX-License-Identifier: BSD-3-Clause
"""Wind on slender things and what stands on feet, against codes of practice and hand calculations.

BS CP3 chapter V and ASCE 7 give q = 0.613 V^2 Pa; EN 1991-1-4 has 0.625 V^2; the drag of a long cylinder and
the cross-flow principle are S. F. Hoerner's, Fluid-Dynamic Drag, 1965 (from memory).
"""

import math

import numpy as np
import pytest

from ringwright.errors import OutOfRangeError
from ringwright.physics.standing import GRAVITY, ballast_needed, tipping_arm
from ringwright.physics.wind import reynolds_number, slender_drag, wind_pressure

BRITISH_AIR = 1.226  # kg/m3, that of 0.613 V^2


@pytest.mark.parametrize(("speed", "pascal"), [(10, 61.3), (20, 245.2), (30, 551.7), (40, 980.8)])
def test_cp3_asce_7_wind_pressure(speed, pascal):
    assert wind_pressure(speed, density=BRITISH_AIR) == pytest.approx(pascal, rel=2e-4, abs=0)


def test_en_1991_1_4_wind_pressure():
    assert wind_pressure(25.0) == pytest.approx(0.625 * 25.0**2, rel=1e-12, abs=0)


def ring(count=720, circumference=3.0):
    angle = np.arange(count + 1) * 2.0 * np.pi / count
    radius = circumference / 2.0 / np.pi
    nodes = radius * np.stack([np.cos(angle), 0.0 * angle, np.sin(angle)], axis=1)
    return np.diff(nodes, axis=0)


def test_ring_of_3_m_and_22_mm_in_25_m_per_s():
    # 1.2 x 383.1 Pa x 3 m x 22 mm = 30.34 N face-on; 4/(3 pi) of it, 12.88 N, edge-on: hand calculation.
    pressure = wind_pressure(25.0, density=BRITISH_AIR)
    face = slender_drag(ring(), [0.0, 1.0, 0.0], width=0.022, pressure=pressure).sum(axis=0)
    edge = slender_drag(ring(), [1.0, 0.0, 0.0], width=0.022, pressure=pressure).sum(axis=0)
    assert face == pytest.approx([0.0, 30.34, 0.0], rel=2e-4, abs=1e-9)
    assert edge == pytest.approx([12.88, 0.0, 0.0], rel=5e-4, abs=1e-9)
    assert reynolds_number(25.0, diameter=0.022) == pytest.approx(3.7e4, rel=0.02, abs=0)


def test_a_wire_along_the_wind_has_no_drag_and_a_slanting_one_is_pushed_across_itself():
    along = slender_drag([[2.0, 0.0, 0.0]], [3.0, 0.0, 0.0], width=0.01, pressure=100.0)
    assert np.abs(along).max() == 0.0
    slanting = slender_drag([[1.0, 0.0, 1.0]], [1.0, 0.0, 0.0], width=0.01, pressure=100.0)[0]
    assert slanting @ [1.0, 0.0, 1.0] == pytest.approx(0.0, abs=1e-15)
    # |u_perp| = sin 45: force 1.2 x 100 Pa x 0.01 m x sqrt 2 m x 1/2.
    assert np.linalg.norm(slanting) == pytest.approx(1.2 * math.sqrt(2.0) / 2.0, rel=1e-12, abs=0)


def test_tripod_of_12_kg_falls():
    # 12 kg on a foot circle of 0.6 m radius, 30.34 N at 1.5 m: 45.5 N m against 35.3 N m, hand calculation.
    arm = tipping_arm(0.6, feet=3)
    assert arm == pytest.approx(0.3, rel=1e-12, abs=0)
    assert 12.0 * GRAVITY * arm == pytest.approx(35.3, abs=0.05, rel=0)
    needed = ballast_needed(45.5, arm=arm, mass=12.0, wind_factor=1.0, weight_factor=1.0)
    assert needed == pytest.approx(45.5 / (9.80665 * 0.3) - 12.0, rel=1e-12, abs=0)
    assert ballast_needed(30.0, arm=arm, mass=12.0, wind_factor=1.0, weight_factor=1.0) == 0.0


def test_four_feet_have_the_arm_of_a_square():
    assert tipping_arm(1.0, feet=4) == pytest.approx(1.0 / math.sqrt(2.0), rel=1e-12, abs=0)
    with pytest.raises(OutOfRangeError, match="nothing stands by itself"):
        tipping_arm(1.0, feet=2)


def test_margins_of_en_1990_ask_for_more():
    bare = ballast_needed(45.5, arm=0.3, mass=0.0, wind_factor=1.0, weight_factor=1.0)
    assert ballast_needed(45.5, arm=0.3, mass=0.0) == pytest.approx(bare * 1.5 / 0.9, rel=1e-12, abs=0)


def test_a_wind_without_direction_is_refused():
    with pytest.raises(OutOfRangeError, match="direction"):
        slender_drag([[1.0, 0.0, 0.0]], [0.0, 0.0, 0.0], width=0.01, pressure=1.0)
