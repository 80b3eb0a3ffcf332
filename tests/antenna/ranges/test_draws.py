# SPDX-License-Identifier: BSD-3-Clause
"""Draws have the distribution that the tolerances state."""

import numpy as np
import pytest

from ringwright.antenna.design import Earth, Tolerance
from ringwright.antenna.ranges.draws import Draws
from tests.antenna.builds import AVERAGE

TOLERANCE = Tolerance(capacitor_q=0.3, joint_resistance=0.5, earth=0.4)
INPUTS = ("capacitor_loss", "joint_resistance", "conductivity", "permittivity")


def logarithms(draws: Draws) -> np.ndarray:
    return np.log([getattr(draws, name) for name in INPUTS])


def test_logarithms_have_the_stated_spread_about_the_stated_values():
    draws = Draws.of(TOLERANCE, AVERAGE)
    found = logarithms(draws)
    assert found[:, 0] == pytest.approx(np.log([1.0, 1.0, 0.005, 13.0]), rel=1e-12, abs=1e-15)
    drawn = found[:, 1:] - found[:, :1]
    # Evenly spread points lack the last of the tails, 1 % of a standard deviation.
    assert drawn.std(axis=1) == pytest.approx([0.3, 0.5, 0.4, 0.4], rel=0.02, abs=0)
    assert np.abs(drawn.mean(axis=1)).max() < 0.01


def test_inputs_are_drawn_independently():
    drawn = logarithms(Draws.of(TOLERANCE, AVERAGE))[:, 1:]
    assert np.abs(np.corrcoef(drawn) - np.eye(4)).max() < 0.02  # even points: measured 0.01


def test_no_earth_is_drawn_lighter_than_air_or_above_cold_water():
    loose = Tolerance(capacitor_q=0.0, joint_resistance=0.0, earth=2.0)
    for permittivity in (2.0, 70.0):
        drawn = Draws.of(loose, Earth(name="x", conductivity=1e-3, permittivity=permittivity)).permittivity
        assert 1.0 <= drawn.min() <= drawn.max() <= 81.0
        assert drawn.std() > 0.0
