# SPDX-License-Identifier: BSD-3-Clause
"""Malformed designs: each is refused in one sentence that names key, value and remedy, and never with a traceback."""

import os
import random
import re
from pathlib import Path

import pytest

from ringwright.antenna.design_file import load_design, parse_design
from ringwright.errors import DesignError, DesignFileError

EXAMPLE = Path(__file__).with_name("contract_example.toml").read_text(encoding="utf-8")
POLYGON = 'shape = "polygon"\npoints = {}'

MALFORMED = [
    # quantities
    (
        'perimeter = "4.4 m"',
        'perimeter = "4.4 MHz"',
        'ring.perimeter: "4.4 MHz" is a frequency, but a length is needed',
    ),
    ('perimeter = "4.4 m"', "perimeter = 4.4", "ring.perimeter: 4.4 has no unit"),
    ('perimeter = "4.4 m"', 'perimeter = "4.4"', 'ring.perimeter: "4.4" has no unit; write "4.4 m"'),
    ('maximum = "500 pF"', 'maximum = "500"', 'capacitor.maximum: "500" has no unit; write "500 pF"'),
    ('maximum = "500 pF"', "maximum = 500", 'as in "1.5 pF"'),
    ('perimeter = "4.4 m"', 'perimeter = "4,4 m"', 'write the decimal sign as a point, "4.4 m"'),
    ('perimeter = "4.4 m"', 'perimeter = "nan m"', 'ring.perimeter: "nan m" is not a finite number'),
    ('perimeter = "4.4 m"', 'perimeter = "1e400 m"', "ring.perimeter"),
    ('perimeter = "4.4 m"', 'perimeter = "-4.4 m"', 'ring.perimeter: "-4.4 m" must be at least 0.1 m'),
    ('perimeter = "4.4 m"', 'perimeter = "4.4 km"', "must be at most 100 m"),
    ('power = "25 W"', 'power = "25 w"', 'did you mean "W"?'),
    ('power = "25 W"', 'power = "44 dBm"', "write the power in watts"),
    ('power = "25 W"', 'power = "0 W"', "power"),
    ('travel = "16 turns"', 'travel = "16 mm"', 'its angle, "180 deg"'),
    ('travel = "16 turns"', 'travel = "0 turns"', "must be more than zero"),
    ('travel = "16 turns"', "travel = 16", 'as in "16 turns"'),
    ('gap_at = "top"', 'gap_at = "side"', 'write "top", "bottom" or an angle'),
    ('gap_at = "top"', 'gap_at = "400 deg"', "at most a full circle"),
    ('gap_at = "top"', "gap_at = 90", "ring.gap_at: 90 has no unit"),
    (
        'bands = ["60m", "40m", "30m"]',
        'tune_to = [{ frequency = "3 GHz" }]',
        '"3 GHz" must be at most 54 MHz',
    ),
    ('bands = ["60m", "40m", "30m"]', 'tune_to = [{ frequency = "472 kHz" }]', "must be at least 1.8 MHz"),
    # numbers
    ("q = 3000", "q = nan", "capacitor.q: nan is not a number"),
    ("q = 3000", "q = -inf", "capacitor.q: -inf is not a number"),
    ("q = 3000", "q = 1" + "0" * 400, "capacitor.q"),
    ("q = 3000", "q = 1" + "0" * 5000, "a whole number has thousands of digits"),
    ("q = 3000", "q = true", "capacitor.q: true must be a bare number"),
    ("q = 3000", 'q = "3000"', 'capacitor.q: "3000" must be a bare number'),
    ("turns = 1 ", "turns = 1.5 ", "ring.turns: 1.5 must be a whole number"),
    ("turns = 1 ", "turns = 0 ", "ring.turns: 0 must be from 1 to 20"),
    ("squash = 1.0", "squash = 0", "coupling.squash: 0 must be at least 0.05"),
    ("transmit_share = 0.5", "transmit_share = 1.5", "transmit_share: 1.5 must be at most 1"),
    ("region = 1", "region = 4", "region: 4 must be from 1 to 3"),
    ("capacitor_q = 0.3", "capacitor_q = -0.3", "tolerance.capacitor_q: -0.3 must be at least 0"),
    # keys
    (
        'perimeter = "4.4 m"',
        'perimter = "4.4 m"',
        "ring.perimter is not a known key; did you mean ring.perimeter?",
    ),
    ('perimeter = "4.4 m"', 'PERIMETER = "4.4 m"', "did you mean ring.perimeter?"),
    (
        "[capacitor]",
        "[capacitor]\nheight = 1",
        "capacitor.height is not a known key here; height belongs to [site]",
    ),
    ("[site]", '[site]\npower = "5 W"', "power belongs to the top of the file"),
    ("[site]", "[sight]", "sight is not a known key; did you mean site?"),
    ('to = ["2 m", "1.2 m", "0.9 m"]', 'too = ["2 m", "1.2 m", "0.9 m"]', "did you mean site.metal[1].to?"),
    ("[tolerance]", "[tolerance]\nzzz = 3", "tolerance.zzz is not a known key; known here: capacitor_q"),
    ('perimeter = "4.4 m"', "", "ring.perimeter is missing; say how large the ring is"),
    ('minimum = "8 pF"', "", "capacitor.minimum is missing; add it"),
    ("format = 1", "", "format is missing; add it"),
    ("format = 1", "format = 2", "format: 2 is the format of a newer program; update this one"),
    ('bands = ["60m", "40m", "30m"]', "", "bands is missing"),
    ('loss_at = "10 MHz"', "", "feedline.loss_at is missing"),
    (
        'perimeter = "4.4 m"',
        'perimeter = "4.4 m"\nside = "0.5 m"',
        "ring.perimeter and ring.side are both given",
    ),
    ("q = 3000", 'q = 3000\nesr = "20 mohm"', "capacitor.q and capacitor.esr are both given"),
    ('plane = "vertical"', 'plane = "vertical"\ntilt = "9 deg"', "ring.plane and ring.tilt are both given"),
    ("transmit_share = 0.5", "duty = 0.1", "duty and mode are both given, but duty is"),
    (
        'earth = "average"',
        'earth = "average"\npermittivity = 13',
        "site.earth and site.permittivity are both given",
    ),
    ('earth = "average"', 'conductivity = "5 mS/m"', "site.permittivity is missing"),
    (
        'material = "steel"',
        'conductivity = "6 MS/m"\nmaterial = "steel"',
        "are both given; leave one of them out",
    ),
    (
        'material = "steel"',
        'material = "steel"\nmu_r = 9',
        "site.metal[1].mu_r stands only beside conductivity",
    ),
    ("joints = 8", "", "ring.joints is missing"),
    # names
    (
        'bands = ["60m", "40m", "30m"]',
        'bands = ["40 m"]',
        'bands[1]: "40 m" is not a name known here; did you mean "40m"?',
    ),
    ('bands = ["60m", "40m", "30m"]', 'bands = ["40m", "40m"]', 'bands names "40m" 2 times'),
    (
        'bands = ["60m", "40m", "30m"]',
        'tune_to = [{ frequency = "7.1 MHz" }, { frequency = "7.1 MHz" }]',
        "tune_to names 7.1 MHz 2 times",
    ),
    ('bands = ["60m", "40m", "30m"]', "bands = []", "bands has 0 entries; give at least 1"),
    ('bands = ["60m", "40m", "30m"]', 'bands = "40m"', "must be a list in square brackets"),
    ('shape = "octagon"', 'shape = "octogon"', 'did you mean "octagon"?'),
    ('earth = "average"', 'earth = "Average"', 'did you mean "average"?'),
    ('mode = "SSB voice"', 'mode = "shouting"', "mode"),
    ('kind = "vacuum"', 'kind = ["vacuum"]', "capacitor.kind"),
    ('material = "copper"', 'material = "aluminum"', 'did you mean "aluminium"?'),
    ('locator = "JJ00"', 'locator = "00JJ"', "is no locator"),
    ('name = "Terrace octagon"', 'name = ""', "is no name"),
    ('name = "Terrace octagon"', 'name = "a\\nb"', "is no name"),
    ('name = "Terrace octagon"', f'name = "{"x" * 999}"', "is too long"),
    # what cannot be built
    (
        'minimum = "8 pF"',
        'minimum = "800 pF"',
        "capacitor.minimum of 800 pF must be less than capacitor.maximum of 500 pF",
    ),
    ('clearance = "15 mm"', 'clearance = "0 mm"', "coupling.clearance"),
    ('clearance = "15 mm"', 'clearance = "1.5 m"', "touches or leaves the ring"),
    ('diameter = "0.15 m"', 'diameter = "1.5 m"', "touches or leaves the ring"),
    ("squash = 1.0", "squash = 2.0", 'write shape = "oval"'),
    ('at = "opposite gap"', 'at = "center"', 'did you mean "centre"?'),
    ('at = "opposite gap"', 'at = "centre"', "coupling.clearance follows from the sizes"),
    ('wall = "1 mm"', 'wall = "11 mm"', "fills the tube of 22 mm"),
    ('wall = "1 mm"', 'width = "20 mm"', "ring.conductor.width does not belong to a tube"),
    ('kind = "solid"', 'kind = "strip"', "coupling.conductor.diameter does not belong to a strip"),
    ("turns = 1 ", "turns = 2 ", "ring.turn_spacing is missing"),
    ("turns = 1 ", 'turns = 2\nturn_spacing = "20 mm" ', "lets the turns touch"),
    ("turns = 1 ", 'turns = 2\nturn_spacing = "40 mm"\nturn_lead = "9 mm" ', "ring.turn_lead"),
    ("turns = 1 ", "aspect = 2 ", "ring.aspect does not belong to the shape octagon"),
    ('shape = "octagon"', 'shape = "oval"', "ring.aspect is missing"),
    ('shape = "octagon"', 'shape = "polygon"', "ring.points is missing"),
    (
        'shape = "octagon"',
        'shape = "octagon"\npoints = [["0 m", "0 m"], ["1 m", "0 m"], ["0 m", "1 m"]]',
        "ring.points",
    ),
    ('height = "1.8 m"', 'height = "9 mm"', "site.height of 0.009 m lays the ring into the earth"),
    (
        'to = ["2 m", "1.2 m", "0.9 m"]',
        'to = ["2 m", "1.2 m", "-1 m"]',
        "site.metal[1].to: z = -1 m puts the metal into",
    ),
    (
        'to = ["2 m", "1.2 m", "0.9 m"]',
        'to = ["2 m", "1.2 m"]',
        "site.metal[1].to has 2 entries; give at least 3",
    ),
    (
        'to = ["2 m", "1.2 m", "0.9 m"]',
        'to = ["-2 m", "1.2 m", "0.9 m"]',
        "from and to are nearly the same place",
    ),
    ('to = ["2 m", "1.2 m", "0.9 m"]', 'to = ["2 m", "1.2 m", "0.9 km"]', "must be at most 200 m"),
    ('at = ["3.5 m", "1 m", "2 m"]', 'at = ["3.5 m", "1 m", "-2 m"]', "under the earth"),
    # the capacitor's table
    (
        'law = "linear"',
        'law = "linear"\ntable = [[0, "8 pF"], [16, "500 pF"]]',
        "capacitor.law and capacitor.table",
    ),
    (
        'law = "linear"',
        'table = [[0, "8 pF"], [9, "500 pF"], [16, "400 pF"]]',
        "capacitor.table[3] does not follow",
    ),
    ('law = "linear"', 'table = [[0, "8 pF"], [0, "500 pF"]]', "capacitor.table[2] does not follow"),
    ('law = "linear"', 'table = [[0, "8 pF"], [17, "500 pF"]]', "keep its positions from 0 to 16"),
    ('law = "linear"', 'table = [[0, "8 pF"], [16, 500]]', "capacitor.table[2] = [16, 500] is no row"),
    ('law = "linear"', 'table = [[0, "8 pF"], [16, "500 mm"]]', "is a length, but a capacitance is needed"),
    ('law = "linear"', 'table = [[0, "8 pF"], [16, "400 pF"]]', "capacitor.maximum of 500 pF is not the end"),
    ('law = "linear"', 'table = [[nan, "8 pF"], [16, "500 pF"]]', "capacitor.table[1]: nan is no position"),
    ('law = "linear"', "table = [1, 2]", "capacitor.table[1] = 1 is no row"),
    # TOML
    ('power = "25 W"', "power = 25 W", "this is not TOML"),
    ('power = "25 W"', "power = 1,5", "this is not TOML"),
    ("[site]", "[site", "at line"),
    ("[site]", "[ring]", "this is not TOML"),
    ("[tolerance]", "[[tolerance]]", "stands in double brackets; there is one"),
    ("[drive]", "[[drive]]", "stands in double brackets; there is one"),
    ("[ring]", "a = " + "[" * 5000, "nested too deeply"),
    ("[ring]", ".".join("a" * 5000) + " = 1", "a key has more than 15 dots"),
    ("format = 1", "format = 1\x00", "this is not TOML"),
]


def assert_one_sentence(message: str) -> None:
    assert "\n" not in message
    assert "Traceback" not in message
    assert len(message) < 500
    assert not re.search(r"[.!?] [A-Z]", message)


@pytest.mark.parametrize(("right", "wrong", "words"), MALFORMED)
def test_malformed_design_is_refused_in_one_sentence(right, wrong, words):
    assert right in EXAMPLE
    with pytest.raises(DesignFileError) as caught:
        parse_design(EXAMPLE.replace(right, wrong, 1), source="design.toml")
    message = str(caught.value)
    assert message.startswith("design.toml: ")
    assert words in message
    assert_one_sentence(message)
    is_about_a_key = not any(whole in message for whole in ("not TOML", "nested", "dots", "digits"))
    assert (caught.value.key is not None) == is_about_a_key
    assert message.startswith(f"design.toml: {caught.value.key or ''}")


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ('[["0 m", "0 m"], ["1 m", "1 m"], ["1 m", "0 m"], ["0 m", "1 m"]]', "touch or cross"),
        ('[["0 m", "0 m"], ["1 m", "0 m"], ["2 m", "0 m"]]', "on one straight line"),
        (
            '[["0 m", "0 m"], ["1 m", "0 m"], ["1 m", "0 m"], ["0 m", "1 m"]]',
            "closer than the conductor is thick",
        ),
        (
            '[["0 m", "0 m"], ["1 m", "0 m"], ["1 m", "1 m"], ["0.99 m", "10 mm"], ["0 m", "1 m"]]',
            "touch or cross",
        ),
        ('[["0 m", "0 m"], ["1 m", "0 m"]]', "ring.points has 2 entries; give at least 3"),
        ('[["0 m", "0 m"], ["1 m", "0 m"], "1 m"]', "must be a list in square brackets"),
        ('[["0 m", "0 m"], ["150 m", "0 m"], ["150 m", "150 m"]]', "keep it from 0.1 m to 100 m"),
    ],
)
def test_polygon_that_cannot_be_bent_is_refused(points, words):
    text = EXAMPLE.replace('perimeter = "4.4 m"', "").replace('shape = "octagon"', POLYGON.format(points))
    with pytest.raises(DesignFileError, match=re.escape(words)) as caught:
        parse_design(text, source="design.toml")
    assert_one_sentence(str(caught.value))


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('"0.4 m"', '"5 m"', "is wider than the mesh"),
        ('"0.4 m"', '"21 mm"', "more than 200 lines"),
        ('"8 mm"', '"100 mm"', "must be less than the mesh's spacing"),
        ('across = ["0 m", "0 m", "2.4 m"]', 'across = ["2 m", "0 m", "0 m"]', "span no area"),
        ('"0.2 m"]', '"-0.2 m"]', "puts the metal into the earth"),
        ("corner", "conner", "did you mean site.metal[1].corner?"),
        ("spacing", "from", "site.metal[1].from is not a known key"),
    ],
)
def test_mesh_that_cannot_be_built_is_refused(old, new, words):
    mesh = (
        'kind = "mesh"\ncorner = ["-2 m", "2 m", "0.2 m"]\nalong = ["4.4 m", "0 m", "0 m"]\n'
        'across = ["0 m", "0 m", "2.4 m"]\nspacing = "0.4 m"\ndiameter = "8 mm"\n'
    )
    if "100 mm" in new:
        mesh = mesh.replace('"0.4 m"', '"0.1 m"')
    before, rest = EXAMPLE.split("[[site.metal]]")
    people = rest[rest.index("[[site.people]]") :]
    with pytest.raises(DesignFileError, match=re.escape(words)) as caught:
        parse_design(f"{before}[[site.metal]]\n{mesh.replace(old, new, 1)}{people}", source="design.toml")
    assert_one_sentence(str(caught.value))


def test_coupling_loop_thicker_than_itself_is_refused():
    text = EXAMPLE.replace('diameter = "0.15 m"', 'diameter = "20 mm"').replace('"6 mm"', '"25 mm"')
    with pytest.raises(DesignFileError, match="leaves no opening in a loop of 25 mm"):
        parse_design(text, source="design.toml")


TAPPED = 'kind = "tapped"\ntap_at = "0.4 m"\nclearance = "30 mm"\n'
TRANSFORMER = 'kind = "transformer"\nturns = 10\ninductance_factor = "1.1 uH"\ncore_q = 40\n'


@pytest.mark.parametrize(
    ("coupling", "old", "new", "words"),
    [
        (TAPPED, "tapped", "gamma", 'coupling.kind: "gamma" is not a name known here'),
        (TAPPED, 'tap_at = "0.4 m"', "", "coupling.tap_at is missing; a tapped coupling needs to know"),
        (TAPPED, "tap_at", "tap", "coupling.tap is not a known key; did you mean coupling.tap_at?"),
        (TAPPED, '"0.4 m"', '"0.4"', 'coupling.tap_at: "0.4" has no unit'),
        (TAPPED, '"0.4 m"', '"20 mm"', "coupling.tap_at of 0.02 m must be from 0.044 m"),
        (TAPPED, '"0.4 m"', '"2 m"', "coupling.tap_at of 2 m must be from 0.044 m, the arm's distance from"),
        (TAPPED, '"30 mm"', '"0.6 m"', "must be from 0.614 m"),
        (TAPPED, '"0.4 m"\nclearance = "30 mm"', '"1.7 m"\nclearance = "0.7 m"', "leaves the arm no room"),
        (
            TAPPED,
            "clearance",
            'diameter = "0.2 m"\nclearance',
            'coupling.diameter does not belong to kind = "tapped"',
        ),
        (
            TAPPED,
            "clearance",
            'feed_at = "far"\nclearance',
            'coupling.feed_at does not belong to kind = "tapped"',
        ),
        (
            TAPPED,
            "clearance",
            "turns = 3\nclearance",
            'does not belong to kind = "tapped" but to "transformer"',
        ),
        (TRANSFORMER, "turns = 10", "", "coupling.turns is missing; a transformer needs its primary's turns"),
        (TRANSFORMER, "core_q = 40", "", "coupling.core_q is missing; a transformer's core needs its Q"),
        (TRANSFORMER, 'inductance_factor = "1.1 uH"', "", "coupling.inductance_factor is missing"),
        (TRANSFORMER, '"1.1 uH"', '"1.1 uF"', 'coupling.inductance_factor: "1.1 uF" is a capacitance'),
        (TRANSFORMER, '"1.1 uH"', '"0 nH"', "coupling.inductance_factor"),
        (TRANSFORMER, "turns = 10", "turns = 0", "coupling.turns: 0 must be from 1 to 200"),
        (TRANSFORMER, "turns = 10", "turns = 2.5", "coupling.turns: 2.5 must be a whole number"),
        (TRANSFORMER, "core_q = 40", "core_q = 0", "coupling.core_q: 0 must be at least 0.1"),
        (TRANSFORMER, "turns = 10", "turns = 10\npasses = -1", "coupling.passes: -1 must be from 1 to 20"),
        (
            TRANSFORMER,
            "turns = 10",
            "turns = 10\ncoupling_factor = 1.1",
            "coupling.coupling_factor: 1.1 must be at",
        ),
        (
            TRANSFORMER,
            "turns = 10",
            'turns = 10\nclearance = "9 mm"',
            'but to "loop" or "tapped"; leave it out',
        ),
        (
            TRANSFORMER,
            "core_q = 40\n",
            'core_q = 40\n[coupling.conductor]\ndiameter = "2 mm"\n',
            "coupling.conductor does",
        ),
        (
            'diameter = "0.2 m"\n',
            'diameter = "0.2 m"',
            "",
            "coupling.diameter is missing; a loop needs its size",
        ),
        (
            'diameter = "0.2 m"\n',
            "diameter",
            'tap_at = "0.3 m"\ndiameter',
            'coupling.tap_at does not belong to kind = "loop"',
        ),
    ],
)
def test_coupling_that_cannot_be_built_is_refused(coupling, old, new, words):
    before, rest = EXAMPLE.split("[coupling]")
    after = rest[rest.index("[capacitor]") :]
    parse_design(f"{before}[coupling]\n{coupling}{after}", source="design.toml")
    assert old in coupling
    with pytest.raises(DesignFileError) as caught:
        parse_design(f"{before}[coupling]\n{coupling.replace(old, new, 1)}{after}", source="design.toml")
    message = str(caught.value)
    assert words in message
    assert_one_sentence(message)
    assert caught.value.key is not None
    assert caught.value.key.startswith("coupling")


def test_nothing_at_all_is_refused():
    with pytest.raises(DesignFileError, match="format is missing"):
        parse_design("", source="empty.toml")


def test_a_missing_table_is_called_a_table():
    with pytest.raises(DesignFileError, match=r"capacitor is missing; add the table \[capacitor\]"):
        parse_design('format = 1\nname = "x"\n[ring]\n[coupling]\ndiameter = "0.1 m"', source="x.toml")


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (random.Random(1).randbytes(10_000_000), "has 10000000 bytes; a design file has at most 1000000"),
        (random.Random(2).randbytes(100_000), "is not UTF-8 text"),
        (b"\xff\xfef\x00o\x00r\x00", "is not UTF-8 text (byte 0); save it as UTF-8"),
        (b"PK\x03\x04" + bytes(100), "this is not TOML"),
        (bytes(1000), "this is not TOML"),
    ],
    ids=["10 MB of noise", "noise", "UTF-16", "archive", "zeros"],
)
def test_a_file_that_is_no_text_is_refused(tmp_path, content, words):
    path = tmp_path / "noise.toml"
    path.write_bytes(content)
    with pytest.raises(DesignFileError, match=re.escape(words)) as caught:
        load_design(path)
    assert str(caught.value).startswith(f"{path}: ")


def test_a_path_that_is_no_file_is_refused(tmp_path):
    with pytest.raises(DesignFileError, match="is a folder; name a design file"):
        load_design(tmp_path)
    with pytest.raises(DesignFileError, match="there is no such file"):
        load_design(tmp_path / "absent.toml")
    with pytest.raises(DesignFileError, match="cannot be read"):
        load_design(str(tmp_path / "nul\0byte"))
    (tmp_path / "file").write_text("")
    with pytest.raises(DesignFileError, match="cannot be read"):
        load_design(tmp_path / "file" / "below.toml")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="left out: needs named pipes, not on this system")
def test_a_pipe_is_refused_and_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.toml")
    with pytest.raises(DesignFileError, match="is not a plain file"):
        load_design(tmp_path / "pipe.toml")


def test_every_refusal_is_a_design_error_and_a_value_error():
    assert issubclass(DesignFileError, DesignError)
    assert issubclass(DesignError, ValueError)
