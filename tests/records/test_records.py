# SPDX-License-Identifier: BSD-3-Clause
"""What is kept: sweeps by content with their original files, the text of the design, notes; nothing twice."""

import hashlib
import sqlite3
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from threading import Thread, current_thread

import pytest

from ringwright.errors import NoSuchEntryError, RecordEntryError, WorkspaceError
from ringwright.records.database import Database
from ringwright.records.entries import NoteKind
from ringwright.records.records import Records
from tests.records.recording import DESIGN, START, add, integrity, result, rows_of


def test_a_sweep_comes_back_as_it_was_given(records, workspace):
    added = records.add_sweep(
        b"1 2 3\n",
        name="/somewhere/else/40m terrace.s1p",
        measured_at=datetime(2026, 5, 1, 18, 30, tzinfo=UTC) + timedelta(microseconds=7),
        design=DESIGN,
        result=result(q=612.5),
        band="40m",
        build="as built",
        temperature=21.5,
        note="dry, no wind",
    )
    assert added.is_new
    (sweep,) = records.sweeps()
    assert sweep.number == added.number
    assert sweep.file == "40m terrace.s1p"
    assert sweep.name_given == "/somewhere/else/40m terrace.s1p"
    assert (sweep.band, sweep.build, sweep.temperature, sweep.note) == (
        "40m",
        "as built",
        21.5,
        "dry, no wind",
    )
    assert sweep.measured_at == datetime(2026, 5, 1, 18, 30, tzinfo=UTC)
    assert sweep.size == 6
    assert sweep.result == result(q=612.5)
    assert (workspace / "sweeps" / sweep.file).read_bytes() == b"1 2 3\n"
    assert records.lost() == ()
    assert integrity(workspace) == "ok"


@pytest.mark.parametrize(
    ("content", "digest"),
    [
        # FIPS 180-4's examples for SHA-256, as published with the standard: "abc" and the 448-bit message.
        (b"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
        (
            b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
        ),
    ],
)
def test_checksums_are_those_of_fips_180_4(records, content, digest):
    add(records, content)
    assert records.sweeps()[0].sha256 == digest


def test_the_same_file_twice_is_one_record_whatever_it_is_called(records, workspace):
    first = add(records, b"same", name="a.s1p", build="as built")
    before = rows_of(workspace)
    second = add(records, b"same", name="b.s1p", days=3, build="another", q=300.0)
    assert (second.number, second.is_new) == (first.number, False)
    assert rows_of(workspace) == before
    assert [path.name for path in (workspace / "sweeps").iterdir()] == ["a.s1p"]


def test_a_later_edit_of_the_design_rewrites_no_history(records):
    add(records, b"one", q=600.0)
    again = add(records, b"one", q=500.0, design=DESIGN + "# joint corrected\n")
    assert again.is_new
    (sweep,) = records.sweeps()
    assert [records.design_text(design) for design, _ in sweep.results] == [
        DESIGN,
        DESIGN + "# joint corrected\n",
    ]
    assert [said.q_unloaded.value for _, said in sweep.results] == [600.0, 500.0]
    assert sweep.result.q_unloaded.value == 500.0
    assert sweep.results[0][0] == hashlib.sha256(DESIGN.encode()).hexdigest()


def test_two_files_of_one_name_are_both_kept_also_where_case_does_not_count(records, workspace):
    contents = {"sweep.s1p": b"1", "SWEEP.S1P": b"2", "other/sweep.s1p": b"3"}
    for name, content in contents.items():
        add(records, content, name=name)
    files = {path.name: path.read_bytes() for path in (workspace / "sweeps").iterdir()}
    assert sorted(files.values()) == [b"1", b"2", b"3"]
    assert len({name.casefold() for name in files}) == 3
    assert {
        sweep.file: (workspace / "sweeps" / sweep.file).read_bytes() for sweep in records.sweeps()
    } == files


def test_a_file_that_lies_in_the_folder_already_is_taken_as_it_is(records, workspace):
    path = workspace / "sweeps" / "dropped.s1p"
    path.write_bytes(b"dropped")
    stamp = path.stat().st_mtime_ns
    add(records, b"dropped", name=str(path))
    assert [p.name for p in (workspace / "sweeps").iterdir()] == ["dropped.s1p"]
    assert path.stat().st_mtime_ns == stamp


def test_a_file_of_somebody_else_is_never_written_over(records, workspace):
    path = workspace / "sweeps" / "sweep.s1p"
    path.write_bytes(b"theirs")
    add(records, b"ours", name="sweep.s1p")
    assert path.read_bytes() == b"theirs"
    assert records.sweeps()[0].file == "sweep-2.s1p"


def test_a_lost_original_is_told_and_comes_back_with_its_sweep_but_an_altered_one_is_left(records, workspace):
    add(records, b"one", name="one.s1p")
    add(records, b"two", name="two.s1p")
    (workspace / "sweeps" / "one.s1p").unlink()
    (workspace / "sweeps" / "two.s1p").write_bytes(b"altered")
    assert [sweep.file for sweep in records.lost()] == ["one.s1p", "two.s1p"]
    add(records, b"one", name="found again.s1p")
    add(records, b"two")
    assert [sweep.file for sweep in records.lost()] == ["two.s1p"]
    assert (workspace / "sweeps" / "two.s1p").read_bytes() == b"altered"


def test_what_a_killed_writer_left_half_written_goes(records, workspace):
    (workspace / "sweeps" / ".ringwright-0123.unfinished").write_bytes(b"half")
    add(records, b"whole")
    assert [path.name for path in (workspace / "sweeps").iterdir()] == ["sweep.s1p"]


def test_sweeps_come_in_the_order_in_which_they_were_measured(records):
    for days in (3, 1, 2):
        add(records, b"%d" % days, days=days, band="40m" if days > 1 else "30m", build=f"build {days % 2}")
    assert [sweep.measured_at - START for sweep in records.sweeps()] == [timedelta(days=d) for d in (1, 2, 3)]
    assert [sweep.number for sweep in records.sweeps(band="40m")] == [3, 1]
    assert [sweep.number for sweep in records.sweeps(build="build 1")] == [2, 1]
    assert records.sweeps(band="10m") == ()


def test_notes_come_back_in_order_and_the_same_note_is_one(records):
    records.add_note("  rain all day ", at=START + timedelta(days=1), kind=NoteKind.RAIN)
    first = records.add_note("box opened, dry", at=START, kind=NoteKind.BOX)
    again = records.add_note("box opened, dry", at=START, kind=NoteKind.BOX)
    assert (again.number, again.is_new) == (first.number, False)
    assert [(note.kind, note.text) for note in records.notes()] == [
        (NoteKind.BOX, "box opened, dry"),
        (NoteKind.RAIN, "rain all day"),
    ]


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"measured_at": datetime(2026, 5, 1)}, "no time zone"),  # noqa: DTZ001 -- that is the point
        ({"measured_at": datetime(1066, 10, 14, tzinfo=UTC)}, "1066"),
        ({"build": "7"}, '"7" cannot be'),
        ({"build": " "}, "cannot be a build"),
        ({"build": "a\nb"}, "cannot be a build"),
        ({"build": "x" * 61}, "61 characters"),
        ({"band": ""}, "cannot be a band"),
        ({"temperature": float("nan")}, "nan degrees C"),
        ({"temperature": 300.0}, "300 degrees C"),
        ({"note": "a\x1b[2Jb"}, "cannot be shown"),
        ({"note": "x" * 2001}, "2001 characters"),
        ({"note": "\ud800"}, "cannot be shown"),
    ],
)
def test_what_cannot_be_kept_is_refused_and_changes_nothing(records, workspace, changed, said):
    add(records, b"known")
    before = rows_of(workspace)
    given = {
        "name": "x.s1p", "measured_at": START, "design": DESIGN, "result": result(), "band": "40m",
    }  # fmt: skip
    with pytest.raises(RecordEntryError, match=said):
        records.add_sweep(b"new", **(given | changed))
    assert rows_of(workspace) == before
    assert len(list((workspace / "sweeps").iterdir())) == 1


@pytest.mark.parametrize("text", ["", " \n", "a\x00b", "x" * 2001])
def test_a_note_that_cannot_be_kept_is_refused(records, text):
    with pytest.raises(RecordEntryError):
        records.add_note(text, at=START)
    assert records.notes() == ()


def test_a_name_that_is_no_text_is_kept_in_words(records):
    add(records, b"x", name="sw\udce4p.s1p")
    assert records.sweeps()[0].name_given == "sw\\udce4p.s1p"


def test_several_additions_are_kept_together_or_not_at_all(records, workspace):
    add(records, b"before")

    def half_way():
        with records.writing():
            add(records, b"first of two")
            records.add_note("with it", at=START)
            raise RuntimeError("half-way")

    with pytest.raises(RuntimeError, match="half-way"):
        half_way()
    assert [sweep.sha256 for sweep in records.sweeps()] == [hashlib.sha256(b"before").hexdigest()]
    assert records.notes() == ()
    add(records, b"first of two")  # the file that was left is taken as it is
    assert sorted(path.name for path in (workspace / "sweeps").iterdir()) == ["sweep-2.s1p", "sweep.s1p"]


def test_a_folder_that_is_no_workspace_gets_no_record(tmp_path):
    for folder in (tmp_path, tmp_path / "nowhere", tmp_path / "nul\0"):
        with pytest.raises(WorkspaceError, match="ringwright new"):
            Records.open(folder)
    assert list(tmp_path.iterdir()) == []


def test_the_record_is_a_strict_sqlite_file_in_wal_mode_with_a_version(records, workspace):
    add(records)
    link = sqlite3.connect(workspace / "records.sqlite")
    assert link.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    assert link.execute("PRAGMA user_version").fetchone() == (3,)
    assert link.execute(
        "SELECT min(strict) FROM pragma_table_list WHERE name NOT LIKE 'sqlite%'"
    ).fetchone() == (1,)
    link.execute("PRAGMA foreign_keys = ON")
    with pytest.raises(sqlite3.IntegrityError):
        link.execute("INSERT INTO result (sweep, design, schema, document) VALUES (99, 'x', 's', '{}')")
    link.close()
    with pytest.raises(sqlite3.IntegrityError), records.database.writing():
        records.database.write("DELETE FROM design")


def test_several_threads_begin_and_write_one_record_at_once(workspace):
    def write(number):
        for k in range(5):
            with Records.open(workspace) as records:
                add(records, b"%d %d" % (number, k), name="same.s1p")

    with ThreadPoolExecutor(3) as pool:
        list(pool.map(write, range(3)))
    with Records.open(workspace) as records:
        assert len(records.sweeps()) == 15
        assert records.lost() == ()
    assert len(list((workspace / "sweeps").iterdir())) == 15
    assert integrity(workspace) == "ok"


def test_a_record_made_by_another_while_one_looks_is_no_strangers_file(workspace, monkeypatch):
    def make() -> None:
        Records.open(workspace).close()

    other = Thread(target=make)
    number = Database._number

    def slow_number(database, setting):
        value = number(database, setting)
        if current_thread() is not other and setting == "application_id" and other.ident is None:
            other.start()
            other.join(0.3)  # done by now, or waiting for what this one looks at
        return value

    monkeypatch.setattr(Database, "_number", slow_number)
    with Records.open(workspace) as records:
        other.join()
        assert records.sweeps() == ()


def test_a_build_that_is_not_there_is_one_sentence_with_those_that_are(records):
    add(records)
    with pytest.raises(NoSuchEntryError, match="the record names no build, and sweeps go by"):
        records.compare("1", "99")
    add(records, b"another", build="as built")
    with pytest.raises(NoSuchEntryError, match='the record has the builds "as built", and sweeps go by'):
        records.compare("1", "99")


def test_a_design_text_that_is_not_there_is_named(records):
    with pytest.raises(NoSuchEntryError, match="abc"):
        records.design_text("abc")
