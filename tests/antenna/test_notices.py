# SPDX-License-Identifier: BSD-3-Clause
"""Warnings appear where they are due, and only there."""

import pytest

from ringwright.antenna.predict import predict
from tests.antenna.builds import AVERAGE, at, band, built, tube


def codes(design):
    return [notice.code for notice in predict(design).warnings]


def test_a_plain_ring_has_none():
    assert codes(built(band("20m"))) == []


@pytest.mark.parametrize(
    ("code", "design", "counterpart"),
    [
        # The exact torus: 1 % of loss at a/b = 0.04, here 0.046 and 0.037.
        (
            "thick-conductor",
            built(ring={"conductor": tube(0.044)}),
            built(ring={"conductor": tube(0.035)}),
        ),
        (
            "gap-not-rated",
            built(capacitor={"plate_gap": 1.5e-3}),
            built(capacitor={"plate_gap": 1.5e-3, "rated_voltage": 1e5}),
        ),
        ("altitude-not-counted", built(site={"altitude": 600.0}), built(site={"altitude": 0.0})),
        ("out-of-reach", built(band("80m")), built(band("40m"))),
        (
            "power-above-limit",
            built(capacitor={"rated_voltage": 4e3}, power=100.0),
            built(capacitor={"rated_voltage": 4e3}, power=10.0),
        ),
        ("gap-sets-capacitance", built(at(27e6), capacitor={"minimum": 2e-12}), built(at(14.2e6))),
        (
            "radiated-power-limit",
            built(band("60m"), ring={"perimeter": 8.0}, power=400.0),
            built(band("60m"), ring={"perimeter": 8.0}, power=10.0),
        ),
    ],
)
def test_notice_and_counterpart(code, design, counterpart):
    assert code in codes(design)
    assert code not in codes(counterpart)


def test_out_of_reach_says_what_is_missing_at_the_end_that_misses():
    low = next(n for n in predict(built(band("80m"))).warnings if n.code == "out-of-reach")
    assert low.band == "80m"
    assert "with its greatest 400 pF the ring starts at" in low.text
    high = next(n for n in predict(built(at(35e6))).warnings if n.code == "out-of-reach")
    assert high.band is None
    assert "with its least 10 pF the ring stops at" in high.text


def test_a_gap_is_named_with_what_it_is_not_computed_to_stand():
    notice = predict(built(capacitor={"plate_gap": 1.5e-3})).warnings[0]
    assert "a plate gap of 1.5 mm stands is not computed" in notice.text
    assert "must stand" in notice.text


def test_power_above_the_limit_names_what_sets_it():
    capacitor = {"rated_voltage": 1e5, "rated_current": 5.0}
    notice = predict(built(capacitor=capacitor, site={"earth": AVERAGE})).warnings[0]
    assert notice.code == "power-above-limit"
    assert "capacitor current" in notice.text
