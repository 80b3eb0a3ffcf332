# SPDX-License-Identifier: BSD-3-Clause
"""What the capacitor has to stand at power, part by part, and what a change of it costs."""

from dataclasses import replace

import pytest

from ringwright.antenna.design import Part, Tolerance
from ringwright.antenna.predict import predict
from ringwright.antenna.solution import SolutionMemory
from tests.antenna.builds import band, built

PARTS = {
    "esr": None,
    "series": 120e-12,
    "fixed": 15e-12,
    "stray": 3e-12,
    "variable": Part(q=600.0),
    "fixed_part": Part(q=1500.0, rated_voltage=9e3, rated_current=20.0),
    "series_part": Part(esr=0.02, rated_voltage=6e3),
    "contact_resistance": 5e-3,
    "maximum": 200e-12,
    "rated_voltage": 5e3,
}


def first(design):
    """Certain of everything: what tolerances add is tested in `ranges`."""
    certain = Tolerance(capacitor_q=0.0, joint_resistance=0.0, earth=0.0)
    return predict(replace(design, tolerance=certain)).bands[0]


def test_watts_of_the_parts_are_those_of_the_budget():
    """At 100 W the budget's per cents are watts; heat is at the mode factor times the transmit share."""
    one = first(built(capacitor=PARTS, mode_factor=0.4, transmit_share=0.5))
    found = one.capacitor
    assert found.heat == pytest.approx(0.2 * one.watts_pct.capacitor, rel=1e-9, abs=0)
    assert found.contact_heat == pytest.approx(0.2 * one.watts_pct.joints, rel=1e-9, abs=0)
    assert found.contact_heat == pytest.approx(0.2 * 5e-3 * found.variable_current_rms**2, rel=1e-9, abs=0)
    assert found.series_heat == pytest.approx(0.2 * 0.02 * found.variable_current_rms**2, rel=1e-9, abs=0)
    # A solved ring with this capacitor still balances: sky and losses are what the feed takes.
    assert one.watts_pct.sum == pytest.approx(100.0, rel=1e-4, abs=0)


def test_parallel_divides_the_current_and_series_the_voltage():
    one = first(built(capacitor=PARTS))
    found, tuning = one.capacitor, one.tuning
    assert found.series_voltage_peak is not None
    assert found.fixed_current_rms is not None
    whole = found.variable_voltage_peak + found.series_voltage_peak
    assert whole == pytest.approx(tuning.capacitor_voltage_peak, rel=1e-12, abs=0)
    stray = tuning.capacitor_current_rms * 3e-12 / tuning.capacitance
    assert found.variable_current_rms + found.fixed_current_rms + stray == pytest.approx(
        tuning.capacitor_current_rms, rel=1e-12, abs=0
    )
    assert found.must_stand_peak == tuning.capacitor_voltage_peak


@pytest.mark.parametrize(
    ("changed", "set_by"),
    [
        ({}, "rated voltage"),
        ({"rated_voltage": 50e3, "series_part": Part(esr=0.02, rated_voltage=2e3)}, "series capacitor"),
        ({"rated_voltage": 50e3}, "fixed capacitor"),
        ({"rated_voltage": None, "plate_gap": 0.5e-3}, "plate gap"),
    ],
)
def test_at_the_power_allowed_the_weakest_part_has_all_it_stands(changed, set_by):
    design = built(capacitor=PARTS | changed)
    one = first(design)
    assert one.capacitor.stands_set_by == set_by
    assert one.limits.set_by == "capacitor voltage"
    assert one.limits.power_max is not None
    there = first(replace(design, power=one.limits.power_max)).capacitor
    assert there.must_stand_peak == pytest.approx(one.capacitor.stands_peak, rel=1e-9, abs=0)
    on_it = {
        "rated voltage": (there.variable_voltage_peak, 5e3),
        "series capacitor": (there.series_voltage_peak, 2e3),
        "fixed capacitor": (there.must_stand_peak, 9e3),
    }
    if set_by in on_it:
        found, rated = on_it[set_by]
        assert found == pytest.approx(rated, rel=1e-9, abs=0)


def test_a_rated_current_is_that_of_its_part():
    design = built(
        capacitor=PARTS | {"rated_current": 4.0, "rated_voltage": None, "fixed_part": Part(q=1500.0)}
    )
    one = first(design)
    assert one.limits.power_max is not None
    assert one.limits.set_by == "capacitor current"
    there = first(replace(design, power=one.limits.power_max)).capacitor
    assert there.variable_current_rms == pytest.approx(4.0, rel=1e-9, abs=0)


def test_altitude_lowers_the_power_with_the_square_of_the_air():
    """Density 0.887 21 at 1000 m (ISA), over the standard 1.000 25 at sea level."""
    low, high = (first(built(capacitor={"rated_voltage": 5e3}, site={"altitude": h})) for h in (0.0, 1000.0))
    assert low.limits.power_max is not None
    assert high.limits.power_max == pytest.approx(
        low.limits.power_max * (0.88721 / 1.00025) ** 2, rel=1e-4, abs=0
    )


def test_thin_air_reaches_the_fixed_one_beside_a_vacuum_capacitor():
    parts = PARTS | {"kind": "vacuum", "rated_voltage": 50e3, "series_part": Part()}
    high = first(built(capacitor=parts, site={"altitude": 2000.0})).capacitor
    assert high.stands_set_by == "fixed capacitor"
    assert high.stands_peak == pytest.approx(9e3 * 0.78475, rel=3e-4, abs=0)


def test_leads_need_less_capacitance_by_their_reactance():
    """In series: 1/(omega C') = 1/(omega C) + omega L, the coupling loop moves both alike (1 % of the difference)."""
    plain = first(built())
    leads = first(built(capacitor={"lead_length": 0.06, "lead_width": 0.02, "gap_width": 0.03}))
    inductance = leads.capacitor.lead_inductance
    assert inductance is not None
    omega = 2.0 * 3.141592653589793 * plain.frequency
    more = 1.0 / (omega * leads.tuning.capacitance) - 1.0 / (omega * plain.tuning.capacitance)
    # The strap's inner inductance comes on top, 0.4 % here.
    assert more == pytest.approx(omega * inductance, rel=0.01, abs=0)
    assert leads.tuning.tunes_to is not None
    assert plain.tuning.tunes_to is not None
    assert leads.tuning.tunes_to < plain.tuning.tunes_to


def test_how_warm_it_gets_is_told_only_where_its_size_is_known():
    assert first(built()).capacitor.temperature_rise is None
    sized = first(built(capacitor={"body_diameter": 0.06, "body_length": 0.1})).capacitor
    assert sized.temperature_rise is not None
    area = 3.141592653589793 * 0.06 * (0.1 + 0.03)
    leaves = 1.32 * (sized.temperature_rise / 0.06) ** 0.25 * area * sized.temperature_rise
    assert leaves == pytest.approx(sized.heat, rel=1e-9, abs=0)


@pytest.mark.parametrize(
    "changed",
    [
        {"variable": Part(q=900.0)},
        {"contact_resistance": 0.02},
        {"lead_length": 0.05, "lead_width": 0.02},
        {"lead_length": 0.2, "lead_width": 0.02},
        {"straight_line_frequency": True, "travel": 180.0},
        {"law": ((0.0, 10e-12), (180.0, 200e-12)), "travel": 180.0, "travel_unit": "deg"},
        {"fixed_part": Part(esr=0.1)},
        {"series_part": Part(q=300.0)},
        {"plate_gap": 2e-3, "rated_voltage": None},
        {"esr": 0.05, "variable": Part(), "fixed_part": Part(), "series_part": Part()},
    ],
)
def test_no_change_of_loss_leads_or_law_costs_a_solution(changed):
    design, memory = built(band("20m"), band("30m"), capacitor=PARTS), SolutionMemory()
    predict(design, memory)
    before = memory.solves
    predict(replace(design, capacitor=replace(design.capacitor, **changed)), memory)
    assert memory.solves == before
