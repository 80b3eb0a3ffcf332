# SPDX-License-Identifier: BSD-3-Clause
"""Bent rods held at one end, against S. Timoshenko, Strength of Materials, part I, 3rd ed., 1955 (from memory).

Quarter circles: bending in their own plane, ch. XII; loaded across it, bending and torsion, part II, ch. II.
"""

import numpy as np
import pytest

from ringwright.errors import OutOfRangeError
from ringwright.physics.cantilever import curved_cantilever, ring_second_moment

EI, GJ = 100.0, 77.0
NONE = [0.0, 0.0, 0.0]


def straight(length=2.0, count=400):
    return np.linspace([0.0, 0.0, 0.0], [length, 0.0, 0.0], count + 1)


def quarter(radius=1.0, count=800):
    angle = np.linspace(0.0, np.pi / 2.0, count + 1)
    return radius * np.stack([np.cos(angle), np.sin(angle), 0.0 * angle], axis=1)


def test_straight_beam_with_a_weight_at_its_end():
    moved, largest = curved_cantilever(straight(), load=NONE, tip_load=[0, 0, -5], bending=EI, torsion=GJ)
    assert moved == pytest.approx([0.0, 0.0, -5.0 * 2.0**3 / (3.0 * EI)], rel=1e-5, abs=1e-12)
    assert largest == pytest.approx(10.0, rel=1e-12, abs=0)


def test_straight_beam_under_its_own_weight():
    moved, largest = curved_cantilever(straight(), load=[0, 0, -3], tip_load=NONE, bending=EI, torsion=GJ)
    assert moved == pytest.approx([0.0, 0.0, -3.0 * 2.0**4 / (8.0 * EI)], rel=1e-4, abs=1e-12)
    assert largest == pytest.approx(3.0 * 2.0**2 / 2.0, rel=1e-9, abs=0)


def test_quarter_circle_in_its_plane():
    # Held where x = R, load along -x at the top: delta_x = P R^3 (3 pi/4 - 2)/EI, delta_y = P R^3/(2 EI) upwards in y.
    moved, largest = curved_cantilever(quarter(), load=NONE, tip_load=[-5, 0, 0], bending=EI, torsion=GJ)
    assert abs(moved[0]) == pytest.approx(5.0 * (3.0 * np.pi / 4.0 - 2.0) / EI, rel=1e-5, abs=0)
    assert abs(moved[1]) == pytest.approx(5.0 / 2.0 / EI, rel=1e-5, abs=0)
    assert largest == pytest.approx(5.0, rel=1e-12, abs=0)


def test_quarter_circle_across_its_plane():
    moved, _ = curved_cantilever(quarter(), load=NONE, tip_load=[0, 0, -5], bending=EI, torsion=GJ)
    expected = -5.0 * (np.pi / 4.0 / EI + (3.0 * np.pi / 4.0 - 2.0) / GJ)
    assert moved == pytest.approx([0.0, 0.0, expected], rel=1e-5, abs=1e-12)


def test_a_stiffer_rod_moves_less_and_the_order_is_two():
    errors = []
    for count in (20, 40):
        moved, _ = curved_cantilever(
            quarter(count=count), load=NONE, tip_load=[0, 0, -5], bending=EI, torsion=GJ
        )
        exact = -5.0 * (np.pi / 4.0 / EI + (3.0 * np.pi / 4.0 - 2.0) / GJ)
        errors.append(abs(moved[2] - exact))
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.05, abs=0)


def test_second_moment_of_a_22_mm_tube():
    # pi (22^4 - 20^4)/64 mm^4 = 3645 mm^4.
    assert ring_second_moment(0.022, bore=0.020) == pytest.approx(3645e-12, rel=1e-4, abs=0)
    with pytest.raises(OutOfRangeError, match="bore"):
        ring_second_moment(0.02, bore=0.02)


def test_one_place_is_no_rod():
    with pytest.raises(OutOfRangeError, match="two places"):
        curved_cantilever([[0.0, 0.0, 0.0]], load=NONE, tip_load=NONE, bending=EI, torsion=GJ)
