# SPDX-License-Identifier: BSD-3-Clause
"""ASTM B258, nominal diameters of American Wire Gauge sizes, in mils. Table from memory; the two sizes that define the
series (0000 = 460 mil, 36 = 5 mil, 39 steps of equal ratio between) stand in every reprint."""

import pytest

from ringwright.units import to_si

MILS = {
    "0000": 460.0, "000": 409.6, "00": 364.8, "0": 324.9, "1": 289.3, "2": 257.6, "3": 229.4, "4": 204.3, "5": 181.9,
    "6": 162.0, "7": 144.3, "8": 128.5, "9": 114.4, "10": 101.9, "11": 90.7, "12": 80.8, "13": 72.0, "14": 64.1,
    "15": 57.1, "16": 50.8, "17": 45.3, "18": 40.3, "19": 35.9, "20": 32.0, "21": 28.5, "22": 25.3, "23": 22.6,
    "24": 20.1, "26": 15.9, "28": 12.6, "30": 10.0, "36": 5.0,
}  # fmt: skip


@pytest.mark.parametrize(("gauge", "mils"), MILS.items())
def test_gauge_is_the_diameter_of_the_table(gauge, mils):
    # The table rounds to 0.1 mil.
    assert to_si(f"AWG {gauge}", "m") / 25.4e-6 == pytest.approx(mils, rel=0.0501 / mils, abs=0)
