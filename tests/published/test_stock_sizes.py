# SPDX-License-Identifier: BSD-3-Clause
"""The stock against what the standards print beside the sizes: masses, gauges, areas, cable dimensions."""

import math

import pytest

from ringwright.antenna.bands import bands_of
from ringwright.antenna.design import Target
from ringwright.choose.rings.parts import stock
from ringwright.choose.stock import STOCK_FILES, stock_source
from ringwright.safety.mechanics.masses import mass_per_metre, metal_section

POUND_PER_FOOT = 0.45359237 / 0.3048
BAND = bands_of(1)["20m"]
STOCK = stock([Target(band="20m", frequency=BAND.centre, low=BAND.low, high=BAND.high)])
CONDUCTORS = {each.name: each.conductor for each in STOCK.conductors}


@pytest.mark.parametrize(("name", "printed"), [("12 x 1", 0.31), ("15 x 1", 0.39), ("18 x 1", 0.48)])
def test_mass_of_tube_en_1057(name, printed):
    # kg/m, printed to two digits
    assert mass_per_metre(CONDUCTORS[f"EN 1057 {name}"]) == pytest.approx(printed, abs=0.005)


@pytest.mark.parametrize(
    ("name", "printed"), [("3/8", 0.198), ("1/2", 0.285), ("3/4", 0.455), ("1", 0.655), ("1-1/4", 0.884)]
)
def test_mass_of_tube_astm_b88_type_l(name, printed):
    # lb/ft; 1 and 1-1/4 from memory
    mass = mass_per_metre(CONDUCTORS[f"ASTM B88 {name} L"]) / POUND_PER_FOOT
    assert mass == pytest.approx(printed, rel=4e-3, abs=0)


@pytest.mark.parametrize(
    ("size", "inches"), [("1/4", 0.25), ("3/8", 0.375), ("1/2", 0.5), ("3/4", 0.75), ("1", 1.0)]
)
def test_astm_b88_tube_is_an_eighth_of_an_inch_larger_than_its_name(size, inches):
    diameter = CONDUCTORS[f"ASTM B88 {size} L"].diameter
    assert diameter == pytest.approx((inches + 0.125) * 0.0254, rel=1e-12, abs=0)


@pytest.mark.parametrize(("gauge", "mils"), [(12, 80.8), (10, 101.9), (8, 128.5), (6, 162.0), (4, 204.3)])
def test_wire_gauges_astm_b258(gauge, mils):
    # printed to a tenth of a mil
    assert CONDUCTORS[f"ASTM B258 AWG {gauge}"].diameter == pytest.approx(mils * 25.4e-6, abs=0.05 * 25.4e-6)


@pytest.mark.parametrize("area", [6, 10, 16])
def test_wire_iec_60228_has_its_nominal_section(area):
    assert metal_section(CONDUCTORS[f"IEC 60228 {area} mm2"]) == pytest.approx(area * 1e-6, rel=3e-3, abs=0)


@pytest.mark.parametrize(
    ("sheet", "dielectric", "sheath"),
    [("M17/28", 0.116, 0.195), ("M17/74", 0.285, 0.405), ("M17/79", 0.680, 0.870)],
)
def test_coax_screens_lie_between_dielectric_and_sheath_mil_dtl_17(sheet, dielectric, sheath):
    # inches, from memory
    diameter = CONDUCTORS[f"MIL-DTL-17 {sheet} screen"].diameter
    assert diameter is not None
    assert dielectric * 0.0254 < diameter < sheath * 0.0254


def test_every_file_of_the_stock_names_its_source():
    assert all(stock_source(name) for name in STOCK_FILES)
    names = [each.name for each in STOCK.conductors] + [each.name for each in STOCK.capacitors]
    assert len(set(names)) == len(names)
    assert all(math.isfinite(each.mass) for each in STOCK.capacitors)
