# SPDX-License-Identifier: BSD-3-Clause
"""Breakdown of air: Schumann's law after Kuffel and Zaengl, IEC 60052 spheres, IEC 60060-1 and the ICAO atmosphere.

Digits of the law and of the air density by another program from the published constants. The constants and the sphere
table are from memory, confirmed against each other.
"""

import pytest

from ringwright.physics.breakdown import air_density, uniform_gap_breakdown


@pytest.mark.parametrize(
    ("gap_cm", "kilovolts"),
    [
        (0.05, 2.5705),
        (0.1, 4.3447),
        (0.2, 7.5631),
        (0.3, 10.596),
        (0.5, 16.409),
        (1.0, 30.300),
        (2.0, 57.038),
    ],
)
def test_breakdown_of_a_uniform_gap(gap_cm, kilovolts):
    # Five digits.
    assert uniform_gap_breakdown(gap_cm / 100) == pytest.approx(kilovolts * 1e3, rel=3e-5, abs=0)


@pytest.mark.parametrize(
    ("gap_cm", "kilovolts"), [(0.05, 2.8), (0.10, 4.7), (0.20, 8.0), (0.30, 11.2), (0.50, 17.4)]
)
def test_iec_60052_spheres_of_two_centimetres(gap_cm, kilovolts):
    # The standard states 3 % for its table, two printed digits add 2 %, and this fit is known to read low by up to 7 %.
    law = float(uniform_gap_breakdown(gap_cm / 100))
    assert law == pytest.approx(kilovolts * 1e3, rel=0.09, abs=0)
    assert law < kilovolts * 1e3


@pytest.mark.parametrize(
    ("altitude", "celsius", "expected"),
    [(500, 20, 0.94236), (1000, 20, 0.88721), (2000, 20, 0.78475), (0, 40, 0.93633)],
)
def test_relative_air_density(altitude, celsius, expected):
    # Five printed digits.
    assert air_density(altitude, temperature_c=celsius) == pytest.approx(expected, rel=1e-5, abs=0)


@pytest.mark.parametrize(
    ("altitude", "hectopascals"),
    [(0, 1013.25), (1000, 898.75), (2000, 794.95), (5000, 540.20), (9000, 307.42)],
)
def test_pressure_of_the_icao_standard_atmosphere(altitude, hectopascals):
    # Doc 7488's table from memory, five digits; by geopotential height, like ours.
    at_20_degrees = air_density(altitude) * 1013.0
    assert at_20_degrees == pytest.approx(hectopascals, rel=2e-5, abs=0)


def test_one_millimetre_at_a_thousand_metres():
    # Four digits.
    assert uniform_gap_breakdown(1e-3, air_density=air_density(1000)) == pytest.approx(
        3960, rel=1.3e-4, abs=0
    )
