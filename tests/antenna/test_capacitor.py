# SPDX-License-Identifier: BSD-3-Clause
"""The capacitor's range, loss and laws."""

from dataclasses import replace

import numpy as np
import pytest
import skrf
from hypothesis import given
from hypothesis import strategies as st

from ringwright.antenna.capacitor import (
    capacitance_per_travel,
    loss_terms,
    range_at_gap,
    series_impedance,
    travel_of,
)
from ringwright.antenna.design import Capacitor

LINEAR = Capacitor(kind="vacuum", minimum=8e-12, maximum=500e-12, fixed=20e-12, stray=4e-12, q=3000.0)
SLF = replace(LINEAR, straight_line_frequency=True)
# A table may fall with travel: a vacuum capacitor's shaft is screwed out.
TABLE = replace(
    LINEAR,
    travel=16.0,
    law=((0.0, 500e-12), (4.0, 300e-12), (10.0, 90e-12), (16.0, 8e-12)),
)
LAWS = {"linear": LINEAR, "straight-line frequency": SLF, "table": TABLE}


def test_fixed_and_stray_always_count():
    assert range_at_gap(LINEAR) == pytest.approx((32e-12, 524e-12), rel=1e-12, abs=0)


def test_q_is_constant_and_of_the_whole_gap_capacitance():
    f = np.array([1.8e6, 7.1e6, 29e6])
    z = series_impedance(LINEAR, 100e-12, f)
    assert -z.imag / z.real == pytest.approx(np.full(3, 3000.0), rel=1e-12, abs=0)
    assert -z.imag == pytest.approx(1.0 / (2.0 * np.pi * f * 100e-12), rel=1e-12, abs=0)
    assert loss_terms(LINEAR) == pytest.approx((0.0, 1.0 / 3000.0), rel=1e-15, abs=0)


def test_esr_holds_at_every_frequency_as_written():
    f = np.array([1.8e6, 29e6])
    capacitor = replace(LINEAR, q=None, esr=0.014)
    assert series_impedance(capacitor, 100e-12, f).real == pytest.approx([0.014, 0.014], rel=1e-15, abs=0)
    assert loss_terms(capacitor) == (0.014, 0.0)


def test_series_impedance_by_the_network_library():
    f = skrf.Frequency(3.5, 28.0, 5, unit="MHz")
    media = skrf.media.DefinedGammaZ0(frequency=f, z0=50.0, gamma=1j)
    series = media.resistor(0.02) ** media.capacitor(60e-12) ** media.short()
    found = series_impedance(replace(LINEAR, q=None, esr=0.02), 60e-12, f.f)
    # Through reflection coefficients near 1: rounding over 1 - |s|, 1e-16 / 1e-4.
    assert found == pytest.approx(series.z[:, 0, 0], rel=1e-9, abs=0)


@pytest.mark.parametrize("law", LAWS)
def test_travel_is_zero_at_minimum_and_one_at_maximum_capacitance(law):
    low, high = range_at_gap(LAWS[law])
    assert travel_of(LAWS[law], low) == pytest.approx(0.0, abs=1e-12)
    assert travel_of(LAWS[law], high) == pytest.approx(1.0, rel=1e-12, abs=0)
    assert travel_of(LAWS[law], low * 0.999) is None
    assert travel_of(LAWS[law], high * 1.001) is None


@given(st.sampled_from(sorted(LAWS)), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_more_travel_is_more_capacitance(law, first, second):
    low, high = range_at_gap(LAWS[law])
    places = [travel_of(LAWS[law], low + share * (high - low)) for share in sorted((first, second))]
    assert places[0] is not None
    assert places[1] is not None
    assert 0.0 <= places[0] <= places[1] <= 1.0


def test_laws_by_their_definition():
    low, high = range_at_gap(LINEAR)
    assert travel_of(LINEAR, 0.75 * low + 0.25 * high) == pytest.approx(0.25, rel=1e-12, abs=0)
    # Straight-line frequency: resonance, as 1/sqrt(C) with any inductance, falls linearly with travel.
    frequency = (low**-0.5 + high**-0.5) / 2.0
    assert travel_of(SLF, frequency**-2) == pytest.approx(0.5, rel=1e-12, abs=0)
    # The table counts the variable part; travel 0 is minimum capacitance, whichever way the shaft turns.
    assert travel_of(TABLE, 300e-12 + 24e-12) == pytest.approx(12.0 / 16.0, rel=1e-12, abs=0)
    assert travel_of(TABLE, 49e-12 + 24e-12) == pytest.approx(3.0 / 16.0, rel=1e-12, abs=0)


@given(st.sampled_from(sorted(LAWS)), st.floats(0.01, 0.99))
def test_slope_is_that_of_the_law(law, share):
    capacitor = LAWS[law]
    low, high = range_at_gap(capacitor)
    here = low + share * (high - low)
    slope = capacitance_per_travel(capacitor, here)
    place = travel_of(capacitor, here)
    assert slope is not None
    assert place is not None
    span = high - low
    match law:
        case "linear":
            expected = [span]
        case "straight-line frequency":
            expected = [2.0 * here**1.5 * (low**-0.5 - high**-0.5)]
        case _:
            # Piecewise: beside a bend the difference spans both slopes.
            steps = (82.0 / 6.0, 210.0 / 6.0, 200.0 / 4.0)
            expected = [1e-12 * step * 16.0 for step in steps]
    near = min(expected, key=lambda each: abs(each - slope))
    if law != "table" or min(abs(here - 24e-12 - bend) for bend in (90e-12, 300e-12)) > 1e-3 * span:
        assert slope == pytest.approx(near, rel=1e-4, abs=0)
    assert min(expected) * 0.999 < slope < max(expected) * 1.001


def test_no_slope_beyond_the_ends():
    assert capacitance_per_travel(LINEAR, 600e-12) is None
    assert capacitance_per_travel(LINEAR, 32e-12) == pytest.approx(492e-12, rel=1e-6, abs=0)
