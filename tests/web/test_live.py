# SPDX-License-Identifier: BSD-3-Clause
"""The live socket: drafts are answered in the contract's form, the latest wins, and nothing closes the line."""

import threading

import pytest

from ringwright.antenna.predict import predict
from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Draft
from ringwright.web.messages.live import ServerMessage
from tests.web.running import SOON, ask, catch_up, hear, put, running_server, until

FREE = {"site.earth": "free space"}


def test_a_socket_begins_with_a_greeting(shared):
    with shared.socket() as socket, shared.client() as client:
        hello, health = hear(socket, "hello"), client.get("/api/v1/health").json()
    assert hello["api"] == health["api"] == 1
    assert hello["instance"] == health["instance"]
    assert hello["version"] == health["version"]


def test_a_draft_is_answered_in_the_contracts_form(shared):
    with shared.socket() as socket:
        hear(socket, "hello")
        ask(socket, 7, edits=FREE | {"ring.perimeter": "3.3 m"}, detail_band=1)
        text = str(socket.recv(timeout=SOON))
    message = ServerMessage.model_validate_json(text).root
    assert message.type == "prediction"
    assert message.seq == 7
    assert [band.band for band in message.bands] == [band.band for band in message.prediction.bands]
    assert message.drawing.detail_band == 1
    assert len(message.drawing.ring.points_m) == len(message.drawing.ring.current_rms_a)
    assert message.drawing.gap_m == message.drawing.ring.points_m[0]
    assert len(text) < 30_000  # three bands, many times a second, to a phone


def test_rounding_for_the_screen_moves_nothing_by_a_pixel(shared):
    edits = FREE | {"ring.perimeter": "3.3 m"}
    answer = shared.desk.predict(Draft(edits=edits))
    with shared.socket() as socket:
        hear(socket, "hello")
        ask(socket, 1, edits=edits)
        message = ServerMessage.model_validate(hear(socket, "prediction"), strict=False).root
    assert message.type == "prediction"
    for sent, meant in zip(message.bands, answer.curves, strict=True):
        # A chart of 1000 pixels: half a pixel of a reflection of 2 across, and of SWR 1 to 5.
        assert sent.reflection_re == pytest.approx(meant.reflection.real, rel=0, abs=1e-3)
        assert sent.swr == pytest.approx(meant.swr, rel=0, abs=2e-3)
        assert sent.frequency_hz == pytest.approx(meant.frequency, rel=0, abs=0.5)


@pytest.mark.parametrize(
    ("edits", "key"),
    [
        ({"ring.perimeter": "3,2 m"}, "ring.perimeter"),
        ({"coupling.diameter": "3 m"}, "coupling.diameter"),
        ({"ring.perimeter": None}, "ring.perimeter"),
        ({"capacitor.q": "many"}, "capacitor.q"),
        ({"ring.perimeter": {"deep": 1}}, "ring.perimeter"),  # no value of a design file at all
    ],
)
def test_an_impossible_value_is_a_problem_of_its_key_in_one_sentence(shared, edits, key):
    with shared.socket() as socket:
        hear(socket, "hello")
        ask(socket, 3, edits=FREE | edits)
        problem = hear(socket, "problem")
        assert problem["seq"] == 3
        assert problem["key"] == key
        assert str(problem["text"]).startswith(key)
        assert "\n" not in str(problem["text"])
        ask(socket, 4, edits=FREE)
        assert hear(socket, "prediction")["seq"] == 4


@pytest.mark.parametrize(
    "text",
    [
        "", "null", "[]", "7", "{", '{"type":"predict"}', '{"type":"fire"}', '{"seq":1}', "\ud7ff" * 10, "[" * 100_000,
        '{"type":"predict","seq":1,"surprise":true}', '{"type":"predict","seq":-1}', '{"type":"predict","seq":1.5}',
        '{"type":"predict","seq":1,"edits":{"../x":1}}', '{"type":"predict","seq":1,"edits":{"a.b.c.d.e":1}}',
        '{"type":"predict","seq":1,"base":{"name":"../x"}}', '{"type":"predict","seq":1e999}',
        '{"type":"predict","seq":1,"edits":{"power":NaN}}', '{"type":"predict","seq":1,"detail_band":-1}',
    ],
)  # fmt: skip
def test_what_is_no_message_is_answered_as_a_problem_and_the_line_stays(shared, text):
    with shared.socket() as socket:
        hear(socket, "hello")
        socket.send(text)
        assert hear(socket, "problem")["code"] == "refused"
        socket.send(text.encode())  # as bytes
        assert hear(socket, "problem")["code"] == "refused"
        ask(socket, 9, edits=FREE)
        assert hear(socket, "prediction")["seq"] == 9


class SlowPredictor:
    """Predicts when told to, and notes for whom."""

    def __init__(self):
        self.powers: list[float] = []
        self.go = threading.Semaphore(0)

    def __call__(self, design, memory):
        self.powers.append(design.power)
        assert self.go.acquire(timeout=SOON)
        return predict(design, memory)


def test_of_requests_that_wait_only_the_newest_is_worked_on(tmp_path):
    slow = SlowPredictor()
    with running_server(Desk(tmp_path, predictor=slow)) as server, server.socket() as socket:
        hear(socket, "hello")
        ask(socket, 1, edits=FREE | {"power": "1 W"})
        until(lambda: len(slow.powers) == 1)
        for number in range(2, 31):
            ask(socket, number, edits=FREE | {"power": f"{number} W"})
        ask(socket, 31, edits={"power": 31})  # refused, but only when its turn comes
        ask(socket, 32, edits=FREE | {"power": "32 W"})
        catch_up(socket)
        slow.go.release(2)
        assert [hear(socket, "prediction")["seq"] for _ in range(2)] == [1, 32]
    assert slow.powers == [1.0, 32.0]


def test_one_pages_slow_draft_does_not_stop_another_pages_problem(tmp_path):
    slow = SlowPredictor()
    with (
        running_server(Desk(tmp_path, predictor=slow)) as server,
        server.socket() as one,
        server.socket() as other,
    ):
        ask(one, 1, edits=FREE)
        until(lambda: len(slow.powers) == 1)
        ask(other, 2, edits={"power": "no"})
        assert hear(other, "problem")["seq"] == 2
        slow.go.release()
        assert hear(one, "prediction")["seq"] == 1


def test_a_fault_of_the_program_is_told_and_the_line_stays(tmp_path, caplog):
    def faulty(design, memory):
        if design.power == 13.0:
            raise ZeroDivisionError("our own mistake")
        return predict(design, memory)

    with running_server(Desk(tmp_path, predictor=faulty)) as server, server.socket() as socket:
        ask(socket, 1, edits=FREE | {"power": "13 W"})
        problem = hear(socket, "problem")
        assert (problem["seq"], problem["code"]) == (1, "internal")
        assert "our own mistake" not in str(problem["text"])
        ask(socket, 2, edits=FREE)
        assert hear(socket, "prediction")["seq"] == 2
    assert "our own mistake" in caplog.text


def test_a_file_changed_by_hand_is_told_to_every_page(server):
    server.desk.folder.write("ring", server.desk.start().text, over=None)
    with server.socket() as one, server.socket() as other:
        for socket in (one, other):
            hear(socket, "hello")
        path = server.desk.folder.workspace / "designs" / "ring.toml"

        put(path, path.read_text() + "# by hand\n")
        changed = ("ring", server.desk.open("ring").etag)
        for socket in (one, other):
            told = None
            while (
                told != changed
            ):  # a slow machine may tell only now of the file that was there when the page came
                change = hear(socket, "file_changed")
                told = (change["name"], change["etag"])
        path.unlink()
        assert [hear(socket, "file_changed")["etag"] for socket in (one, other)] == [None, None]


def test_a_page_that_closes_while_its_draft_is_worked_on_does_no_harm(tmp_path):
    slow = SlowPredictor()
    with running_server(Desk(tmp_path, predictor=slow)) as server:
        with server.socket() as socket:
            ask(socket, 1, edits=FREE)
            until(lambda: len(slow.powers) == 1)
        slow.go.release(2)
        with server.socket() as socket:
            ask(socket, 2, edits=FREE)
            assert hear(socket, "prediction")["seq"] == 2


def test_sliders_survive_a_server_that_starts_again(tmp_path):
    """The page sends its whole draft each time, so a new server needs to know nothing."""
    edits = FREE | {"ring.perimeter": "3.05 m", "capacitor.q": 640}
    seen = []
    for _ in range(2):
        with running_server(Desk(tmp_path)) as server, server.socket() as socket:
            seen.append(hear(socket, "hello")["instance"])
            ask(socket, 1, edits=edits)
            seen.append(hear(socket, "prediction")["prediction"])
    assert seen[0] != seen[2]
    assert seen[1] == seen[3]
