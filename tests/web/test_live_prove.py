# SPDX-License-Identifier: BSD-3-Clause
"""The proof on the live socket: each sweep first, then the contract's document; stopped by whatever is newer."""

import base64
import hashlib
import json
from typing import Any

import numpy as np
import pytest

from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from ringwright.desk.jobs import Job, Progress
from ringwright.errors import SweepFileError
from ringwright.proof.files import parse_sweep
from ringwright.web.messages.live import ServerMessage
from ringwright.web.messages.proof import LONGEST_SWEEP, MOST_SWEEPS
from ringwright.web.serve import LARGEST_MESSAGE
from tests.web.running import SOON, ask, hear, put, until

F, Q, COUPLING = 7.1e6, 500.0, 0.8
FREE = {"site.earth": "free space", "site.metal": None, "bands": ["40m"]}
DRAFT = {"base": {"text": shipped_text(TERRACE_OCTAGON)}, "edits": FREE}
READINGS = "7.08 MHz 5.1; 7.09 MHz 2.6; 7.095 MHz 1.6; 7.1 MHz 1.3; 7.105 MHz 1.9; 7.11 MHz 3"


def resonator(points=101):
    """A textbook resonator as a Touchstone text (D. Kajfez, Q Factor, 1994: the circle 1 - d/(1 + jx))."""
    q_loaded = Q / (1.0 + COUPLING)
    f = F * (1.0 + np.linspace(-5.0, 5.0, points) / q_loaded)
    circle = 1.0 - 2.0 * COUPLING / (1.0 + COUPLING) / (1.0 + 2j * q_loaded * (f / F - 1.0))
    rows = (f"{a:.1f} {b.real:.7f} {b.imag:.7f}" for a, b in zip(f, circle, strict=True))
    return "# Hz S RI R 50\n" + "\n".join(rows) + "\n"


def sent(name="40m.s1p", text=None, kind="file"):
    return {"name": name, "kind": kind, "text": resonator() if text is None else text}


def delivery(name, content):
    """A file as a page delivers it: its bytes."""
    return {"name": name, "kind": "file", "content": base64.b64encode(content).decode("ascii")}


def prove(socket, seq, *sweeps, **fields):
    socket.send(json.dumps({"type": "prove", "seq": seq, **DRAFT, "sweeps": list(sweeps), **fields}))


def answers(socket) -> list[Any]:
    """All messages up to the end of one proof, as the contract reads them."""
    found: list[Any] = []
    while not found or found[-1].type in ("proof_sweeps", "proof_progress"):
        message: Any = ServerMessage.model_validate_json(str(socket.recv(timeout=SOON))).root
        if message.type.startswith("proof_"):
            found.append(message)
    return found


def test_each_sweep_comes_first_then_the_document_of_all(shared):
    with shared.socket() as socket:
        prove(socket, 5, sent("bad.s1p", "nonsense"), sent(), sent("readings 1", READINGS, "readings"))
        first, *words, last = answers(socket)
    assert (first.type, first.seq, last.type, last.seq) == ("proof_sweeps", 5, "proof_found", 5)
    assert [(each.name, each.found is not None) for each in first.sweeps] == [
        ("bad.s1p", False), ("40m.s1p", True), ("readings 1", True),
    ]  # fmt: skip
    assert first.sweeps[0].problem.startswith("bad.s1p:1:")
    assert first.sweeps[1].found.q_unloaded == pytest.approx(Q, rel=1e-3, abs=0)  # seven digits, no noise
    assert first.sweeps[2].curves.measured.re is None
    assert [sweep.file for sweep in last.proof.sweeps] == ["40m.s1p", "readings 1"]
    assert sum(each.probability for each in last.proof.diagnosis) == pytest.approx(1.0, rel=1e-9, abs=0)
    assert words
    assert all(word.seq == 5 for word in words)


def test_the_bytes_of_a_file_are_read_as_the_terminal_reads_them(shared):
    """An old code page in a comment harms nobody; UTF-16 is refused with the terminal's own sentence."""
    old, wide = b"! \xe4\n" + resonator().encode(), resonator().encode("utf-16")
    with shared.socket() as socket:
        prove(socket, 1, delivery("old.s1p", old), delivery("wide.s1p", wide))
        read, refused = answers(socket)[0].sweeps
    assert read.found.q_unloaded == pytest.approx(Q, rel=1e-3, abs=0)
    with pytest.raises(SweepFileError, match="UTF-16") as told:
        parse_sweep(wide, source="wide.s1p")
    assert (refused.found, refused.problem) == (None, str(told.value))


def test_files_of_the_workspace_are_listed_read_and_told_of(server):
    sweeps = server.desk.folder.workspace / "sweeps"
    sweeps.mkdir()
    with server.socket() as socket, server.client() as client:
        hear(socket, "hello")
        assert client.get("/api/v1/sweeps").json() == {"sweeps": []}
        put(sweeps / "40m.s1p", resonator())
        told = hear(socket, "sweep_changed")
        assert (told["name"], told["is_there"]) == ("40m.s1p", True)
        assert told["sha256"] == hashlib.sha256(resonator().encode()).hexdigest()
        assert [each["name"] for each in client.get("/api/v1/sweeps").json()["sweeps"]] == ["40m.s1p"]
        prove(socket, 1, sent(kind="folder", text=""), sent("../designs/x.csv", "", "folder"))
        here, elsewhere = answers(socket)[0].sweeps
    assert here.found.q_unloaded == pytest.approx(Q, rel=1e-3, abs=0)
    assert here.sha256 == told["sha256"]  # so that a page knows its own file again
    assert (elsewhere.found, elsewhere.sha256) == (None, None)
    assert "is no sweep file of this workspace" in elsewhere.problem


@pytest.fixture
def endless(monkeypatch):
    """Proofs of good sweeps go on until they are ended, once they have told of each."""
    report = Job.report

    def goes_on(job: Job[Any], progress: Progress) -> bool:
        report(job, progress)  # raises as soon as somebody ends it
        return False

    def told(job: Job[Any], progress: Progress, *found: Any) -> None:
        report(job, progress, *found)
        if found and any(each.comparison for each in found[0]):
            until(lambda: goes_on(job, progress))

    monkeypatch.setattr(Job, "report", told)


@pytest.mark.usefixtures("endless")
def test_a_proof_is_stopped(shared):
    with shared.socket() as socket:
        prove(socket, 1, sent())
        hear(socket, "proof_sweeps")
        socket.send('{"type": "prove_stop"}')
        assert answers(socket)[-1].type == "proof_stopped"


@pytest.mark.usefixtures("endless")
def test_a_newer_proof_takes_the_place_of_the_one_under_way(shared):
    with shared.socket() as socket:
        prove(socket, 1, sent())
        hear(socket, "proof_sweeps")
        prove(socket, 2, sent("bad.s1p", ""))
        last = answers(socket)[-1]
    assert (last.type, last.seq, last.proof) == ("proof_found", 2, None)


@pytest.mark.usefixtures("endless")
def test_a_slider_is_answered_while_a_proof_is_under_way(shared):
    with shared.socket() as socket:
        prove(socket, 1, sent())
        hear(socket, "proof_sweeps")
        ask(socket, 2, edits={"site.earth": "free space"})
        assert hear(socket, "prediction")["seq"] == 2
        socket.send('{"type": "prove_stop"}')


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"edits": {"ring.perimeter": "long"}}, "design"),
        ({"base": {"name": "nowhere"}}, "missing"),
        ({"sweeps": []}, "refused"),
        ({"sweeps": [sent(text="")] * (MOST_SWEEPS + 1)}, "refused"),
        ({"sweeps": [sent(kind="pickle")]}, "refused"),
        ({"sweeps": [{"name": "x" * 256, "kind": "file", "text": ""}]}, "refused"),
        ({"sweeps": [sent(text="x" * (LONGEST_SWEEP + 1))]}, "refused"),
        ({"sweeps": [sent() | {"content": "no base64"}]}, "refused"),
        ({"surprise": 1}, "refused"),
    ],
)
def test_what_cannot_be_proved_is_a_problem_of_the_proof(shared, fields, code):
    with shared.socket() as socket:
        prove(socket, 3, sent(), **fields)
        problem = hear(socket, "proof_problem")
        assert (problem["seq"], problem["code"]) == (3, code)


def test_the_longest_sweep_fits_into_a_message():
    assert LONGEST_SWEEP * 4 / 3 < LARGEST_MESSAGE  # as base64


@pytest.mark.parametrize(
    "name",
    ["__import__('os').s1p", "<b>bold</b>.s1p", "../../etc/passwd", "C:\\con.s1p", "x\x00.s1p"],
)
def test_a_name_is_only_ever_text(shared, name):
    with shared.socket() as socket:
        prove(socket, 1, sent(name, "c__builtin__\neval\n(S'1/0'\ntR."))
        (sweep,) = answers(socket)[0].sweeps
    assert (sweep.name, sweep.found) == (name, None)
    assert sweep.problem


def test_half_a_character_is_no_name(shared):
    with shared.socket() as socket:
        prove(socket, 1, sent("\ud800.s1p", ""))
        assert hear(socket, "proof_problem")["code"] == "refused"


def test_the_page_is_told_its_figures_and_cautions(shared):
    with shared.client() as client:
        table = client.get("/api/v1/proof").json()
    assert {"sweeps.q_unloaded", "diagnosis.probability"} <= {figure["key"] for figure in table["figures"]}
    words = " ".join(table["cautions"].values())
    assert "transmitter off and cable apart" in words
    assert "local codes" in words
