# SPDX-License-Identifier: BSD-3-Clause
"""What a builder reads: half millimetres, thirty-seconds of an inch, feet and pounds."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.sheet.measures import Measures, angle, minutes

METRIC, IMPERIAL = Measures(), Measures(is_imperial=True)


def inches(text):
    number, unit = text.rsplit(" ", 1)
    assert unit == "in"
    return float(sum(Fraction(part) for part in number.split()))


@given(st.floats(1e-3, 30.0))
def test_a_length_is_told_to_half_a_millimetre_or_a_thirty_second(metres):
    number, unit = METRIC.length(metres).split()
    assert unit == "mm"
    assert float(number) == pytest.approx(metres * 1e3, abs=0.2501, rel=1e-5)
    assert inches(IMPERIAL.length(metres)) == pytest.approx(metres / 0.0254, abs=1.01 / 64.0, rel=0)


@given(st.floats(1e-4, 1.0))
def test_what_must_not_be_less_is_rounded_up_in_its_last_digit(metres):
    number = float(METRIC.at_least(metres).split()[0])
    assert metres / 1e-3 * (1.0 - 1e-6) <= number <= metres / 1e-3 * 1.0101
    on_the_rule = inches(IMPERIAL.at_least(metres))
    assert (on_the_rule * 32.0).is_integer()
    assert metres / 0.0254 - 1e-9 <= on_the_rule < metres / 0.0254 + 1.0 / 32.0


def test_what_a_rule_shows():
    assert METRIC.length(0.5591127) == "559 mm"
    assert METRIC.length(0.26455) == "264.5 mm"
    assert IMPERIAL.length(0.0254 * 22.03125) == "22 1/32 in"
    assert IMPERIAL.length(0.0127) == "1/2 in"
    assert IMPERIAL.length(0.0254) == "1 in"


def test_other_quantities_by_hand():
    # 1 lb = 0.45359237 kg, 1 lbf = 4.448222 N, 1 mph = 0.44704 m/s, 1 psi = 6894.757 Pa (NIST SP 811).
    assert METRIC.mass(2.595) == "2.60 kg"
    assert IMPERIAL.mass(2.595) == "5.72 lb"
    assert IMPERIAL.force(100.0) == "22 lbf"
    assert IMPERIAL.moment(100.0) == "74 lbf ft"
    assert METRIC.speed(25.0) == "25 m/s (90 km/h)"
    assert IMPERIAL.speed(25.0) == "56 mph"
    assert IMPERIAL.stress(50e6) == "7300 psi"
    assert METRIC.stress(50e6) == "50 MPa"
    assert IMPERIAL.pressure(390.6) == "8.2 lbf/ft²"
    assert IMPERIAL.linear_density(0.5898) == "0.396 lb/ft"
    assert METRIC.linear_density(0.5898) == "0.590 kg/m"
    assert METRIC.distance(1.8) == "1.80 m"
    assert IMPERIAL.distance(1.8) == "5 ft 11 in"
    assert IMPERIAL.distance(0.2) == "8 in"
    assert METRIC.fine(0.0039917) == "3.99 mm"


def test_a_tube_is_told_by_its_fraction_only_if_it_is_one():
    # ASTM B88 nominal 3/4 has 7/8 in outside and 0.045 in of wall (type L); EN 1057 has 22 mm, which fits no 7/8 in.
    assert IMPERIAL.fine(0.022225) == "7/8 in"
    assert IMPERIAL.fine(0.045 * 0.0254) == "0.0450 in"
    assert IMPERIAL.fine(0.022) == "0.866 in"
    assert IMPERIAL.fine(0.0) == "0 in"


def test_air_to_keep_is_never_written_shorter_than_it_is():
    # 7.85 mm is 0.309 in: between 9/32 and 10/32.
    assert IMPERIAL.at_least(0.00785) == "5/16 in"
    assert IMPERIAL.at_least(0.0254 * 5 / 16) == "5/16 in"
    assert IMPERIAL.at_least(0.0254 * 5 / 16 + 1e-6) == "11/32 in"


def test_angles_and_times():
    assert angle(0.39269908) == "22.5°"
    assert minutes(59.6) == "60 s"
    assert minutes(600.0) == "10 min"
