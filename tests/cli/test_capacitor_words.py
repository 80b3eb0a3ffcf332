# SPDX-License-Identifier: BSD-3-Clause
"""The capacitor in the terminal's answer."""

import re

import pytest

LEAST = """format = 1
name = "Least"
bands = ["20m"]
[ring]
perimeter = "3 m"
[coupling]
diameter = "0.18 m"
[capacitor]
minimum = "15 pF"
maximum = "250 pF"
"""
COMBINED = """plate_gap = "2 mm"
fixed = "20 pF"
fixed_rated_voltage = "6 kV"
series = "220 pF"
series_q = 2000
series_rated_voltage = "6 kV"
body_diameter = "60 mm"
body_length = "90 mm"
"""


@pytest.fixture
def answer(call, tmp_path):
    def ask(capacitor):
        path = tmp_path / "least.toml"
        path.write_text(LEAST + capacitor, encoding="utf-8")
        return call("predict", path).out

    return ask


def test_what_it_stands_by_what_and_how_warm(answer):
    flat = " ".join(answer('rated_voltage = "5 kV"').split())
    told = r"stands 5\.0 kV peak by its rated voltage; at worst \S+ kV is on it; \d\d\.\d W of heat in it"
    assert re.search(told, flat)
    assert "a guide" in answer('plate_gap = "2 mm"')


def test_without_a_rating_only_the_heat_is_told(answer):
    assert re.search(r"^  stands +unknown; \d\d\.\d W of heat in it$", answer(""), re.MULTILINE)


def test_every_part_has_its_share_in_80_columns(answer):
    out = answer(COMBINED)
    assert max(map(len, out.splitlines())) <= 80
    flat = " ".join(out.split())
    assert re.search(r"\d+ K above the air", flat)
    shares = (
        r"shares \S+ A in the variable one, \S+ A in the fixed one, \S+ kV on it, \S+ kV on the series one"
    )
    assert re.search(shares, flat)
    assert "shares" not in answer("")


def test_what_is_missing_is_said_with_the_remedy(answer):
    flat = " ".join(answer('stray = "40 pF"').split())
    assert re.search(r"the ring stops at 13\.\d+ MHz; take off \S+ pF to reach 14\.35 MHz", flat)
