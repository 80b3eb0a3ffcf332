# SPDX-License-Identifier: BSD-3-Clause
"""`record`: notes, list, comparison, trend, export and import in words and as documents; what is refused."""

import json
import sqlite3
import subprocess
import sys
from datetime import datetime

import click
import pytest

from ringwright.cli.record import add as add_verb
from ringwright.records.entries import NoteKind
from ringwright.records.records import Records
from tests.records.recording import add, rows_of, workspace_in

VERBS = ("add", "list", "compare", "trend", "export", "import")
HEAVY = ("numpy", "scipy", "pydantic", "sqlite3")


@pytest.fixture
def terrace(tmp_path):
    """A ring whose Q falls, then a joint is remade."""
    workspace = workspace_in(tmp_path / "terrace")
    with Records.open(workspace) as records, records.writing():
        for k in range(6):
            add(records, b"old %d" % k, days=20 * k, q=600 - 20 * k, build="as built", temperature=15.0)
        for k in range(2):
            add(records, b"new %d" % k, days=200 + k, q=650 + k, build="joint 5 remade")
    return workspace


def strict_json(text):
    def refuse(name):
        raise AssertionError(f"{name} is not JSON")

    return json.loads(text, parse_constant=refuse)


def test_a_note_is_written_down_and_listed(call, terrace):
    outcome = call(
        "record", "add", terrace, "rain all day", "--kind", "rain", "--at", "2026-05-02T08:00+00:00"
    )
    assert outcome.code == 0
    assert "rain" in outcome.out
    document = strict_json(call("record", "list", terrace, "--json").out)
    assert document["schema"] == "ringwright.record.list/1"
    (note,) = document["notes"]
    assert (note["at"], note["kind"], note["text"]) == ("2026-05-02T08:00:00Z", "rain", "rain all day")
    text = call("record", "list", terrace).out
    assert "rain all day" in text
    assert text.index("sweep 1") < text.index("rain all day") < text.index("sweep 2")


def test_a_moment_without_a_zone_is_local_and_none_is_now(call, terrace):
    first = strict_json(call("record", "add", terrace, "a", "--at", "2026-05-02 08:00", "--json").out)
    assert datetime.fromisoformat(first["at"]) == datetime(2026, 5, 2, 8).astimezone()
    again = strict_json(call("record", "add", terrace, "a", "--at", "2026-05-02 08:00", "--json").out)
    assert (first["is_new"], again["is_new"], again["number"]) == (True, False, first["number"])
    now = strict_json(call("record", "add", terrace, "b", "--json").out)
    age = datetime.now().astimezone() - datetime.fromisoformat(now["at"])
    assert -1.0 < age.total_seconds() < 60.0


def test_the_list_of_a_band_and_of_nothing(call, terrace, tmp_path):
    assert len(strict_json(call("record", "list", terrace, "--band", "40m", "--json").out)["sweeps"]) == 8
    outcome = call("record", "list", terrace, "--band", "20m")
    assert (outcome.code, "no sweep on" in outcome.sentence) == (2, True)
    empty = call("record", "list", workspace_in(tmp_path / "empty"))
    assert (empty.code, "Nothing is recorded yet" in empty.out) == (0, True)


def test_sweeps_of_two_designs_are_told_apart(call, terrace):
    def lines():
        return [" ".join(entry.split()) for entry in call("record", "list", terrace).out.splitlines()]

    assert not any("Terrace octagon:" in line for line in lines())  # one design alone needs no name
    with Records.open(terrace) as records, records.writing():
        add(records, b"of another", days=300, design='format = 1\nname = "Attic ring"\n')
    assert sum("Terrace octagon: 40m" in line for line in lines()) == 8
    assert sum("Attic ring: 40m" in line for line in lines()) == 1
    sweeps = strict_json(call("record", "list", terrace, "--json").out)["sweeps"]
    assert {sweep["design_name"] for sweep in sweeps} == {"Terrace octagon", "Attic ring"}


def test_a_lost_original_is_told_on_standard_error(call, terrace):
    (terrace / "sweeps" / "sweep-3.s1p").unlink()
    outcome = call("record", "list", terrace, "--json")
    assert outcome.code == 0
    assert len(strict_json(outcome.out)["sweeps"]) == 8
    assert "sweep-3.s1p is gone or altered" in outcome.err


def test_builds_are_compared_in_words_and_as_a_document(call, terrace):
    document = strict_json(call("record", "compare", terrace, "as built", "joint 5 remade", "--json").out)
    assert document["schema"] == "ringwright.record.comparison/1"
    (band,) = document["bands"]
    assert band["band"] == "40m"
    assert band["q_ratio_low"] < band["q_ratio"] < band["q_ratio_high"]
    assert band["is_told_apart"]
    text = " ".join(call("record", "compare", terrace, "as built", "joint 5 remade").out.split())
    assert f"times {band['q_ratio']:.2f}" in text
    assert f"{band['gain_db']:+.1f} dB" in text
    same = " ".join(call("record", "compare", terrace, 7, 8).out.split())
    assert "no change can be told" in same
    assert "one sweep for a build" in same


def test_the_trend_is_told_with_its_reminder(call, terrace):
    sqlite = sqlite3.connect(terrace / "records.sqlite")
    sqlite.execute("DELETE FROM result WHERE sweep > 6")
    sqlite.execute("DELETE FROM sweep WHERE id > 6")
    sqlite.commit()
    sqlite.close()
    document = strict_json(call("record", "trend", terrace, "40m", "--json").out)
    assert document["schema"] == "ringwright.record.trend/1"
    assert document["q_change_pct_high"] < 0.0
    assert document["q_per_kelvin_pct"] is None
    assert len(document["points"]) == 6
    assert all(point["is_in_line"] for point in document["points"])
    outcome = call("record", "trend", terrace, "40m")
    text = " ".join(outcome.out.split())
    assert document["reminders"][0] in text
    assert f"Q {document['q_change_pct']:+.2g} %" in text
    assert max(map(len, outcome.out.splitlines())) <= 80


def test_the_trend_after_a_repair_tells_of_it(call, terrace):
    call("record", "add", terrace, "joint 5 remade", "--kind", "joint", "--at", "2026-11-01")
    text = call("record", "trend", terrace, "40m").out
    assert "2 of 8 sweeps" in text
    assert "too few sweeps tell" in text
    assert strict_json(call("record", "trend", terrace, "40m", "--json").out)["changed_by"]["kind"] == "joint"


def test_export_and_import_round_trip(call, terrace, tmp_path):
    call("record", "add", terrace, "rain", "--kind", "rain")
    out = call("record", "export", terrace, tmp_path / "plain", "--json")
    assert strict_json(out.out) == {
        "schema": "ringwright.record.export/1",
        "designs": 1, "sweeps": 8, "results": 8, "notes": 1, "tuning_tables": 0, "tunings": 0, "reports": 0, "lost": [],
    }  # fmt: skip
    again = workspace_in(tmp_path / "again")
    assert (
        call("record", "import", again, tmp_path / "plain").out == "new here: 8 sweeps, 8 results, 1 note\n"
    )
    assert rows_of(again) == rows_of(terrace)
    document = strict_json(call("record", "import", again, tmp_path / "plain", "--json").out)
    assert document == {
        "schema": "ringwright.record.import/1",
        "sweeps": 0,
        "results": 0,
        "notes": 0,
        "tuning_pairs": 0,
        "tunings": 0,
        "reports": 0,
    }


@pytest.mark.parametrize(
    ("arguments", "code", "said"),
    [
        (["add", "{w}", ""], 2, "empty"),
        (["add", "{w}", "x", "--kind", "gossip"], 2, "gossip"),
        (["add", "{w}", "x", "--at", "yesterday"], 2, "no date"),
        (["add", "{w}", "x", "--at", "0001-01-01"], 2, "no"),
        (["add", "{w}/nowhere", "x"], 2, "no workspace"),
        (["list", "{w}/designs"], 2, "no workspace"),
        (["compare", "{w}", "as built", "rebuilt"], 2, "rebuilt"),
        (["compare", "{w}", "as built"], 2, "AFTER"),
        (["trend", "{w}", "20m"], 2, "40m"),
        (["export", "{w}", "{w}"], 2, "is there already"),
        (["export", "{w}", "{w}/no/where"], 2, "no folder can be made"),
        (["import", "{w}", "{w}"], 2, "record.json"),
    ],
)
def test_bad_input_is_one_sentence_and_changes_nothing(call, terrace, arguments, code, said):
    before = rows_of(terrace)
    outcome = call("record", *(argument.format(w=terrace) for argument in arguments))
    assert outcome.code == code
    assert said in outcome.sentence
    assert rows_of(terrace) == before


def test_a_damaged_record_is_one_sentence_and_3(call, terrace):
    (terrace / "records.sqlite").write_text("no database")
    for arguments in (["list", terrace], ["add", terrace, "x"], ["trend", terrace, "40m"]):
        outcome = call("record", *arguments)
        assert outcome.code == 3
        assert "is damaged" in outcome.sentence


@pytest.mark.parametrize("verb", ["", *VERBS])
def test_help_has_an_example_fits_80_columns_and_loads_nothing_heavy(verb, call):
    outcome = call("record", *verb.split(), "--help")
    assert f"ringwright record {verb}".strip() in outcome.out
    assert "Example" in outcome.out
    assert max(map(len, outcome.out.splitlines())) <= 80
    code = (
        "import sys; from ringwright.cli.program import run\n"
        f"code = run(['record', *{verb.split()!r}, '--help'])\n"
        f"print('loaded:', *(n for n in {HEAVY!r} if n in sys.modules)); sys.exit(code)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "loaded:"


def test_the_kinds_offered_are_those_there_are():
    (kind,) = (parameter for parameter in add_verb.params if parameter.name == "kind")
    assert isinstance(kind.type, click.Choice)
    assert list(kind.type.choices) == [each.value for each in NoteKind]
