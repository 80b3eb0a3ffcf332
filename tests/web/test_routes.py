# SPDX-License-Identifier: BSD-3-Clause
"""The HTTP API: designs are listed, opened, saved, merged or shown as a conflict, and refused in one form."""

import json
import os
import re

import pytest

from ringwright.antenna.figures import FIGURES
from ringwright.antenna.scenario import FIRST_RING, TERRACE_OCTAGON, shipped_text
from ringwright.desk.desk import Desk
from ringwright.web.messages.designs import Conflict, DesignList, DesignText, FigureTable, Saved, StartDraft
from ringwright.web.messages.live import PredictionBody
from tests.web.running import running_server

TERRACE = shipped_text(TERRACE_OCTAGON)
FREE = {"site.earth": "free space"}


@pytest.fixture
def client(server):
    with server.client() as client:
        yield client


def put(client, name, **body):
    return client.put(f"/api/v1/designs/{name}", json=body)


def test_a_page_starts_from_the_built_in_design_with_its_controls(client):
    start = StartDraft.model_validate_json(client.get("/api/v1/start").text)
    assert start.text == shipped_text(FIRST_RING)
    assert start.values["ring.perimeter"] == "3.2 m"
    assert {"ring.perimeter", "capacitor.q"} <= {slider.key for slider in start.sliders}
    assert "octagon" in next(choice.options for choice in start.choices if choice.key == "ring.shape")


def test_every_figure_is_told_with_its_source(client):
    table = FigureTable.model_validate_json(client.get("/api/v1/figures").text)
    assert [figure.key for figure in table.figures] == list(FIGURES)
    assert all(figure.source and figure.definition for figure in table.figures)


def test_a_draft_is_saved_listed_and_opened_again(client):
    saved = Saved.model_validate_json(put(client, "mine", edits={"ring.perimeter": "3.1 m"}).text)
    opened = DesignText.model_validate_json(client.get("/api/v1/designs/mine").text)
    assert (opened.text, opened.etag, opened.problem) == (saved.text, saved.etag, None)
    assert opened.values["ring.perimeter"] == "3.1 m"
    listed = DesignList.model_validate_json(client.get("/api/v1/designs").text)
    assert [(entry.name, entry.etag, entry.title) for entry in listed.designs] == [
        ("mine", saved.etag, "First ring")
    ]


def test_two_windows_on_one_design_merge_or_are_told(client):
    etag = put(client, "ring", text=TERRACE).json()["etag"]
    base = {"name": "ring", "etag": etag}
    first = put(client, "ring", base=base, edits={"capacitor.q": 2000})
    assert first.json()["is_merged"] is False
    second = put(client, "ring", base=base, edits={"ring.perimeter": "4.2 m"})
    assert second.status_code == 200
    assert second.json()["is_merged"] is True
    assert "q = 2000" in second.json()["text"]
    third = put(client, "ring", base=base, edits={"capacitor.q": 1000})
    assert third.status_code == 409
    conflict = Conflict.model_validate_json(third.text)
    assert conflict.keys == ["capacitor.q"]
    assert conflict.etag == second.json()["etag"]
    assert "q = 1000" in conflict.yours
    settled = put(client, "ring", base={"name": "ring", "etag": conflict.etag}, text=conflict.yours)
    assert settled.status_code == 200
    assert client.get("/api/v1/designs/ring").json()["text"] == conflict.yours


def test_saving_under_another_name_leaves_the_first_file(client):
    etag = put(client, "ring", text=TERRACE).json()["etag"]
    base = {"name": "ring", "etag": etag}
    assert put(client, "copy", base=base, edits={"capacitor.q": 2000}).status_code == 200
    assert client.get("/api/v1/designs/ring").json()["etag"] == etag
    assert put(client, "copy", base=base, edits={"capacitor.q": 100}).status_code == 409


def test_a_draft_of_a_text_nobody_knows_is_stale_until_the_text_is_sent(client):
    put(client, "ring", text=TERRACE)
    base = {"name": "ring", "etag": "0" * 64}
    stale = put(client, "ring", base=base, edits={"capacitor.q": 2000})
    assert (stale.status_code, stale.json()["code"]) == (412, "stale")
    assert put(client, "ring", base=base | {"text": TERRACE}, edits={"capacitor.q": 2000}).status_code == 200


@pytest.mark.parametrize(
    ("body", "key"),
    [
        ({"edits": {"ring.perimeter": "3 furlongs"}}, "ring.perimeter"),
        ({"text": "not toml"}, None),
        ({"text": ""}, "format"),
    ],
)
def test_what_makes_no_design_is_not_saved(client, server, body, key):
    answer = put(client, "ring", **body)
    assert answer.status_code == 422
    assert (answer.json()["code"], answer.json()["key"]) == ("design", key)
    assert server.desk.folder.names() == []


@pytest.mark.parametrize(
    "name", ["..", "%2e%2e", "a%2fb", "..%2f..%2fx", "a%00", "con", "a%5Cb", "%20", "x" * 81, "C:x"]
)
def test_no_name_in_an_address_leads_out_of_the_designs(client, server, name):
    assert client.get(f"/api/v1/designs/{name}").status_code in {404, 405, 422}
    assert put(client, name, text=TERRACE).status_code in {404, 405, 422}
    assert list(server.desk.folder.workspace.rglob("*")) == []


def test_a_design_that_is_not_there_and_an_address_that_is_not_there_say_so(client):
    for path in ("/api/v1/designs/none", "/api/v1/nothing", "/api/v2/health"):
        answer = client.get(path)
        assert (answer.status_code, answer.json()["code"]) == (404, "missing")
    assert client.delete("/api/v1/designs/none").json()["code"] == "refused"


@pytest.mark.parametrize(
    "content", [b"", b"{", b"[]", b"\xff", b'{"base":{"name":3}}', b'{"edits":{"a":{"b":1}}}', b'{"x":1}']
)
def test_a_body_that_is_no_request_is_refused_in_the_common_form(client, content):
    answer = client.put("/api/v1/designs/x", content=content, headers={"Content-Type": "application/json"})
    assert answer.status_code in {400, 422}
    assert answer.json().keys() == {"code", "key", "text"}
    assert answer.json()["code"] == "refused"


def test_a_full_disk_is_told_as_such(client, server, monkeypatch):
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    answer = put(client, "ring", text=TERRACE)
    assert (answer.status_code, answer.json()["code"]) == (507, "storage")
    assert "No space left" in answer.json()["text"]


def test_one_request_predicts_a_draft_for_a_script(client):
    answer = client.post("/api/v1/predict", json={"edits": FREE, "detail_band": 2})
    body = PredictionBody.model_validate_json(answer.text)
    assert [band.band for band in body.prediction.bands] == ["40m", "30m", "20m"]
    assert body.drawing.detail_band == 2
    # Conservation of energy, each share found on its own way; the solver's own accuracy is far better than this.
    for band in body.prediction.bands:
        assert band.watts_pct.sum == pytest.approx(100.0, rel=1e-3, abs=0)


def test_text_from_a_file_comes_back_as_text_and_is_never_markup(client, server):
    name = '<script>alert("x")</script>'
    put(client, "ring", text=TERRACE.replace("Terrace octagon", name.replace('"', "'")))
    answer = client.get("/api/v1/designs")
    assert answer.headers["content-type"] == "application/json"
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.json()["designs"][0]["title"] == name.replace('"', "'")


def test_the_description_of_the_api_names_no_other_machine(client):
    text = client.get("/api/v1/openapi.json").text
    assert json.loads(text)["openapi"].startswith("3.")
    assert re.findall(r"https?://(?!localhost)[^\"\s]+", text) == []
    for path in ("/docs", "/redoc"):
        assert client.get(path).status_code == 404


def test_a_fault_of_the_program_is_told_in_the_common_form(tmp_path, capsys):
    def faulty(design, memory):
        raise ZeroDivisionError("our own mistake")

    with running_server(Desk(tmp_path, predictor=faulty)) as server, server.client() as client:
        answer = client.post("/api/v1/predict", json={})
    assert (answer.status_code, answer.json()["code"]) == (500, "internal")
    assert "our own mistake" not in answer.text
    assert "our own mistake" in capsys.readouterr().err
