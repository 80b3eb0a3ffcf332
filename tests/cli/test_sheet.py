# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright sheet`: the PDF where it was asked for, drawings, JSON, and what it refuses in a sentence."""

import json
import xml.etree.ElementTree as ET

import pytest

DESIGN = """
format = 1
name = "Bench"
bands = ["40m"]
[ring]
perimeter = "3.2 m"
[coupling]
diameter = "0.18 m"
[capacitor]
minimum = "15 pF"
maximum = "250 pF"
"""


@pytest.fixture
def path(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "bench.toml").write_text(DESIGN, encoding="utf-8")
    return tmp_path / "bench.toml"


def test_it_writes_a_pdf_beside_one_and_says_what_to_cut(call, path):
    found = call("sheet", path)
    assert found.code == 0
    assert (path.parent / "bench-sheet.pdf").read_bytes().startswith(b"%PDF-")
    assert "1 x 3370 mm the ring" in found.out
    assert "tips at" in found.out
    assert "breaks bones" in found.out
    assert "written: bench-sheet.pdf" in found.out


def test_a_stand_that_was_assumed_is_told_with_what_to_write_and_is_then_gone(call, path):
    told = " ".join(call("sheet", path).out.split())
    assert "The design has no [stand]: taken were 3 feet on a circle of" in told
    assert 'indoors or on a house write kind = "fixed" below [stand]' in told
    path.write_text(
        f'{DESIGN}[stand]\nkind = "fixed"\nfloor = "1 m"\n', encoding="utf-8"
    )  # what it says to write
    found = call("sheet", path)
    assert found.code == 0
    assert "no [stand]" not in found.out
    assert "of ballast" not in found.out
    assert "tips at" not in found.out


def test_templates_make_it_longer_and_units_reach_the_terminal(call, path):
    plain = call("sheet", path, "-o", "a.pdf", "--units", "imperial")
    assert "lb" in plain.out
    assert " mm" not in plain.out
    call("sheet", path, "-o", "b.pdf", "--templates", "--paper", "letter")
    sizes = [(path.parent / name).stat().st_size for name in ("a.pdf", "b.pdf")]
    assert sizes[1] > sizes[0]


def test_json_is_one_document_and_no_pdf_unless_asked_for(call, path):
    found = call("sheet", path, "--json")
    document = json.loads(found.out)
    assert document["schema"] == "ringwright.build/1"
    assert document["cuts"]["pieces"][0]["cut_m"] == pytest.approx(3.2 - 0.03 + 0.2, abs=1e-6)
    assert list(path.parent.glob("*.pdf")) == []
    call("sheet", path, "--json", "-o", "c.pdf")
    assert (path.parent / "c.pdf").exists()


def test_drawings_are_well_formed_files(call, path):
    assert call("sheet", path, "--drawings", "out/svg", "-o", "a.pdf").code == 0
    names = {each.stem for each in (path.parent / "out" / "svg").glob("*.svg")}
    assert names == {"exploded", "ring", "stand", "coupling", "box", "sweep-40m"}
    for each in (path.parent / "out" / "svg").iterdir():
        root = ET.parse(each).getroot()
        assert root.tag == "{http://www.w3.org/2000/svg}svg"
        assert str(root.get("width")).endswith("mm")


def test_what_cannot_be_written_is_said_in_a_sentence(call, path):
    assert "name another file" in call("sheet", path, "-o", "none/a.pdf").sentence
    (path.parent / "taken").write_text("x", encoding="utf-8")
    found = call("sheet", path, "-o", "a.pdf", "--drawings", "taken")
    assert found.code == 2
    assert "name another one" in found.sentence
    assert "no such file" in call("sheet", "absent.toml").sentence
    assert "--paper" in call("sheet", path, "--paper", "a5").sentence
