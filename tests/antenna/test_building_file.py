# SPDX-License-Identifier: BSD-3-Clause
"""The tables [build], [stand] and [[parts]]: what they say, what stands without them, what they refuse."""

import pytest

from ringwright.antenna.building import Bought, Building, CornerKind, Price, Stand, StandKind
from ringwright.antenna.design_file import parse_design
from ringwright.errors import DesignFileError

OCTAGON = """
format = 1
name = "Octagon"
bands = ["40m"]
[ring]
shape = "octagon"
perimeter = "4.4 m"
[coupling]
diameter = "0.19 m"
[capacitor]
minimum = "8 pF"
maximum = "500 pF"
[site]
height = "2 m"
"""
CIRCLE = OCTAGON.replace("octagon", "circle")


def read(more="", text=OCTAGON):
    return parse_design(text + more, source="a.toml")


def test_without_the_tables_stands_what_is_usual():
    design = read()
    assert design.building == Building(stock=3.0)
    assert design.stand is None
    assert design.parts == ()
    assert not any(note.startswith(("build", "stand")) for note in design.defaults_used)


def test_a_bent_ring_comes_from_a_coil_and_braid_is_carried_by_a_frame():
    assert read(text=CIRCLE).building.stock is None
    braid = CIRCLE.replace('"4.4 m"', '"4.4 m"\nconductor = {kind = "braid", diameter = "9 mm"}')
    assert read(text=braid).building.stock is None


def test_every_key_is_read_in_si():
    design = read(
        """
[build]
corners = "elbow"
take_off = "9 mm"
stock = "5 m"
kerf = "1 mm"
connector_gap = "12 mm"
capacitor_mass = "3 lb"
box_mass = "400 g"
box_width = "10 in"
box_height = "200 mm"
box_depth = "15 cm"
held = "frame"
[stand]
feet = 4
foot_circle = "3 ft"
floor = "1 m"
mass = "6 kg"
ballast = "20 kg"
mast_diameter = "2 in"
wind = "90 km/h"
[[parts]]
name = "cable ties"
count = 20
price = "0.05 EUR"
[[parts]]
replaces = "capacitor"
name = "vacuum capacitor"
"""
    )
    assert design.building == Building(
        corners=CornerKind.ELBOW,
        take_off=0.009,
        stock=5.0,
        kerf=0.001,
        connector_gap=0.012,
        capacitor_mass=1.36077711,  # 3 lb
        box_mass=0.4,
        box_width=0.254,
        box_height=0.2,
        box_depth=0.15,
        is_framed=True,
    )
    assert design.stand == Stand(
        kind=StandKind.STANDING,
        feet=4,
        foot_circle=0.9144,  # 3 ft
        floor=1.0,
        mass=6.0,
        ballast=20.0,
        mast_diameter=0.0508,
        wind=25.0,
    )
    assert design.parts == (
        Bought(name="cable ties", count=20, price=Price(amount=0.05, currency="EUR")),
        Bought(name="vacuum capacitor", replaces="capacitor"),
    )


def test_what_a_table_leaves_open_is_listed_among_the_defaults():
    notes = read("[build]\n[stand]\n").defaults_used
    assert "stand.feet = 3 (a tripod)" in notes
    assert "stand.wind = 25 m/s (a gust in a storm; local codes name another)" in notes
    assert any(note.startswith("build.kerf = 2 mm") for note in notes)


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ('[build]\nbend_allowance = "1 cm"', "bend_allowance does not belong to the shape octagon"),
        ('[build]\ntake_off = "1 cm"', 'write corners = "elbow"'),
        ('[build]\ncorner = "mitre"', "corners"),
        ('[stand]\nfloor = "2 m"', "is not below the ring"),
        ('[stand]\nkind = "fixed"\nfeet = 4', "stand.feet belongs to what stands on feet"),
        ('[stand]\nkind = "fixed"\nballast = "4 kg"', "stand.ballast belongs to what stands on feet"),
        ("[stand]\nfeet = 2", "must be from 3 to 12"),
        ('[stand]\nwind = "20 rpm"', "speed"),
        ('[[parts]]\nname = "x"\nprice = "12 euros"', 'write an amount and three letters, as in "12.50 EUR"'),
        ('[[parts]]\nname = "x"\nreplaces = "capacitors"', 'did you mean "capacitor"?'),
        (
            '[[parts]]\nname = "x"\nreplaces = "box"\n[[parts]]\nname = "y"\nreplaces = "box"',
            "parts[2].replaces names box a second time",
        ),
    ],
)
def test_what_does_not_fit_is_refused_in_a_sentence(more, sentence):
    with pytest.raises(DesignFileError) as told:
        read(more)
    assert sentence in str(told.value)


def test_a_circle_has_no_corners_and_braid_does_not_carry_itself():
    with pytest.raises(DesignFileError, match="corners does not belong to the shape circle"):
        read('[build]\ncorners = "mitre"', CIRCLE)
    braid = CIRCLE.replace('"4.4 m"', '"4.4 m"\nconductor = {kind = "braid", diameter = "9 mm"}')
    with pytest.raises(DesignFileError, match='write held = "frame"'):
        read('[build]\nheld = "opposite gap"', braid)
