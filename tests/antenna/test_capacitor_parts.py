# SPDX-License-Identifier: BSD-3-Clause
"""Several capacitors as one: Kirchhoff's laws with complex impedances on the other side."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.antenna.capacitor import series_impedance, travel_of
from ringwright.antenna.capacitor_parts import Shares, lead_impedance, losses, range_at_gap
from ringwright.antenna.design import Capacitor, Part

F = np.array([7.1e6])
OMEGA = 2.0 * np.pi * F[0]
COMBINED = Capacitor(
    kind="air",
    minimum=20e-12,
    maximum=400e-12,
    fixed=30e-12,
    series=150e-12,
    stray=4e-12,
    variable=Part(q=800.0),
    fixed_part=Part(esr=0.05),
    series_part=Part(q=2000.0),
    contact_resistance=0.006,
)


def circuit(own):
    """Impedances of the variable one, of its branch, and of all at the gap [ohm], stray without loss."""
    variable = (1.0 / 800.0 - 1j) / (OMEGA * own) + 0.006
    branch = variable + (1.0 / 2000.0 - 1j) / (OMEGA * 150e-12)
    whole = 1.0 / (1.0 / branch + 1.0 / (0.05 - 1j / (OMEGA * 30e-12)) + 1j * OMEGA * 4e-12)
    return variable, branch, whole


def across(own):
    return own * 150e-12 / (own + 150e-12) + 34e-12


@pytest.mark.parametrize("own", [20e-12, 90e-12, 400e-12])
def test_shares_and_losses_by_the_complex_circuit(own):
    """Errors of 1/Q^2, 2e-6 at the lowest Q here."""
    variable, branch, whole = circuit(own)
    shares = Shares.at(COMBINED, across(own))
    assert shares.own == pytest.approx(own, rel=1e-12, abs=0)
    assert shares.variable_current == pytest.approx(abs(whole / branch), rel=1e-5, abs=0)
    assert shares.variable_voltage == pytest.approx(abs(variable / branch), rel=1e-5, abs=0)
    assert shares.series_voltage == pytest.approx(abs((branch - variable) / branch), rel=1e-5, abs=0)
    assert shares.fixed_current == pytest.approx(abs(whole / (0.05 - 1j / (OMEGA * 30e-12))), rel=1e-5, abs=0)
    assert losses(COMBINED, across(own), F).total[0] == pytest.approx(whole.real, rel=1e-5, abs=0)
    assert series_impedance(COMBINED, across(own), F)[0] == pytest.approx(whole, rel=1e-5, abs=0)


def test_equal_parts_halve():
    """100 pF in series with 100 pF have half the voltage each, 50 pF beside 50 pF half the current each."""
    series = replace(COMBINED, series=100e-12, fixed=50e-12, stray=0.0)
    shares = Shares.at(series, 100e-12)
    assert shares.own == pytest.approx(100e-12, rel=1e-12, abs=0)
    assert shares.variable_voltage == pytest.approx(0.5, rel=1e-12, abs=0)
    assert shares.series_voltage == pytest.approx(0.5, rel=1e-12, abs=0)
    assert shares.variable_current == pytest.approx(0.5, rel=1e-12, abs=0)
    assert shares.fixed_current == pytest.approx(0.5, rel=1e-12, abs=0)


@given(st.floats(1e-12, 1e-9))
def test_current_and_voltage_add_up_wherever_it_stands(setting):
    shares = Shares.at(COMBINED, setting)
    low, high = range_at_gap(COMBINED)
    stray = 4e-12 / np.clip(setting, low, high)
    assert shares.variable_current + shares.fixed_current + stray == pytest.approx(1.0, rel=1e-12, abs=0)
    assert shares.variable_voltage + shares.series_voltage == pytest.approx(1.0, rel=1e-12, abs=0)
    assert 20e-12 * (1 - 1e-9) <= shares.own <= 400e-12 * (1 + 1e-9)
    assert losses(COMBINED, setting, F).total[0] > 0.0


def test_reach_and_travel_with_one_in_series():
    low, high = range_at_gap(COMBINED)
    assert low == pytest.approx(34e-12 + 20.0 * 150.0 / 170.0 * 1e-12, rel=1e-12, abs=0)
    assert high == pytest.approx(34e-12 + 400.0 * 150.0 / 550.0 * 1e-12, rel=1e-12, abs=0)
    assert travel_of(COMBINED, across(115e-12)) == pytest.approx(0.25, rel=1e-9, abs=0)


def test_leads_are_in_series_with_all_of_it():
    leads = replace(COMBINED, lead_length=0.06, lead_width=0.02, gap_width=0.03)
    more = series_impedance(leads, 80e-12, F)[0] - series_impedance(COMBINED, 80e-12, F)[0]
    assert more == pytest.approx(lead_impedance(leads, F)[0], rel=1e-9, abs=0)
    # 120 mm of copper strap 20 mm wide: between the two faces' and four times as much (crowding at the edges).
    both_faces = 0.12 * np.sqrt(np.pi * F[0] * 4e-7 * np.pi / 58e6) / (2.0 * 0.02)
    assert both_faces < more.real < 4.0 * both_faces


def test_a_part_that_is_not_there_loses_nothing():
    bare = replace(COMBINED, fixed=0.0, series=None, fixed_part=Part(), series_part=Part())
    lost = losses(bare, 100e-12, F)
    assert (lost.fixed[0], lost.series[0], lost.whole[0]) == (0.0, 0.0, 0.0)
    assert lost.variable[0] == pytest.approx((96 / 100) ** 2 / (800.0 * OMEGA * 96e-12), rel=1e-12, abs=0)
