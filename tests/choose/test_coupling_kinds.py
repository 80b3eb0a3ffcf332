# SPDX-License-Identifier: BSD-3-Clause
"""docs/explanation/coupling.md compares the three kinds on one ring: its table says what `match` finds."""

import re
from pathlib import Path

import pytest

from ringwright.antenna.design_file import parse_design
from ringwright.choose.match import find_coupling

PAGE = (Path(__file__).parents[2] / "docs" / "explanation" / "coupling.md").read_text(encoding="utf-8")
BUILD = """format = 1
name = "Compared"
bands = ["40m", "30m", "20m"]
[ring]
shape = "octagon"
perimeter = "3.2 m"
[coupling]
{}
[capacitor]
kind = "vacuum"
q = 2000
minimum = "10 pF"
maximum = "300 pF"
"""
KINDS = {
    "loop": ('diameter = "0.15 m"', "diameter", 1e3),
    "tap": ('kind = "tapped"\ntap_at = "0.2 m"', "tap_at", 1e3),
    "transformer": (
        'kind = "transformer"\nturns = 20\ninductance_factor = "0.9 uH"\ncore_q = 12',
        "turns",
        1.0,
    ),
}


@pytest.mark.parametrize("kind", KINDS)
def test_the_table_of_the_page_is_what_match_finds(kind):
    coupling, size, scale = KINDS[kind]
    (row,) = re.findall(rf"^\| {kind},.*", PAGE, re.MULTILINE)
    found_size, found_swr = (float(re.findall(r"[0-9.]+", cell)[0]) for cell in row.split(" | ")[1:3])
    best = find_coupling(parse_design(BUILD.format(coupling), source=kind)).best
    # The search stops within 0.0005 of the SWR, which a size feels tenfold; the page has three digits.
    assert best.swr_worst == pytest.approx(found_swr, rel=5e-3, abs=0)
    core = best.coupling.core
    design_size = core.primary_turns if core is not None else getattr(best.coupling, size)
    assert design_size * scale == pytest.approx(found_size, rel=5e-3, abs=0)
