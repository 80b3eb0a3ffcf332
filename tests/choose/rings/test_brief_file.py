# SPDX-License-Identifier: BSD-3-Clause
"""The brief and the parts file: what is read, and one sentence for what cannot be."""

import pytest

from ringwright.antenna.design_file import parse_design
from ringwright.choose.rings.brief_file import USUAL_WEIGHTS, parse_brief
from ringwright.choose.rings.candidate import name_of, text_of
from ringwright.choose.rings.candidate_text import toml_text
from ringwright.choose.stock import stock_tables
from ringwright.errors import DesignFileError
from ringwright.units import to_si
from tests.choose.rings.briefs import SMALL, brief

HEAD = 'format = 1\nbands = ["40m"]\n'


@pytest.mark.parametrize(
    ("text", "key", "remedy"),
    [
        ('bands = ["40m"]', "format", "add it"),
        ("format = 2", "format", "newer program; update this one"),
        ("format = 1", "bands", 'as in bands = ["40m"]'),
        ('format = 1\nbands = ["40"]', "bands[1]", 'did you mean "40m"?'),
        (HEAD + "power = 25", "power", "in quotes and with its unit"),
        (HEAD + "[weight]\nsize = 1", "weight", "did you mean weights?"),
        (HEAD + "[weights]\nsky_db = 0", "weights", "a weight above 0"),
        (HEAD + '[room]\nwidth = "0 m"', "room.width", "must be more than 0 m"),
        (HEAD + '[room]\nwide = "1 m"', "room.wide", "did you mean room.width?"),
        (HEAD + '[limits]\ncost = "90"', "limits.cost", "an amount and three letters"),
        (HEAD + '[limits]\nexposure = ["fcc"]', "limits.exposure[1]", "write one of"),
        (HEAD + '[site]\nheigth = "1 m"', "site.heigth", "did you mean site.height?"),
        (HEAD + '[grid]\nshape = ["triangle"]', "grid.shape[1]", "write one of"),
        (HEAD + '[grid]\nperimeter = ["2 m", "5 m"]', "grid.perimeter", '["2 m", "5 m", 25]'),
        (HEAD + '[grid]\nperimeter = ["5 m", "2 m", 3]', "grid.perimeter", "must rise"),
        (HEAD + '[grid]\nperimeter = ["2", "5 m", 3]', "grid.perimeter", "has no unit"),
        (HEAD + '[grid]\nperimeter = ["2 m", "5 m", 0]', "grid.perimeter", "from 1 to 1000"),
        (HEAD + "[grid]\nconductors = [7]", "grid.conductors[1]", "write one as in a design"),
        (
            HEAD + '[grid]\nconductors = [{ diameter = "30 mm", wall = "16 mm" }]',
            "grid.conductors[1]",
            "thinner",
        ),
        (HEAD + '[grid]\nconductors = ["EN 1057 22 x 2"]', "grid.conductors[1]", 'mean "EN 1057 22 x 1"?'),
        (HEAD + '[grid]\ncapacitors = [{ minimum = "9 pF" }]', "grid.capacitors[1]", "maximum is missing"),
        (HEAD + '[grid]\ncapacitors = [{ minimun = "9 pF" }]', "grid.capacitors[1]", "did you mean minimum?"),
        ("bands = 40m", "this is not TOML", "quotes"),
    ],
)
def test_a_bad_brief_gets_one_sentence_with_key_and_remedy(text, key, remedy):
    with pytest.raises(DesignFileError) as caught:
        parse_brief(text, source="brief.toml")
    said = str(caught.value)
    assert said.startswith(f"brief.toml: {key}")
    assert remedy in said
    assert "\n" not in said


def test_what_is_left_open_is_said():
    found = parse_brief(HEAD, source="brief.toml")
    assert {name: found.weights[name] for name in USUAL_WEIGHTS} == USUAL_WEIGHTS
    assert found.shapes == ("circle", "octagon")
    assert len(found.conductors) == len(stock_tables("conductors"))
    assert found.counts == 2 * 25 * len(found.conductors) * len(found.capacitors)
    assert [each.partition(" =")[0] for each in found.defaults_used] == [
        "grid.conductors",
        "grid.capacitors",
        "grid.shape",
        "grid.perimeter",
        "weights",
    ]


def test_named_weights_leave_the_others_at_nothing_but_the_sky():
    found = brief(SMALL, ("sky_db = 1\nsize = 2", "mass = 0.5"))
    assert found.weighed == ("sky_db", "mass")
    assert found.weights["sky_db"] == 1.0


def test_perimeters_are_even_steps_from_the_first_to_the_last():
    assert brief(SMALL, ('"3 m", 2', '"3 m", 5')).perimeters == (2.0, 2.25, 2.5, 2.75, 3.0)


def test_a_candidate_is_a_design_file_with_the_briefs_own_words():
    found = brief(
        SMALL, ('["circle"]', '["octagon"]'), ('name = "neighbour"', 'name = "the \\"neighbour\\" \\\\ é"')
    )
    text = text_of(found, (0, 1, 0, 1), 0.187)
    design = parse_design(text, source="candidate.toml")
    assert design.ring.perimeter == 3.0
    assert design.ring.joints == 8
    assert design.coupling.diameter == 0.187
    assert design.site.people[0].name == 'the "neighbour" \\ é'
    assert (design.power, design.capacitor.plate_gap) == (20.0, 0.004)
    assert [target.band for target in design.targets] == ["20m", "17m"]
    assert "never touch" in text


IMPERIAL = (
    ('["2 m", "3 m", 2]', '["8 ft", "9 ft", 4]'),
    (
        '[{ diameter = "22 mm" }, { diameter = "12 mm" }]',
        '[{ diameter = "7/8 in" }, { diameter = "5/8 in", wall = "0.04 in" }]',
    ),
)


def test_a_brief_in_feet_has_rings_in_feet():
    found = brief(
        SMALL, *IMPERIAL, ("[grid]", '[limits]\nmass = "20 lb"\n[room]\nwidth = "42 1/2 in"\n[grid]')
    )
    assert name_of(found, (0, 1, 1, 0)) == "Circle of 8.333 ft, tube 5/8 in x 0.04 in, vacuum 8-250 pF"
    design = parse_design(text_of(found, (0, 1, 1, 0), 0.187), source="candidate.toml")
    assert design.ring.perimeter == found.perimeters[1] == to_si("8.333 ft", "m")
    assert design.coupling.diameter == pytest.approx(0.187, rel=1e-5)  # five digits
    assert found.is_imperial
    sides = brief(SMALL, *IMPERIAL, ('["circle"]', '["octagon"]'))
    octagon = parse_design(text_of(sides, (0, 1, 0, 0), 0.187), source="candidate.toml")
    assert octagon.building.stock == 10 * 0.3048  # common practice, no source; 3 m where nothing is said
    assert found.units == {
        "room.width": "in",
        "grid.perimeter": "ft",
        "ring.conductor": "ft",
        "limits.mass": "lb",
    }


def test_perimeters_left_open_follow_the_rooms_unit():
    room = '[room]\nwidth = "4 ft"\n[site]\nheight = "{}"\n'
    feet = parse_brief(HEAD + room.format("14 ft"), source="brief.toml")
    assert feet.units["grid.perimeter"] == "ft"
    assert "grid.perimeter = " in feet.defaults_used[3]
    assert " ft to " in feet.defaults_used[3]
    assert all(each / 0.3048 == pytest.approx(round(each / 0.3048, 3), rel=1e-12) for each in feet.perimeters)
    both = parse_brief(HEAD + room.format("4 m"), source="brief.toml")
    assert not both.is_imperial


def test_each_key_of_a_brief_in_both_systems_keeps_its_own():
    found = brief(SMALL, ("[grid]", '[room]\nwidth = "42 in"\n[grid]'))
    assert found.units == {"room.width": "in"}
    assert name_of(found, (0, 0, 0, 0)).startswith("Circle of 2 m, tube 22 x 1 mm")


def test_wire_bends_at_a_polygons_corners_and_needs_no_joints():
    found = brief(
        SMALL,
        ('["circle"]', '["square"]'),
        ('{ diameter = "12 mm" }', '{ kind = "solid", diameter = "4 mm" }'),
    )
    joints = [parse_design(text_of(found, (0, 0, c, 0), 0.1), source="x").ring.joints for c in (0, 1)]
    assert joints == [4, 0]


def test_toml_survives_every_character():
    tables = {"name": 'a"b\\c\td\x7fé\u2028', "n": [["1 m", 2], True], "t": {"x": [{"y": 1.5}, {"y": 2}]}}
    import tomllib

    assert tomllib.loads(toml_text(tables)) == tables


PARTS = """\
format = 1
[[conductors]]
name = "left over"
diameter = "28 mm"
price = "0 EUR"
[[capacitors]]
name = "from the attic"
kind = "butterfly"
minimum = "9 pF"
maximum = "90 pF"
price = "15 EUR"
mass = "0.9 kg"
[[prices]]
of = "EN 1057 22 x 1"
price = "6.40 EUR"
"""


def test_own_parts_come_first_and_the_stock_gets_its_prices():
    found = parse_brief(HEAD, source="brief.toml", parts=PARTS)
    assert found.conductors[0].name == "left over"
    assert (found.capacitors[0].name, found.capacitors[0].mass) == ("from the attic", 0.9)
    (tube,) = (each for each in found.conductors if each.name == "EN 1057 22 x 1")
    assert tube.price is not None
    assert (tube.price.amount, found.limits.currency) == (6.4, "EUR")
    named = parse_brief(HEAD + '[grid]\ncapacitors = ["from the attic"]', source="b", parts=PARTS)
    assert [each.name for each in named.capacitors] == ["from the attic"]
    assert 'capacitor_mass = "0.9 kg"' in text_of(named, (0, 0, 0, 0), 0.2)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (
            "EN 1057 22 x 1",
            "EN 1057 22x1",
            'parts.toml: prices: there is no part "EN 1057 22x1"; did you mean',
        ),
        ("15 EUR", "15 USD", "brief.toml: limits.cost and the parts' prices are in EUR and USD"),
        (
            "diameter",
            "diametre",
            "parts.toml: conductors[1].diametre is not a known key; did you mean diameter?",
        ),
        ("format = 1", "format = 3", "parts.toml: format: 3 is the format of a newer program"),
    ],
)
def test_a_bad_parts_file_gets_one_sentence(old, new, said):
    with pytest.raises(DesignFileError, match=said.replace("[", r"\[")):
        parse_brief(HEAD, source="brief.toml", parts=PARTS.replace(old, new))
