# SPDX-License-Identifier: BSD-3-Clause
"""Drift with warmth: a worked value, a line resonator made longer, and the limit of a small ring."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from ringwright.errors import OutOfRangeError
from ringwright.physics.drift import thermal_drift


def test_copper_at_14_2_mhz():
    # Copper 17e-6/K: half of it, -8.5e-6, makes -120.7 Hz/K, worked out apart from this program.
    assert thermal_drift(14.2e6, expansion=17e-6) == pytest.approx(-120.7, rel=1e-4, abs=0)


@pytest.mark.parametrize("angle", [0.05, 0.4, 1.0])
def test_a_shorted_line_with_a_capacitor_by_making_it_longer(angle):
    """X = Z0 tan(k l): resonance by root finding before and after growth by e, a kelvin's expansion."""
    growth = 1e-6
    capacitance = 1.0 / np.tan(angle)  # resonant at frequency 1 where k l = angle, Z0 = 1

    def resonance(size):
        return brentq(lambda f: np.tan(angle * size * f) * f * capacitance - 1.0, 0.5, 1.2, xtol=1e-15)

    slope = angle / (np.sin(angle) * np.cos(angle))
    by_growing = resonance(1.0 + growth) - resonance(1.0)
    # The difference of two roots keeps nine digits; growth is 1e-6.
    assert thermal_drift(1.0, expansion=growth, slope=slope) == pytest.approx(by_growing, rel=1e-5, abs=0)


@given(st.floats(1e6, 50e6), st.floats(1e-6, 5e-5), st.floats(1.0, 20.0))
def test_between_half_the_expansion_and_all_of_it(frequency, expansion, slope):
    found = thermal_drift(frequency, expansion=expansion, slope=slope)
    assert -expansion * frequency < found <= -expansion * frequency / 2.0


@pytest.mark.parametrize(
    "values", [{"expansion": -1e-6}, {"expansion": 1e-5, "slope": 0.0}, {"expansion": np.nan}]
)
def test_what_has_no_answer_is_refused(values):
    with pytest.raises(OutOfRangeError, match="must be finite"):
        thermal_drift(14e6, **values)
