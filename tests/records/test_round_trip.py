# SPDX-License-Identifier: BSD-3-Clause
"""Export and import: exact row by row, added without doubles, refused whole if anything is damaged."""

import csv
import hashlib
import json
import math
import shutil
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ringwright.errors import RecordFileError, StorageError, WorkspaceError
from ringwright.proof.estimate import Estimate, Flag
from ringwright.records.entries import NoteKind
from ringwright.records.records import Records
from ringwright.records.result import Result
from ringwright.records.tuning import Found, Outcome, TraceReading, Tuning, TuningPairs
from ringwright.tuner.table_point import Point
from tests.records.recording import DESIGN, START, add, integrity, point, rows_of, tuning, workspace_in

moments = st.datetimes(datetime(1950, 1, 1), datetime(2199, 1, 1), timezones=st.just(UTC))  # noqa: DTZ001
words = st.text(
    st.characters(codec="utf-8", exclude_categories=["C", "Z"]) | st.sampled_from(" \n\t"),
    min_size=1,
    max_size=20,
).filter(str.strip)
labels = st.none() | st.from_regex(r"[a-zä][a-z0-9 ,'=]{0,20}", fullmatch=True)
positive = st.floats(1e-12, 1e12)


@st.composite
def estimates(draw):
    low, value, high = sorted(draw(st.tuples(positive, positive, positive)))
    return Estimate(value=value, low=low, high=high)


results = st.builds(
    Result,
    **{name: estimates() for name in ("frequency", "q_unloaded", "q_loaded", "coupling", "bandwidth_half_power",
                                       "resistance_total", "efficiency_pct")},
    swr_min=st.none() | estimates(),
    flags=st.lists(st.builds(Flag, code=st.just("noise"), text=words.filter(str.isprintable)), max_size=2).map(tuple),
)  # fmt: skip
sweeps = st.fixed_dictionaries(
    {
        "content": st.binary(max_size=30),
        "name": st.text(max_size=20),
        "measured_at": moments,
        "design": st.sampled_from([DESIGN, "", 'name = "Ω"\r\n']),
        "result": results,
        "band": labels,
        "build": labels,
        "temperature": st.none() | st.floats(-90, 100),
        "note": st.just("") | words,
    }
)


tunings = st.builds(
    Tuning,
    at=moments,
    table=st.sampled_from(["octagon", "the other"]),
    band=labels,
    frequency=positive,
    outcome=st.sampled_from(Outcome),
    found=st.builds(
        Found,
        expected=st.floats(-1e9, 1e9),
        position=st.none() | st.integers(-(2**31), 2**31),
        swr=st.none() | positive,
        carrier=positive,
        temperature=st.none() | st.floats(-90, 100),
        words=words.filter(lambda text: text == text.strip()),
        trace=st.lists(
            st.builds(
                TraceReading,
                after=positive,
                position=st.integers(0, 10**6),
                reflection=positive,
                forward=positive,
            ),
            max_size=3,
        ).map(tuple),
    ),
)
tables = st.builds(
    TuningPairs,
    site=st.sampled_from(["home", "garden"]),
    points=st.lists(
        st.builds(
            Point,
            position=st.integers(-(2**31), 2**31),
            frequency=st.floats(1.8e6, 54e6),
            spread=st.floats(1e-3, 1e5),
            temperature=st.none() | st.floats(-90, 100),
            at=moments,
            site=st.sampled_from(["home", "garden", "=1+2"]),
        ),
        max_size=4,
    ).map(tuple),
)


@settings(max_examples=25)  # each writes two workspaces and an export to the disk
@given(
    st.lists(sweeps, max_size=6),
    st.lists(st.tuples(words, moments, st.sampled_from(NoteKind)), max_size=4),
    st.lists(tunings, max_size=3),
    st.dictionaries(st.sampled_from(["octagon", "Ω"]), tables),
)
def test_a_record_comes_back_row_by_row(tmp_path_factory, entries, notes, tuned, kept):
    folder = tmp_path_factory.mktemp("trip")
    first, second = workspace_in(folder / "first"), workspace_in(folder / "second")
    with Records.open(first) as records, records.writing():
        for entry in entries:
            records.add_sweep(**entry)
        for text, at, kind in notes:
            records.add_note(text, at=at, kind=kind)
        for one in tuned:
            records.add_tuning(one, design=DESIGN)
        for name, table in kept.items():
            records.keep_table(name, table)
    with Records.open(first) as records:
        exported = records.export(folder / "plain")
    with Records.open(second) as records:
        imported = records.import_(folder / "plain")
        assert records.lost() == ()
    rows = rows_of(first)
    assert rows_of(second) == rows
    assert (
        imported.sweeps,
        imported.results,
        imported.notes,
        imported.tuning_pairs,
        imported.tunings,
    ) == tuple(len(rows[table]) for table in ("sweep", "result", "note", "tuning_pair", "tuning"))
    assert exported.lost == ()
    assert files_of(second) == files_of(first)
    assert integrity(second) == "ok"


def test_whole_numbers_come_back_as_they_were_kept(records, workspace, other, tmp_path):
    add(records, q=600)  # an int where a float is meant
    records.export(tmp_path / "plain")
    with Records.open(other) as again:
        again.import_(tmp_path / "plain")
    assert rows_of(other) == rows_of(workspace)


def files_of(workspace):
    return {path.name: path.read_bytes() for path in (workspace / "sweeps").iterdir()}


@pytest.fixture
def plain(records, tmp_path):
    """An export of three sweeps and two notes."""
    with records.writing():
        add(records, b"1", days=1, temperature=12.0, build="as built")
        add(records, b"2", days=2)
        add(records, b"3", days=3, design=DESIGN + "# edited\n")
        records.add_note("=2+3", at=START, kind=NoteKind.OTHER)
        records.add_note("rain", at=START, kind=NoteKind.RAIN)
        records.keep_table("octagon", TuningPairs(points=(point(),), site="home"))
        records.add_tuning(tuning(), design=DESIGN)
    records.export(tmp_path / "plain")
    return tmp_path / "plain"


@pytest.fixture
def other(tmp_path):
    return workspace_in(tmp_path / "other")


def table_of(path):
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_an_export_is_plain_files(plain):
    assert sorted(path.name for path in plain.iterdir()) == [
        *("designs.jsonl", "notes.csv", "notes.jsonl", "record.json"),
        *("reports.jsonl", "results.jsonl", "sweeps", "sweeps.csv", "sweeps.jsonl"),
        *("tuning_tables.jsonl", "tunings.jsonl"),
    ]
    table = table_of(plain / "sweeps.csv")
    lines = [json.loads(line) for line in (plain / "sweeps.jsonl").read_text(encoding="utf-8").splitlines()]
    assert [row["file"] for row in table] == [line["file"] for line in lines]
    assert float(table[0]["q_unloaded"]) == 600.0
    for line in lines:
        content = (plain / "sweeps" / line["file"]).read_bytes()
        assert hashlib.sha256(content).hexdigest() == line["sha256"]


def test_a_spreadsheet_is_given_no_formula(plain):
    assert table_of(plain / "notes.csv")[0]["text"] == "'=2+3"


def test_taken_in_twice_changes_nothing(plain, other):
    with Records.open(other) as records:
        records.import_(plain)
        before = rows_of(other)
        again = records.import_(plain)
    assert (again.sweeps, again.results, again.notes) == (0, 0, 0)
    assert rows_of(other) == before


def test_what_is_there_stays_and_the_rest_is_added(plain, other):
    with Records.open(other) as records:
        add(records, b"2", name="mine.s1p", q=100.0, build="mine")
        add(records, b"other", name="sweep.s1p")
        imported = records.import_(plain)
        assert (imported.sweeps, imported.results) == (2, 2)
        known = records.sweeps(build="mine")
        assert [sweep.file for sweep in known] == ["mine.s1p"]
        assert known[0].result.q_unloaded.value == 100.0
        assert len(records.sweeps()) == 4
        assert records.lost() == ()
        assert len({sweep.file for sweep in records.sweeps()}) == 4
    assert integrity(other) == "ok"


def test_a_lost_original_is_told_and_the_rest_comes_back(records, workspace, other, tmp_path):
    add(records, b"1", name="one.s1p")
    add(records, b"2", name="two.s1p")
    (workspace / "sweeps" / "one.s1p").write_bytes(b"altered")
    assert records.export(tmp_path / "plain").lost == ("one.s1p",)
    with Records.open(other) as again:
        again.import_(tmp_path / "plain")
        assert [sweep.file for sweep in again.lost()] == ["one.s1p"]
    assert rows_of(other) == rows_of(workspace)


def edited(path, change):
    """One line of JSON changed."""
    first, *rest = path.read_text(encoding="utf-8").splitlines()
    line = json.loads(first)
    change(line)
    path.write_text("\n".join([json.dumps(line), *rest]) + "\n", encoding="utf-8")


DAMAGE = {
    "no contents": lambda f: (f / "record.json").unlink(),
    "contents of a newer program": lambda f: edited(f / "record.json", lambda x: x.update(schema="other/2")),
    "contents no JSON": lambda f: (f / "record.json").write_text("{"),
    "contents deep": lambda f: (f / "record.json").write_text("[" * 100_000),
    "contents NaN": lambda f: (f / "record.json").write_text('{"schema": NaN}'),
    "no sweeps": lambda f: (f / "sweeps.jsonl").unlink(),
    "sweeps cut short": lambda f: (f / "sweeps.jsonl").write_bytes((f / "sweeps.jsonl").read_bytes()[:-20]),
    "a line less": lambda f: (f / "notes.jsonl").write_text(""),
    "binary": lambda f: (f / "notes.jsonl").write_bytes(b"\xff\xfe\n\n"),
    "unknown key": lambda f: edited(f / "sweeps.jsonl", lambda x: x.update(colour="red")),
    "missing key": lambda f: edited(f / "sweeps.jsonl", lambda x: x.pop("size")),
    "wrong type": lambda f: edited(f / "sweeps.jsonl", lambda x: x.update(size="5")),
    "size beyond SQLite": lambda f: edited(f / "sweeps.jsonl", lambda x: x.update(size=2**70, is_there=False)),
    "path out of the folder": lambda f: edited(f / "sweeps.jsonl", lambda x: x.update(file="../../evil.s1p")),
    "absolute path": lambda f: edited(f / "sweeps.jsonl", lambda x: x.update(file="/etc/passwd")),
    "escape sequence": lambda f: edited(f / "sweeps.jsonl", lambda x: x.update(build="\x1b[2J")),
    "band of control characters": lambda f: edited(f / "sweeps.jsonl", lambda x: x.update(band="\x07")),
    "moment local": lambda f: edited(f / "sweeps.jsonl", lambda x: x.update(measured_at="2026-05-01T12:00:00")),
    "moment none": lambda f: edited(f / "notes.jsonl", lambda x: x.update(at="yesterday")),
    "kind unknown": lambda f: edited(f / "notes.jsonl", lambda x: x.update(kind="gossip")),
    "empty note": lambda f: edited(f / "notes.jsonl", lambda x: x.update(text="")),
    "too hot": lambda f: edited(f / "sweeps.jsonl", lambda x: x.update(temperature_degc=1e9)),
    "checksum of the design": lambda f: edited(f / "designs.jsonl", lambda x: x.update(text="other")),
    "design with a lone surrogate": lambda f: edited(f / "designs.jsonl", lambda x: x.update(text="\ud800")),
    "result of no sweep": lambda f: edited(f / "results.jsonl", lambda x: x.update(sweep="0" * 64)),
    "result of another schema": lambda f: edited(f / "results.jsonl", lambda x: x.update(schema="ringwright.proof/9")),
    "result with an odd key": lambda f: edited(f / "results.jsonl", lambda x: x["result"].update(taste=1.0)),
    "result without Q": lambda f: edited(f / "results.jsonl", lambda x: x["result"].update(q_unloaded=None)),
    "result of text": lambda f: edited(f / "results.jsonl", lambda x: x["result"].update(coupling="1.1")),
    "result outside its interval": lambda f: edited(f / "results.jsonl", lambda x: x["result"].update(q_unloaded=1.0)),
    "result infinite": lambda f: edited(f / "results.jsonl", lambda x: x["result"].update(q_loaded_high=math.inf)),
    "result beyond numbers": lambda f: edited(f / "results.jsonl", lambda x: x["result"].update(coupling=10**400)),
    "flags of control characters": lambda f: edited(
        f / "results.jsonl", lambda x: x["result"].update(flags=["a"], notes=["\x1b"])
    ),
    "a flag without its note": lambda f: edited(f / "results.jsonl", lambda x: x["result"].update(notes=[])),
    "number of tunings": lambda f: edited(f / "record.json", lambda x: x.update(tunings=5)),
    "tuning of no design": lambda f: edited(f / "tunings.jsonl", lambda x: x.update(design="0" * 64)),
    "tuning that ended oddly": lambda f: edited(f / "tunings.jsonl", lambda x: x.update(outcome="exploded")),
    "trace of words": lambda f: edited(f / "tunings.jsonl", lambda x: x["document"].update(trace=["a"])),
    "trace infinite": lambda f: edited(f / "tunings.jsonl", lambda x: x["document"].update(swr=math.inf)),
    "tuning with an odd key": lambda f: edited(f / "tunings.jsonl", lambda x: x["document"].update(taste=1)),
    "pair out of the air": lambda f: edited(
        f / "tuning_tables.jsonl", lambda x: x["pairs"][0].update(frequency_hz=1.0)
    ),
    "pair of no site": lambda f: edited(f / "tuning_tables.jsonl", lambda x: x["pairs"][0].update(site="")),
    "table of no site": lambda f: edited(f / "tuning_tables.jsonl", lambda x: x.update(site="\x1b")),
    "original lost": lambda f: next((f / "sweeps").iterdir()).unlink(),
    "original altered": lambda f: next((f / "sweeps").iterdir()).write_bytes(b"9"),
    "originals lost": lambda f: shutil.rmtree(f / "sweeps"),
}  # fmt: skip


@pytest.mark.parametrize("damage", DAMAGE.values(), ids=DAMAGE)
def test_a_damaged_export_is_one_sentence_and_changes_nothing(plain, other, damage):
    with Records.open(other) as records:
        add(records, b"known")
        before, files = rows_of(other), files_of(other)
        damage(plain)
        with pytest.raises(RecordFileError) as caught:
            records.import_(plain)
        assert "\n" not in str(caught.value)
        assert len(str(caught.value)) < 400
        assert rows_of(other) == before
        assert {name: files_of(other)[name] for name in files} == files
    assert integrity(other) == "ok"


def test_a_folder_that_is_no_export_is_one_sentence(records, tmp_path):
    for folder in (tmp_path / "nowhere", tmp_path):
        with pytest.raises(RecordFileError, match="record export"):
            records.import_(folder)


def test_an_export_writes_over_nothing(records, tmp_path):
    add(records)
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "mine").touch()
    (tmp_path / "file").touch()
    for folder in (tmp_path / "full", tmp_path / "file"):
        with pytest.raises(WorkspaceError, match="is there already"):
            records.export(folder)
    for folder in (tmp_path / "no" / "where", tmp_path / "nul\0"):
        with pytest.raises(WorkspaceError, match="no folder can be made"):
            records.export(folder)
    (tmp_path / "empty").mkdir()
    records.export(tmp_path / "empty")
    assert (tmp_path / "empty" / "record.json").exists()


def test_an_export_that_fails_leaves_nothing_behind(records, tmp_path, monkeypatch):
    def fails(source, target):
        raise OSError(28, "No space left on device")

    add(records)
    before = sorted(tmp_path.iterdir())
    monkeypatch.setattr(shutil, "copyfile", fails)
    with pytest.raises(StorageError, match="No space left"):
        records.export(tmp_path / "plain")
    assert sorted(tmp_path.iterdir()) == before


def test_an_export_is_of_one_moment(records, workspace, tmp_path, monkeypatch):
    add(records, b"1")
    copyfile = shutil.copyfile

    def meanwhile(source, target):
        with Records.open(workspace) as second:
            add(second, b"2", name="late.s1p")
            second.add_note("late", at=START + timedelta(days=1))
        copyfile(source, target)

    monkeypatch.setattr(shutil, "copyfile", meanwhile)
    exported = records.export(tmp_path / "plain")
    assert (exported.sweeps, exported.results, exported.notes) == (1, 1, 0)
