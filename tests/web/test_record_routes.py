# SPDX-License-Identifier: BSD-3-Clause
"""The record over HTTP: written, looked at, compared, copied out and in; a word on the socket when it has grown."""

import io
import json
import zipfile
from datetime import timedelta

import pytest

from ringwright.desk.record_figures import RECORD_FIGURES
from ringwright.records.entries import NoteKind
from ringwright.records.records import Records
from ringwright.web.limits import LARGEST_ARCHIVE
from ringwright.web.messages.record import (
    MomentsCompared,
    NoteKept,
    RecordLine,
    RecordTable,
    SweepsKept,
    TakenIn,
    TrendDrawn,
)
from tests.records.recording import START, add
from tests.web.running import hear
from tests.web.test_live_prove import DRAFT, READINGS, Q, delivery, resonator, sent

NOTHING = TakenIn(sweeps=0, results=0, notes=0, tunings=0, tuning_pairs=0, reports=0)
BEFORE, AFTER = START.isoformat(), (START + timedelta(days=40)).isoformat()


@pytest.fixture
def client(server):
    with server.client() as client:
        yield client


@pytest.fixture
def filled(server):
    """Six sweeps, a joint remade, two more."""
    workspace = server.desk.folder.workspace
    (workspace / "designs").mkdir()
    with Records.open(workspace) as records:
        for day, q in enumerate((400.0, 398.0, 392.0, 391.0, 386.0, 384.0)):
            add(records, b"%d" % day, days=day, q=q, temperature=10.0 + day, build="as built")
        records.add_note("joint 5 remade", at=START + timedelta(days=30), kind=NoteKind.JOINT)
        for day in (31, 35):
            add(records, b"%d" % day, days=day, q=600.0, build="joint 5 remade", frequency=7.101e6)
    return workspace


def line_of(client):
    return RecordLine.model_validate_json(client.get("/api/v1/record").text)


def problem_of(answer, status):
    assert answer.status_code == status
    problem = answer.json()
    assert set(problem) == {"code", "key", "text"}
    return problem["text"]


def test_an_empty_folder_has_an_empty_line_and_no_record_after_it(client, server):
    line = line_of(client)
    assert line.entries == []
    assert [lane.kind for lane in line.lanes] == ["design", "sweep", "tuning", "report", "note"]
    assert not (server.desk.folder.workspace / "records.sqlite").exists()
    for address in ("/record/trend?band=40m", "/record/archive", f"/record/designs/{'0' * 64}"):
        assert "nothing is recorded yet" in problem_of(client.get(f"/api/v1{address}"), 404)


def test_every_figure_kind_and_caution_is_told(client):
    table = RecordTable.model_validate_json(client.get("/api/v1/record/table").text)
    assert [figure.key for figure in table.figures] == list(RECORD_FIGURES)
    assert all(figure.source and figure.definition and figure.formula for figure in table.figures)
    assert table.kinds == [kind.value for kind in NoteKind]
    assert "kilovolts" in table.before_touching
    assert "local codes" in table.authority


def test_a_note_is_written_once_and_told_of_on_the_socket(client, server):
    note = {"text": "joint 5 remade", "kind": "joint", "at": "2026-05-20T17:00:00+02:00"}
    with server.socket() as socket:
        hear(socket, "hello")
        kept = NoteKept.model_validate_json(client.post("/api/v1/record/notes", json=note).text)
        hear(socket, "record_changed")
    assert (kept.at, kept.kind, kept.is_new) == ("2026-05-20T15:00:00Z", "joint", True)
    assert client.post("/api/v1/record/notes", json=note).json()["is_new"] is False
    (entry,) = line_of(client).entries
    assert (entry.kind, entry.mark, entry.words, entry.changes_ring) == ("note", "joint", note["text"], True)


@pytest.mark.parametrize(
    ("note", "said"),
    [
        ({"text": "  "}, "the note is empty; write what happened"),
        ({"text": "x", "at": "2026-05-20T17:00:00"}, "timezone"),
        ({"text": "x", "at": "1026-05-20T17:00:00Z"}, "the year 1026"),
        ({"text": "x", "kind": "party"}, "kind"),
        ({"text": "x" * 2001}, "write at most 2000"),
    ],
)
def test_a_note_that_cannot_be_kept_says_why(client, note, said):
    assert said in problem_of(client.post("/api/v1/record/notes", json=note), 422)


def test_sweeps_are_kept_with_their_draft(client, server):
    body = {
        **DRAFT,
        "sweeps": [
            sent("40m.s1p") | {"measured_at": "2026-05-01T12:00:00Z"},
            sent("bad.s1p", "nonsense"),
            sent("readings 1", READINGS, "readings"),
        ],
        "build": "as built",
        "temperature_degc": 4,
        "note": "dry",
    }
    answer = SweepsKept.model_validate_json(client.post("/api/v1/record/sweeps", json=body).text)
    assert answer.record == str(server.desk.folder.workspace / "records.sqlite")
    assert [kept.file for kept in answer.sweeps] == ["40m.s1p", None, "40m readings.csv"]
    assert answer.sweeps[1].problem is not None
    line = line_of(client)
    (sweep,) = (entry.sweep for entry in line.entries if entry.title == "40m.s1p")
    assert sweep is not None
    assert sweep.q_unloaded == pytest.approx(Q, rel=1e-3, abs=0)  # seven digits, no noise
    assert (sweep.temperature_degc, sweep.note) == (4.0, "dry")
    design = next(entry for entry in line.entries if entry.kind == "design")
    text = client.get(f"/api/v1/record/designs/{design.designs[0]}").json()["text"]
    assert 'earth = "free space"' in text
    assert (line.bands, line.builds, line.lost) == (["40m"], ["as built"], [])
    (server.desk.folder.workspace / "sweeps" / "40m.s1p").unlink()
    assert line_of(client).lost == ["40m.s1p"]


def test_a_file_is_kept_byte_for_byte(client, server):
    """A byte of an old code page, line ends of another system: what is kept is what was delivered."""
    old = b"! B\xfcgel, gel\xf6tet\r\n" + resonator().replace("\n", "\r\n").encode()
    wide = resonator().encode("utf-16")
    body = {**DRAFT, "sweeps": [delivery("old.s1p", old), delivery("wide.s1p", wide)]}
    answer = SweepsKept.model_validate_json(client.post("/api/v1/record/sweeps", json=body).text)
    assert [kept.file for kept in answer.sweeps] == ["old.s1p", None]
    assert answer.sweeps[1].problem is not None
    assert "UTF-16" in answer.sweeps[1].problem
    assert (server.desk.folder.workspace / "sweeps" / "old.s1p").read_bytes() == old


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"build": "12"}, "cannot be a build's name"),
        ({"temperature_degc": 400.0}, "is no weather"),
        ({"edits": {"ring.perimeter": "0 m"}}, "perimeter"),
    ],
)
def test_what_cannot_be_said_of_sweeps_keeps_none(client, server, fields, said):
    body = {**DRAFT, "sweeps": [sent()], **fields}
    assert said in problem_of(client.post("/api/v1/record/sweeps", json=body), 422)
    assert not (server.desk.folder.workspace / "sweeps").exists()


def test_two_moments_are_compared(client, filled):
    answer = client.post("/api/v1/record/compare", json={"before": AFTER, "after": BEFORE})
    found = MomentsCompared.model_validate_json(answer.text)
    assert found.has_changed
    (band,) = found.bands
    assert (band.band, len(band.sweeps_before), len(band.sweeps_after)) == ("40m", 6, 2)
    assert band.q_after == pytest.approx(600.0, rel=1e-9, abs=0)
    assert band.frequency_change_hz == pytest.approx(1e3, rel=1e-6, abs=0)
    assert band.is_told_apart
    assert [note.text for note in found.notes] == ["joint 5 remade"]
    assert found.why_not is None
    same = client.post("/api/v1/record/compare", json={"before": BEFORE, "after": BEFORE})
    assert same.status_code == 200
    alone = MomentsCompared.model_validate_json(same.text)
    assert alone.bands == []
    assert "choose moments further apart" in (alone.why_not or "")


def test_a_trend_has_points_and_the_lines_through_them(client, filled):
    client.post("/api/v1/record/notes", json={"text": "shower", "kind": "rain", "at": BEFORE})
    trend = TrendDrawn.model_validate_json(client.get("/api/v1/record/trend?band=40m").text)
    assert [point.is_in_line for point in trend.points] == [False] * 6 + [True] * 2
    assert trend.changed_by is not None
    assert trend.q_line is None  # two sweeps since the joint was remade
    assert trend.points[0].is_wet
    assert "30m" in problem_of(client.get("/api/v1/record/trend?band=30m"), 404)


def test_the_line_through_a_falling_q_begins_where_its_sweeps_do(client, server):
    (server.desk.folder.workspace / "designs").mkdir()
    with Records.open(server.desk.folder.workspace) as records:
        for day in range(6):
            add(records, b"%d" % day, days=day, q=400.0 * 0.99**day, temperature=20.0 - day)
    trend = TrendDrawn.model_validate_json(client.get("/api/v1/record/trend?band=40m").text)
    assert trend.q_line is not None
    assert trend.q_line.x == (START.timestamp(), START.timestamp() + 5 * 86400.0)
    assert trend.q_line.y == pytest.approx((400.0, 400.0 * 0.99**5), rel=1e-9, abs=0)
    assert trend.q_line_by_warmth is not None
    assert trend.q_line_by_warmth.x == (15.0, 20.0)
    assert trend.reminders


def test_a_copy_goes_out_and_comes_in_after_it_was_asked(client, filled, server):
    answer = client.get("/api/v1/record/archive")
    assert answer.headers["content-type"] == "application/zip"
    assert answer.headers["content-disposition"].startswith(
        f'attachment; filename="{server.desk.name}-record-'
    )
    with zipfile.ZipFile(io.BytesIO(answer.content)) as archive:
        names = {name.partition("/")[2] for name in archive.namelist()}
        assert {"record.json", "sweeps.jsonl", "notes.csv", "sweeps/sweep.s1p"} <= names
        contents = json.loads(archive.read(next(n for n in archive.namelist() if n.endswith("record.json"))))
    assert contents["sweeps"] == 8
    again = client.post("/api/v1/record/archive?trial=true", content=answer.content)
    assert TakenIn.model_validate_json(again.text) == NOTHING
    for path in filled.glob("records.sqlite*"):
        path.unlink()
    trial = client.post("/api/v1/record/archive?trial=true", content=answer.content)
    assert TakenIn.model_validate_json(trial.text) == NOTHING.model_copy(
        update={"sweeps": 8, "results": 8, "notes": 1}
    )
    assert [entry.kind for entry in line_of(client).entries] == []
    assert client.post("/api/v1/record/archive", content=answer.content).json() == trial.json()
    assert len(line_of(client).entries) == 10  # and one text of a design


def test_what_is_no_copy_is_refused_in_one_sentence(client):
    assert "cannot be unpacked" in problem_of(client.post("/api/v1/record/archive", content=b"x"), 422)
    assert len(resonator()) * 1000 < LARGEST_ARCHIVE


def test_a_damaged_record_is_said_and_left(client, server):
    (server.desk.folder.workspace / "records.sqlite").write_bytes(b"SQLite format 3\x00" + b"x" * 5000)
    text = problem_of(client.get("/api/v1/record"), 507)
    assert "is damaged" in text
    assert "rebuild it from an export" in text
