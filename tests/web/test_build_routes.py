# SPDX-License-Identifier: BSD-3-Clause
"""The build over HTTP: the document with its drawings, the PDF to print, and refusals in the common form."""

import pytest

from ringwright.sheet.figures import BUILD_FIGURES
from ringwright.web.messages.base import Problem
from ringwright.web.messages.build import BuildFound
from ringwright.web.messages.designs import FigureTable

FREE = {"site.earth": "free space", "bands": ["40m"]}


@pytest.fixture
def client(shared):
    with shared.client() as client:
        yield client


def test_the_figures_are_those_of_the_table(client):
    table = FigureTable.model_validate_json(client.get("/api/v1/build").text)
    assert [figure.key for figure in table.figures] == list(BUILD_FIGURES)


def test_a_draft_is_a_thing_to_make(client):
    found = BuildFound.model_validate_json(client.post("/api/v1/build", json={"edits": FREE}).text)
    assert found.design == "First ring"
    # The file states 3.2 m round; the gap of 30 mm off, 100 mm of straight ends on either side.
    assert found.cuts.pieces[0].cut_m == pytest.approx(3.2 - 0.03 + 0.2, abs=1e-6)
    assert found.cuts.pieces[0].cut_text == "3370 mm"
    assert {drawing.name for drawing in found.drawings} == {
        "exploded",
        "ring",
        "stand",
        "coupling",
        "box",
        "sweep-40m",
    }
    assert all(drawing.svg.startswith("<svg") for drawing in found.drawings)


def test_edits_and_units_count(client):
    asked = {"edits": FREE | {"ring.perimeter": "10 ft", "stand.wind": "10 m/s"}, "units": "imperial"}
    found = BuildFound.model_validate_json(client.post("/api/v1/build", json=asked).text)
    assert found.wind.speed_m_per_s == 10.0
    assert not found.stand.is_assumed
    # 10 ft less 30 mm and 8 in of ends: 120 + 7.874 - 1.181 in.
    assert found.cuts.pieces[0].cut_text == "126 11/16 in"


@pytest.mark.parametrize("contents", ["sheet", "sheet and templates", "templates"])
def test_the_pdf_is_a_file_with_the_designs_name(client, contents):
    answer = client.post("/api/v1/build/sheet", json={"edits": FREE, "paper": "letter", "contents": contents})
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF-")
    kind = "templates" if contents == "templates" else "sheet"
    assert answer.headers["content-disposition"] == f'attachment; filename="first-ring-{kind}.pdf"'


def test_what_makes_no_design_is_refused_in_a_sentence(client):
    for address in ("/api/v1/build", "/api/v1/build/sheet"):
        answer = client.post(address, json={"edits": {"stand.feet": 2}})
        assert answer.status_code == 422
        problem = Problem.model_validate_json(answer.text)
        assert problem.key == "stand.feet"
    assert client.post("/api/v1/build/sheet", json={"paper": "a5"}).status_code == 422
    assert client.post("/api/v1/build", json={"base": {"name": "absent"}}).status_code == 404
