# SPDX-License-Identifier: BSD-3-Clause
"""The site on the live socket: parts in the contract's form, the newest request only, a slider's answer first."""

import json
import threading
from typing import Any

import numpy as np
import pytest

from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from ringwright.desk.desk import Desk
from ringwright.desk.site import SiteView
from ringwright.desk.site.lobes import Sphere
from ringwright.desk.site.parts import Space
from ringwright.web.encode_site import view_of
from ringwright.web.messages.live import ServerMessage
from ringwright.web.messages.site import SiteView as SiteViewMessage
from tests.web.running import SOON, ask, catch_up, hear, running_server, until

TERRACE = {"base": {"text": shipped_text(TERRACE_OCTAGON)}, "edits": {"bands": ["40m", "30m"]}}
NOWHERE = Sphere(elevation=np.zeros(1), azimuth=np.zeros(1), gain=np.zeros((1, 1)))
FREE = {"site.earth": "free space"}


def look(socket, seq, /, **fields):
    socket.send(json.dumps({"type": "site", "seq": seq, **fields}))


def parts(socket) -> Any:
    """All parts of one answer, as the contract reads them."""
    found: list[Any] = []
    while not found or found[-1].step < found[-1].steps:
        message: Any = ServerMessage.model_validate_json(str(socket.recv(timeout=SOON))).root
        if message.type.startswith("site_"):
            found.append(message)
    return found


@pytest.fixture(scope="module")
def answer(shared):
    with shared.socket() as socket:
        hear(socket, "hello")
        view = {
            "is_in_space": True,
            "noise_bearing_deg": 10.0,
            "limits": [{"limit": "eu-1999-519", "tier": "public"}],
        }
        look(socket, 5, **TERRACE, view=view)
        return parts(socket)


def test_a_site_is_answered_in_parts_of_the_contracts_form(answer):
    assert [message.type for message in answer] == [
        "site_scene", "site_space", "site_outlines", "site_distances", "site_comparison", "site_distances",
    ]  # fmt: skip
    assert {message.seq for message in answer} == {5}
    assert [message.step for message in answer] == list(range(1, 7))
    assert [message.band for message in answer] == [0, 0, 0, 0, 0, 1]


def test_the_scene_is_what_the_draft_says(answer):
    scene = answer[0]
    assert [person.name for person in scene.people] == [
        "neighbour's window",
        "operator's chair behind the wall",
    ]
    assert scene.people[0].at_m == (3.5, 1.0, 2.0)
    (railing,) = scene.metal
    assert (railing.shape, railing.number, railing.kind) == ("wire", 1, "railing")
    assert railing.from_m == (-2.0, 1.2, 0.9)
    assert scene.earth.name == "average"
    assert scene.average_power_w == pytest.approx(25.0 * 0.2 * 0.5, rel=1e-12, abs=0)  # power x mode x share
    assert [(zone.limit, zone.tier) for zone in scene.section.zones] == [("eu-1999-519", "public")]
    assert [limit.limit for limit in scene.limits if limit.is_chosen] == ["eu-1999-519"]
    assert len(scene.lobes.around_dbi) == 360
    assert scene.lobes.towards.bearing_deg == pytest.approx(10.0, rel=1e-12, abs=0)


def test_the_first_part_is_small_enough_to_follow_a_hand_over_the_air(answer):
    assert len(answer[0].model_dump_json()) < 20_000


def test_a_mesh_is_told_by_its_edges(shared):
    text = shipped_text(TERRACE_OCTAGON).replace(
        "[[site.people]]",
        '[[site.metal]]\nkind = "mesh"\ncorner = ["-1 m", "3 m", "0.2 m"]\nalong = ["2 m", "0 m", "0 m"]\n'
        'across = ["0 m", "0 m", "2 m"]\nspacing = "1 m"\ndiameter = "8 mm"\n\n[[site.people]]',
        1,
    )
    with shared.socket() as socket:
        look(socket, 1, base={"text": text}, edits={"bands": ["30m"]}, view={"limits": []})
        scene = parts(socket)[0]
    assert [piece.shape for piece in scene.metal] == ["wire", "mesh"]
    assert (scene.metal[1].corner_m, scene.metal[1].across_m) == ((-1.0, 3.0, 0.2), (0.0, 0.0, 2.0))


@pytest.mark.parametrize(
    ("fields", "code", "key"),
    [
        ({"edits": {"site.height": "high"}}, "design", "site.height"),
        ({"edits": {"site.people[3].name": "x"}}, "design", None),
        ({"view": {"band": -1}}, "refused", None),
        ({"view": {"section": "round"}}, "refused", None),
        ({"view": {"limits": [{"limit": "fcc-1.1310", "tier": "cats"}]}}, "refused", None),
        ({"edits": {"site.height": {"deep": 1}}}, "refused", "site.height"),
        ({"surprise": 1}, "refused", None),
    ],
)
def test_what_cannot_be_drawn_is_a_problem_of_the_site(shared, fields, code, key):
    with shared.socket() as socket:
        hear(socket, "hello")
        look(socket, 3, **({"base": TERRACE["base"]} | fields))
        problem = hear(socket, "site_problem")
        assert (problem["seq"], problem["code"]) == (3, code)
        if key is not None:
            assert problem["key"] == key
        look(socket, 4, edits=FREE | {"bands": ["20m"]}, view={"limits": []})
        assert hear(socket, "site_scene")["seq"] == 4


def test_a_limit_that_nobody_knows_draws_nothing(shared):
    with shared.socket() as socket:
        look(
            socket,
            1,
            edits=FREE | {"bands": ["20m"]},
            view={"limits": [{"limit": "made-up", "tier": "public"}]},
        )
        scene = parts(socket)[0]
    assert scene.section.zones == []


def test_a_view_of_a_message_is_the_desks_own():
    message = SiteViewMessage(section="plane", plan_height_m=2.0, limits=None, is_metal_gone=True)
    assert view_of(message) == SiteView(section="plane", plan_height=2.0, is_metal_gone=True)  # type: ignore[arg-type]
    assert view_of(SiteViewMessage()) == SiteView()


class StubbornDesk(Desk):
    """Its site comes in four parts, each when it is told to; it counts those it was asked for."""

    def __init__(self, workspace):
        super().__init__(workspace)
        self.go = threading.Semaphore(0)
        self.begun: list[tuple[str, int]] = []

    def site(self, draft, view):
        name = str(draft.edits["name"])
        for step in range(1, 5):
            self.begun.append((name, step))
            assert self.go.acquire(timeout=SOON)
            yield Space(band=0, step=step, steps=4, sphere=NOWHERE)


@pytest.fixture
def stubborn(tmp_path):
    desk = StubbornDesk(tmp_path)
    with running_server(desk) as server, server.socket() as socket:
        hear(socket, "hello")
        yield desk, socket
        for _ in range(12):
            desk.go.release()


def test_a_newer_request_ends_the_parts_of_the_one_before(stubborn):
    desk, socket = stubborn
    look(socket, 1, edits={"name": "old"})
    until(lambda: desk.begun == [("old", 1)])
    for seq in range(2, 9):
        look(socket, seq, edits={"name": f"wanted {seq}"})
    catch_up(socket)
    desk.go.release()
    assert hear(socket, "site_space")["seq"] == 1
    until(lambda: len(desk.begun) == 2)
    assert desk.begun == [("old", 1), ("wanted 8", 1)]
    for _ in range(4):
        desk.go.release()
        assert hear(socket, "site_space")["seq"] == 8


def test_slow_parts_wait_while_a_slider_is_answered(tmp_path):
    class Both(StubbornDesk):
        """A prediction that takes until it is told."""

        predict_go = threading.Semaphore(0)

        def predict(self, draft, detail_band=0):
            assert self.predict_go.acquire(timeout=SOON)
            return super().predict(draft, detail_band)

    desk = Both(tmp_path)
    with running_server(desk) as server, server.socket() as socket:
        hear(socket, "hello")
        ask(socket, 1, edits=FREE | {"bands": ["20m"]})
        look(socket, 2, edits={"name": "site"})
        desk.go.release()
        assert hear(socket, "site_space")["step"] == 1  # the first part follows the hand all the same
        desk.go.release()
        with server.client() as client:
            assert client.get("/api/v1/health").status_code == 200
        assert desk.begun == [("site", 1)]
        desk.predict_go.release()
        assert hear(socket, "prediction")["seq"] == 1
        assert hear(socket, "site_space")["step"] == 2
        for _ in range(4):
            desk.go.release()


def test_a_fault_of_the_program_is_told_and_the_line_stays(tmp_path, caplog):
    class Faulty(Desk):
        def site(self, draft, view):
            if "fault" in draft.edits:
                raise ZeroDivisionError("our own mistake")
            yield from super().site(draft, view)

    with running_server(Faulty(tmp_path)) as server, server.socket() as socket:
        look(socket, 1, edits={"fault": True})
        problem = hear(socket, "site_problem")
        assert (problem["seq"], problem["code"]) == (1, "internal")
        assert "our own mistake" not in str(problem["text"])
        look(socket, 2, edits=FREE | {"bands": ["20m"]}, view={"limits": []})
        assert hear(socket, "site_scene")["seq"] == 2
    assert "our own mistake" in caplog.text


def test_what_a_page_needs_once_is_there(shared):
    with shared.client() as client:
        table = client.get("/api/v1/site").json()
    assert {"by_limit.distance_advised_m", "people.margin_db"} <= {
        figure["key"] for figure in table["figures"]
    }
    assert all(table["cautions"].values())
