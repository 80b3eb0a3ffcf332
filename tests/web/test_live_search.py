# SPDX-License-Identifier: BSD-3-Clause
"""The search for rings on the live socket: word of it, its answer in the contract's form, stopped, refused."""

import json
from typing import Any

import pytest

from ringwright.antenna.design_file import parse_design
from ringwright.web.messages.live import ServerMessage
from tests.web.running import SOON, hear

SITE = {"site.earth": "free space", "site.metal": None, "site.people": None}
BRIEF: dict[str, Any] = {
    "bands": ["20m"],
    "power": "20 W",
    "weights": {"sky_db": 1, "size": 1},
    "grid": {
        "shape": ["circle"],
        "perimeter": ["2.4 m", "2.4 m", 1],
        "conductors": ["EN 1057 22 x 1"],
        "capacitors": ["vacuum 8-500 pF, 5 kV", "butterfly 8-120 pF, 3 mm gaps"],
    },
}


@pytest.fixture(autouse=True)
def cache(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))


def ask(socket, seq, **changes):
    socket.send(json.dumps({"type": "search", "seq": seq, "edits": SITE, "brief": BRIEF | changes}))


def answers(socket) -> list[Any]:
    """All messages up to the end of one search, as the contract reads them."""
    found: list[Any] = []
    while not found or found[-1].type == "search_progress":
        message: Any = ServerMessage.model_validate_json(str(socket.recv(timeout=SOON))).root
        if message.type.startswith("search_"):
            found.append(message)
    return found


def test_a_brief_is_answered_with_rings_that_are_design_files(shared):
    with shared.socket() as socket:
        hear(socket, "hello")
        ask(socket, 3)
        *words, last = answers(socket)
        assert (last.type, last.seq) == ("search_found", 3)
        assert [word.done <= word.total for word in words] == [True] * len(words)
        found = last.search
        assert found.considered == found.solved + found.screened == 2
        first = found.front[0]
        assert (first.verified, first.shape) == (True, "circle")
        assert parse_design(first.design_toml, source="found").coupling.diameter == first.coupling_diameter_m

        ask(socket, 4, power="5000 W")
        last = answers(socket)[-1]
        assert (last.type, last.search.front) == ("search_found", [])
        assert "power down to" in last.search.nearest.text
        assert last.search.solutions_kept == last.search.solutions


@pytest.mark.parametrize(
    ("changes", "key", "said"),
    [
        ({"bands": ["41m"]}, "bands[1]", 'did you mean "40m"?'),
        ({"power": "20"}, "power", "has no unit"),
        ({"room": {"width": "wide"}}, "room.width", "room.width"),
        ({"grid": {"perimeter": ["3 m", "2 m", 4]}}, "grid.perimeter", "must rise"),
    ],
)
def test_a_bad_brief_is_refused_with_its_key(shared, changes, key, said):
    with shared.socket() as socket:
        ask(socket, 9, **changes)
        last = answers(socket)[-1]
    assert (last.type, last.seq, last.key) == ("search_problem", 9, key)
    assert said in last.text


def test_a_search_that_is_stopped_keeps_the_best_so_far(shared):
    with shared.socket() as socket:
        many = BRIEF["grid"] | {"perimeter": ["2 m", "2.5 m", 20], "shape": ["square"]}
        ask(socket, 1, grid=many)
        hear(socket, "search_progress")
        socket.send('{"type": "search_stop"}')
        last = answers(socket)[-1]
    assert (last.type, last.seq) == ("search_stopped", 1)
    assert isinstance(last.best, list)


def test_the_stock_is_told_with_the_workspaces_own_parts(server):
    with server.client() as client:
        stock = client.get("/api/v1/stock").json()
        own = 'format = 1\n[[conductors]]\nname = "mine"\ndiameter = "9 mm"\n'
        server.desk.folder.workspace.joinpath("parts.toml").write_text(own)
        assert client.get("/api/v1/stock").json()["conductors"][0] == "mine"
    assert "EN 1057 22 x 1" in stock["conductors"]
    assert {"score", "bands.people_margin_db"} <= {figure["key"] for figure in stock["figures"]}
