# SPDX-License-Identifier: BSD-3-Clause
"""The tuner's socket: a twin is connected, driven, stopped by anybody; every message as the contract has it."""

import json
import time
from contextlib import contextmanager

import pytest
from websockets.sync.client import connect
from websockets.typing import Origin

from ringwright.antenna.scenario import FIRST_RING, TERRACE_OCTAGON, shipped_text
from ringwright.desk.desk import Desk
from ringwright.desk.workspace import write_workspace
from ringwright.records.records import Records
from ringwright.web.messages.tune import TuneSaid
from tests.web.running import SOON, running_server

# The drive turns ten times as fast as the scenario's, so that nobody waits for it.
QUICK = {"drive.speed": "20000 steps/s"}
DRAFT = {"base": {"text": shipped_text(TERRACE_OCTAGON)}, "edits": QUICK}


class Page:
    """One page: what it sends, what it hears."""

    def __init__(self, socket, name, key=None):
        self.socket = socket
        self.say("tune_hello", name=name, key=key)

    def say(self, kind, **fields):
        self.socket.send(json.dumps({"type": kind, **fields}))

    def until(self, is_so, *, signs=True):
        """The first message of which something is so; the page gives its sign meanwhile."""
        end, signed = time.monotonic() + SOON, 0.0
        while time.monotonic() < end:
            if signs and time.monotonic() - signed > 0.5:
                signed = time.monotonic()
                self.say("tune_sign")
            message = TuneSaid.model_validate_json(str(self.socket.recv(timeout=SOON))).root
            if is_so(message):
                return message
        raise AssertionError("never came")

    def hear(self, kind, **wanted):
        return self.until(
            lambda m: m.type == kind and all(getattr(m, key) == value for key, value in wanted.items())
        )


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    folder = tmp_path_factory.mktemp("tuned") / "terrace"
    write_workspace(folder)
    with running_server(Desk(folder)) as running:
        yield running


@pytest.fixture
def server(served):
    yield served
    served.desk.drive.end()


@contextmanager
def page(server, name="a phone", key=None):
    with connect(
        f"ws://localhost:{server.port}/api/v1/tune",
        origin=Origin(server.address),
        open_timeout=SOON,
        close_timeout=SOON,
        compression=None,
    ) as socket:
        yield Page(socket, name, key)


@pytest.fixture
def connected(server):
    with page(server) as phone:
        phone.say("tune_connect", **DRAFT)
        phone.drive = phone.hear("drive")
        phone.until(lambda m: m.type == "state" and m.phase == "resting")
        yield phone


def test_nothing_is_connected_at_first(server):
    with page(server) as phone:
        none = phone.hear("no_drive")
        assert "kilovolts" in none.cautions.never_touch
        phone.say("tune_go", how="tune", frequency_hz=7.1e6)
        assert "no drive is connected" in phone.hear("tune_problem").text


def test_a_twin_is_tuned_learnt_and_recorded(server, connected):
    assert connected.drive.is_simulated
    assert [band.name for band in connected.drive.bands] == ["60m", "40m", "30m"]
    places = [band.at_steps for band in connected.drive.bands]
    assert places == sorted(places, reverse=True)  # more capacitance, lower band
    connected.say("tune_go", how="tune", frequency_hz=10.125e6)
    search = connected.until(lambda m: m.type == "search" and m.dip is not None)
    assert search.low_steps < search.dip.centre_steps < search.high_steps
    told = connected.until(lambda m: m.type == "told" and m.word in {"tuned", "not found"})
    assert told.word == "tuned", told
    assert told.words.startswith("Tuned to 10.1250 MHz")
    drive = connected.until(lambda m: m.type == "drive" and len(m.pairs) == 1)
    assert drive.pairs[0].frequency_hz == 10.125e6
    connected.say("tune_table", remove=1)
    assert connected.until(lambda m: m.type == "drive" and not m.pairs).site == "home"
    connected.say("tune_table", site="garden")
    assert connected.hear("drive", site="garden")
    connected.say("tune_let_go")
    connected.hear("no_drive")
    with Records.open(server.desk.folder.workspace) as records:
        (kept,) = records.tunings()
        (name,) = records.table_names()
        table = records.table(name)
    assert kept.tuning.outcome.value == "tuned"
    assert len(kept.tuning.found.trace) > 3
    assert name.endswith(", simulated")
    assert (table.points, table.site) == ((), "garden")


def test_anybody_stops_and_one_takes_over(server, connected):
    connected.say("tune_go", how="place", frequency_hz=5.36e6)
    connected.until(lambda m: m.type == "state" and m.moving)
    with page(server, "a computer") as viewer:
        assert viewer.hear("control").holder_name == "a phone"
        viewer.say("tune_go", how="place", frequency_hz=7.1e6)
        assert "a phone holds control" in viewer.hear("told", word="note").words
        viewer.say("tune_let_go")
        assert "a phone holds control" in viewer.hear("tune_problem").text
        viewer.say("tune_stop")
        connected.until(lambda m: m.type == "state" and m.stopped and not m.moving)
        viewer.say("tune_take")
        assert connected.hear("control", holder_name="a computer").viewers == 2
        viewer.say("tune_do", what="release")
        viewer.until(lambda m: m.type == "state" and not m.stopped)


def test_a_page_whose_line_was_cut_holds_control_as_before(server):
    with page(server) as phone:
        phone.say("tune_connect", **DRAFT)
        drive = phone.hear("drive")
        phone.say("tune_take")
        phone.hear("control", holder=drive.viewer)
    with page(server, key=drive.key) as again:
        assert again.hear("drive").viewer == drive.viewer
        assert again.hear("control").holder == drive.viewer
    with page(server, key="0" * 32) as stranger:
        assert stranger.hear("drive").viewer != drive.viewer


def test_stop_and_the_stream_need_no_socket(server, connected):
    with server.client() as client:
        assert client.post("/api/v1/tune/stop").json() == {"was_connected": True}
        connected.until(lambda m: m.type == "state" and m.stopped)
        with client.stream("GET", "/api/v1/tune/events") as stream:
            lines = stream.iter_lines()
            kinds = {json.loads(next(lines))["type"] for _ in range(6)}
        assert "state" in kinds
        server.desk.drive.end()
        assert client.post("/api/v1/tune/stop").json() == {"was_connected": False}
        assert client.get("/api/v1/tune/events").text == ""


def test_a_drive_that_is_connected_is_not_connected_twice(server, connected):
    with page(server, "a computer") as other:
        other.say("tune_connect", **DRAFT)
        assert "connected already" in other.hear("tune_problem").text


def test_a_design_without_a_drive_says_what_to_add(server):
    with page(server) as phone:
        phone.say("tune_connect", base={"text": shipped_text(FIRST_RING)}, edits={"bands": ["40m"]})
        assert "add a [drive]" in phone.hear("tune_problem").text


@pytest.mark.parametrize(
    "text",
    [
        "nonsense",
        "{}",
        '{"type":"tune_fly"}',
        '{"type":"tune_go","how":"tune","frequency_hz":"7 MHz"}',
        '{"type":"tune_go","how":"tune","frequency_hz":1e99}',
        '{"type":"tune_nudge","change_hz":NaN}',
        '{"type":"tune_hello","name":"\\u001b"}',
    ],
)
def test_a_message_that_is_none_of_ours_is_one_sentence(server, text):
    with page(server) as phone:
        phone.socket.send(text)
        problem = phone.until(lambda m: m.type == "tune_problem", signs=False)
        assert "\n" not in problem.text
        phone.say("tune_hello", name="still here")
        phone.until(lambda m: m.type == "no_drive", signs=False)
