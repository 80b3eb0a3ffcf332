# SPDX-License-Identifier: BSD-3-Clause
"""`keepout`: the table, the document, the page for the station file, exit codes."""

import json
import re
from html.parser import HTMLParser

import pytest

from ringwright.antenna.design import Design
from ringwright.antenna.predict import predict
from ringwright.safety.cautions import CAUTIONS
from ringwright.safety.keepout import keep_out
from ringwright.safety.keepout_document import keepout_document

PEOPLE = """
[[site.people]]
name = "{name}"
at = ["{x}", "0 m", "2 m"]
kind = "{kind}"
"""


def with_person(path, *, name="window", x="3 m", kind="public"):
    path.write_text(
        path.read_text(encoding="utf-8") + PEOPLE.format(name=name, x=x, kind=kind), encoding="utf-8"
    )
    return path


def test_json_is_the_document_of_the_same_design(call, octagon):
    with_person(octagon)
    outcome = call("keepout", octagon, "--json")
    assert outcome.code == 0
    design = Design.load(octagon)
    prediction = predict(design)
    assert json.loads(outcome.out) == json.loads(
        json.dumps(
            keepout_document(design.name, keep_out(design, prediction)) | {"calibration": None},
            allow_nan=False,
        )
    )


def test_the_table_says_what_the_document_says(call, octagon):
    with_person(octagon)
    document = json.loads(call("keepout", octagon, "--json").out)
    lines = call("keepout", octagon).out.splitlines()
    assert max(map(len, lines)) <= 80
    rows = [row for band in document["bands"] for row in band["by_limit"]]
    shown = [line for line in lines if re.match(r"  [a-z]+-\d", line)]
    for line, row in zip(shown, rows, strict=True):
        assert line.split()[:2] == [row["limit"], row["tier"]]
        numbers = [float(word) for word in re.findall(r"(?<= )\d+\.\d+\b", line[36:])]
        keys = ("advised", "max", "axis", "plane", "above", "below")
        assert numbers == pytest.approx([row[f"distance_{key}_m"] for key in keys], rel=0, abs=0.0051)
        assert (" E " if row["governed_by"] == "e" else " H ") in line


def test_cautions_stand_below_the_table(call, octagon):
    text = " ".join(call("keepout", octagon).out.split())
    for caution in CAUTIONS:
        assert caution in text


def test_imperial_tells_feet(call, octagon):
    metres = call("keepout", octagon).out
    feet = call("keepout", octagon, "--imperial").out
    assert "in ft" in feet
    advised = [float(re.findall(r"eu-1999-519 +public +([\d.]+)", text)[0]) for text in (metres, feet)]
    # The advised distance is shown to 0.1 ft, 30 mm.
    assert advised[1] * 0.3048 == pytest.approx(advised[0], rel=0, abs=0.016)


@pytest.mark.parametrize(("x", "code", "word"), [("0.8 m", 1, "EXCEEDED"), ("9 m", 0, "within")])
def test_strict_ends_with_1_where_somebody_is_too_near(call, octagon, x, code, word):
    with_person(octagon, x=x)
    assert call("keepout", octagon, "--strict").code == code
    assert call("keepout", octagon).code == 0
    assert word in call("keepout", octagon).out


class Page(HTMLParser):
    """Text, tags, and where a page would fetch something."""

    def __init__(self, text):
        super().__init__()
        self.words, self.tags, self.fetched, self.open = [], [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        if tag != "meta":  # the one that never closes
            self.open.append(tag)
        self.fetched += [value for key, value in attrs if key in ("src", "href", "action")]

    def handle_startendtag(self, tag, attrs):
        self.tags.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.words.append(data)


def test_report_is_a_dated_page_that_needs_nothing_else(call, octagon, tmp_path):
    hostile = '<script>alert(1)</script> & \\"co\\"'
    with_person(octagon, name=hostile)
    path = tmp_path / "station.html"
    assert call("keepout", octagon, "--report", path).code == 0
    page = Page(path.read_text(encoding="utf-8"))
    text = " ".join(page.words)
    assert page.open == []
    assert page.fetched == []
    assert "script" not in page.tags
    assert '<script>alert(1)</script> & "co"' in text
    assert re.search(r"Written\s+\d{4}-\d\d-\d\d \d\d:\d\d UTC", text)
    assert re.search(r"SHA-256 [0-9a-f]{64}", text)
    assert page.tags.count("svg") >= 2 * 3  # two cuts a band
    for caution in CAUTIONS:
        assert caution in text
    for band in json.loads(call("keepout", octagon, "--json").out)["bands"]:
        for row in band["by_limit"]:
            assert row["source"] in text
            assert f"{row['distance_advised_m']:.1f}" in text


def test_report_and_json_can_be_had_at_once(call, octagon, tmp_path):
    outcome = call("keepout", octagon, "--json", "--report", tmp_path / "x.html")
    assert json.loads(outcome.out)["schema"] == "ringwright.keepout/1"
    assert (tmp_path / "x.html").exists()


@pytest.mark.parametrize("name", ["absent/x.html", "x.pdf", "."])
def test_a_report_that_cannot_be_written_is_one_sentence_and_code_2(call, octagon, tmp_path, name):
    outcome = call("keepout", octagon, "--report", tmp_path / name)
    assert outcome.code == 2
    assert outcome.sentence


def test_an_absent_design_is_one_sentence_and_code_2(call, tmp_path):
    assert call("keepout", tmp_path / "none.toml").code == 2
