# SPDX-License-Identifier: BSD-3-Clause
"""Builds that the sheet's tests share, each predicted once: one band, free space."""

from dataclasses import replace

import pytest

from ringwright.antenna.design import Design
from ringwright.antenna.design_file import parse_design
from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_design
from ringwright.sheet.build import Build, find_build
from ringwright.sheet.measures import Measures

CIRCLE = """
format = 1
name = "Circle"
bands = ["40m"]
power = "100 W"
[ring]
perimeter = "3.2 m"
joints = 2
[ring.conductor]
diameter = "15 mm"
wall = "1 mm"
[coupling]
diameter = "200 mm"
[coupling.conductor]
diameter = "6 mm"
[capacitor]
minimum = "15 pF"
maximum = "300 pF"
rated_voltage = "4 kV"
"""


def built(design: Design, *, is_imperial: bool = False) -> Build:
    return find_build(design, predict(design), measures=Measures(is_imperial))


def read(text: str) -> Design:
    return parse_design(text, source="a.toml")


@pytest.fixture(scope="session")
def octagon() -> Build:
    whole = shipped_design(TERRACE_OCTAGON)
    return built(
        replace(whole, targets=whole.targets[1:2], site=replace(whole.site, metal=(), people=(), earth=None))
    )


@pytest.fixture(scope="session")
def circle() -> Build:
    return built(read(CIRCLE))
