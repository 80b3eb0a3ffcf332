# SPDX-License-Identifier: BSD-3-Clause
"""The match on the live socket: word of the search, its answer in the contract's form, stopped by whatever is newer."""

import json
from typing import Any

import pytest

from ringwright.antenna.scenario import RUCKSACK_BRAID, TERRACE_OCTAGON, shipped_text
from ringwright.choose.match import find_coupling
from ringwright.choose.match_document import match_document
from ringwright.desk.drafts import drafted_design
from ringwright.web.messages.live import ServerMessage
from ringwright.web.messages.match import MatchDocument
from tests.web.running import SOON, ask, hear

FREE = {"site.earth": "free space", "site.metal": None, "bands": ["40m", "30m"]}
TERRACE = {"base": {"text": shipped_text(TERRACE_OCTAGON)}, "edits": FREE}
SLOW = {"base": {"text": shipped_text(TERRACE_OCTAGON)}, "edits": {}, "vary": ["squash", "clearance"]}


def seek(socket, seq, /, **fields):
    socket.send(json.dumps({"type": "match", "seq": seq, **fields}))


def answers(socket) -> list[Any]:
    """All messages up to the end of one search, as the contract reads them."""
    found: list[Any] = []
    while not found or found[-1].type == "match_progress":
        message: Any = ServerMessage.model_validate_json(str(socket.recv(timeout=SOON))).root
        if message.type.startswith("match_"):
            found.append(message)
    return found


def test_a_draft_is_matched_and_the_edits_put_the_coupling_into_it(shared):
    with shared.socket() as socket:
        hear(socket, "hello")
        seek(socket, 5, **TERRACE, vary=["squash"])
        *words, last = answers(socket)
    assert (last.type, last.seq) == ("match_found", 5)
    design = drafted_design(shipped_text(TERRACE_OCTAGON), FREE)
    expected = match_document(find_coupling(design, vary=["squash"]))
    assert last.match.best.diameter_m == pytest.approx(expected["best"]["diameter_m"], rel=1e-9, abs=0)
    again = drafted_design(shipped_text(TERRACE_OCTAGON), FREE | last.edits)
    assert again.coupling.diameter == pytest.approx(last.match.best.diameter_m, rel=1e-3, abs=0)
    assert again.coupling.squash == pytest.approx(last.match.best.squash, rel=1e-2, abs=0)
    # Word of the search never counts backwards or loses ground.
    assert [word.tried for word in words] == sorted({word.tried for word in words})
    assert all(word.seq == 5 for word in words)
    worst = [word.best.swr_worst for word in words]
    assert worst == sorted(worst, reverse=True)


@pytest.mark.parametrize("name", [TERRACE_OCTAGON, RUCKSACK_BRAID])
def test_the_document_is_the_one_that_is_stated(name):
    edits = {"site.earth": "free space", "site.metal": None}
    document = match_document(find_coupling(drafted_design(shipped_text(name), edits)))
    read = MatchDocument.model_validate(document, strict=False)
    assert read.model_dump(by_alias=True) == document


def test_a_search_that_is_stopped_answers_with_the_best_so_far(shared):
    with shared.socket() as socket:
        seek(socket, 1, **SLOW)
        hear(socket, "match_progress")
        socket.send('{"type": "match_stop"}')
        last = answers(socket)[-1]
    assert (last.type, last.seq) == ("match_stopped", 1)
    assert last.best.swr_worst >= 1.0


def test_a_newer_search_takes_the_place_of_the_one_that_runs(shared):
    with shared.socket() as socket:
        seek(socket, 1, **SLOW)
        hear(socket, "match_progress")
        seek(socket, 2, **TERRACE)
        ends = [answers(socket)[-1]]
    assert [(end.type, end.seq) for end in ends] == [("match_found", 2)]


def test_a_slider_is_answered_while_a_search_runs(shared):
    with shared.socket() as socket:
        seek(socket, 1, **SLOW)
        hear(socket, "match_progress")
        ask(socket, 2, edits={"site.earth": "free space"})
        kinds: list[str] = []
        while not kinds or kinds[-1] not in ("prediction", "match_found"):
            kinds.append(json.loads(socket.recv(timeout=SOON))["type"])
        assert kinds[-1] == "prediction"
        socket.send('{"type": "match_stop"}')
        hear(socket, "match_stopped")


@pytest.mark.parametrize(
    ("fields", "code", "key"),
    [
        ({"edits": {"ring.perimeter": "long"}}, "design", "ring.perimeter"),
        ({"edits": {"coupling.at": "centre", "coupling.clearance": None}, "vary": ["clearance"]}, "design", None),
        ({"edits": {"bands": ["10m", "6m"], "ring.perimeter": "8 m"}}, "design", None),
        ({"vary": ["colour"]}, "refused", None),
        ({"surprise": 1}, "refused", None),
        ({"base": {"name": "nowhere"}}, "missing", None),
    ],
)  # fmt: skip
def test_what_cannot_be_matched_is_a_problem_of_the_match(shared, fields, code, key):
    with shared.socket() as socket:
        seek(socket, 3, **fields)
        problem = hear(socket, "match_problem")
        assert (problem["seq"], problem["code"]) == (3, code)
        if key is not None:
            assert problem["key"] == key
        seek(socket, 4, edits=FREE | {"bands": ["20m"], "site.metal": None})
        assert hear(socket, "match_found")["seq"] == 4


def test_a_stop_where_nothing_runs_is_no_fault(shared):
    with shared.socket() as socket:
        socket.send('{"type": "match_stop"}')
        seek(socket, 1, **TERRACE)
        assert hear(socket, "match_found")["seq"] == 1


def test_every_number_of_a_coupling_is_in_the_table_of_the_match(shared):
    with shared.client() as client:
        table = client.get("/api/v1/match").json()["figures"]
    keys = {figure["key"] for figure in table}
    document = match_document(find_coupling(drafted_design(shipped_text(TERRACE_OCTAGON), FREE)))
    best = {f"best.{key}" for key in document["best"]} - {"best.bands", "best.worst_band"}
    bands = {f"best.bands.{key}" for key in document["best"]["bands"][0]} - {"best.bands.band"}
    shift = {f"sensitivity.{key}" for key in document["sensitivity"][0] if key.startswith("swr")}
    assert keys == best | bands | shift
