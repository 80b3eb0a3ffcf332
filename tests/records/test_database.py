# SPDX-License-Identifier: BSD-3-Clause
"""Files that are no sound record: refused in one sentence, and left as they are; migrations; a full disk."""

import os
import shutil
import sqlite3
import stat
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from ringwright.errors import RecordError
from ringwright.records import database, migrations
from ringwright.records.database import Database
from ringwright.records.migrations import APPLICATION, MIGRATIONS
from ringwright.records.records import Records
from tests.records.recording import START, add, integrity, rows_of


@pytest.fixture
def filled(workspace):
    """A closed record with a few pages in it."""
    with Records.open(workspace) as records, records.writing():
        for k in range(15):
            add(records, b"%d" % k, days=k)
    return workspace / "records.sqlite"


def refused(path, said):
    before = path.read_bytes()
    with pytest.raises(RecordError, match=said) as caught:
        Records.open(path.parent)
    assert "\n" not in str(caught.value)
    assert str(path) in str(caught.value)
    assert path.read_bytes() == before


def test_a_truncated_file_is_refused(filled):
    content = filled.read_bytes()
    for length in (len(content) // 2, len(content) - 4096, 100, 4096):
        filled.write_bytes(content[:length])
        refused(filled, "is damaged")


def test_a_file_with_a_spoilt_page_is_refused(filled):
    content = bytearray(filled.read_bytes())
    content[8192:12288] = os.urandom(4096)
    filled.write_bytes(content)
    refused(filled, "is damaged")


def test_a_file_that_is_no_database_is_refused(workspace):
    path = workspace / "records.sqlite"
    path.write_text("these are my records\n" * 300)
    refused(path, "is damaged")


def test_a_folder_in_its_place_is_one_sentence(workspace):
    (workspace / "records.sqlite").mkdir()
    with pytest.raises(RecordError, match="cannot be opened"):
        Records.open(workspace)


def test_another_programs_database_is_left_alone(workspace):
    path = workspace / "records.sqlite"
    link = sqlite3.connect(path)
    link.execute("CREATE TABLE theirs (x)")
    link.commit()
    link.close()
    refused(path, "not a record of this program")


def test_a_database_of_another_application_without_tables_is_left_alone(workspace):
    path = workspace / "records.sqlite"
    link = sqlite3.connect(path)
    link.execute("PRAGMA application_id = 252006673")
    link.close()
    refused(path, "not a record of this program")


def test_a_newer_programs_record_is_left_alone(filled):
    link = sqlite3.connect(filled)
    link.execute("PRAGMA user_version = 7")
    link.close()
    refused(filled, r"newer program \(its version 7, here 3\)")


@pytest.mark.parametrize(
    "spoil", ["DROP TABLE note", "ALTER TABLE sweep ADD COLUMN more TEXT", "DROP INDEX sweep_by_band"]
)
def test_a_record_without_its_tables_is_refused(filled, spoil):
    link = sqlite3.connect(filled)
    link.execute(spoil)
    link.close()
    refused(filled, "is missing or altered")


def test_a_view_of_the_persons_own_does_no_harm(filled):
    link = sqlite3.connect(filled)
    link.execute("CREATE VIEW mine AS SELECT * FROM sweep")
    link.close()
    Records.open(filled.parent).close()


def test_an_empty_file_left_by_a_kill_at_the_first_instant_becomes_a_record(workspace):
    (workspace / "records.sqlite").touch()
    with Records.open(workspace) as records:
        add(records)
    assert integrity(workspace) == "ok"


def test_a_record_that_another_program_writes_to_is_one_sentence_and_unchanged(filled, monkeypatch):
    monkeypatch.setattr(database, "PATIENCE", 0.05)
    before = rows_of(filled.parent)
    other = sqlite3.connect(filled, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with Records.open(filled.parent) as records:
        assert len(records.sweeps()) == 15  # reading waits for nobody
        with pytest.raises(RecordError, match="written by another program"):
            add(records, b"new")
    other.close()
    assert rows_of(filled.parent) == before
    assert len(list((filled.parent / "sweeps").iterdir())) == 15


def fill(records):
    for k in range(40):
        records.add_note(f"{k}" + "x" * 1990, at=START)


def test_a_full_disk_is_one_sentence_and_nothing_is_half_kept(filled):
    before = rows_of(filled.parent)
    with Records.open(filled.parent) as records:
        records.database.rows("PRAGMA max_page_count = 1")  # SQLite's own word for a disk that is full
        with pytest.raises(RecordError, match="make room on the disk"):
            fill(records)
    after = rows_of(filled.parent)
    assert {table: after[table] for table in ("design", "sweep", "result")} == {
        table: before[table] for table in ("design", "sweep", "result")
    }
    assert integrity(filled.parent) == "ok"


READ_ONLY = """
import os, sys
from pathlib import Path
from ringwright.errors import RecordError
from ringwright.records.records import Records
import ringwright.records.trend
if os.geteuid() == 0:
    os.setuid(65534)  # root may write anywhere
try:
    Records.open(Path(sys.argv[1]))
except RecordError as exc:
    print(exc)
"""


@pytest.mark.skipif(not hasattr(os, "setuid"), reason="left out: needs permissions as POSIX has them")
def test_a_folder_that_may_not_be_written_is_one_sentence(filled):
    with tempfile.TemporaryDirectory() as name:  # pytest's own folders are closed to others
        folder = Path(name, "terrace")
        shutil.copytree(filled.parent, folder)
        for path in (Path(name), folder, *folder.rglob("*")):
            path.chmod(
                stat.S_IRUSR | stat.S_IXUSR | stat.S_IRGRP | stat.S_IXGRP | stat.S_IROTH | stat.S_IXOTH
            )
        done = subprocess.run(
            [sys.executable, "-c", READ_ONLY, str(folder)], capture_output=True, text=True, check=False
        )
        for path in (Path(name), folder, *folder.rglob("*")):
            path.chmod(stat.S_IRWXU)
    assert done.returncode == 0, done.stderr
    assert done.stdout.count("\n") == 1
    assert "check the folder's permissions" in done.stdout


def test_an_old_sqlite_is_named(workspace, monkeypatch):
    monkeypatch.setattr(sqlite3, "sqlite_version_info", (3, 36, 0))
    with pytest.raises(RecordError, match=r"SQLite 3\.37"):
        Records.open(workspace)


def add_step(monkeypatch, *statements):
    steps = (*MIGRATIONS, statements)
    for module in (database, migrations):
        monkeypatch.setattr(module, "MIGRATIONS", steps)


def test_a_step_is_taken_once_in_one_transaction_and_the_old_file_kept_beside(filled, monkeypatch):
    with Records.open(filled.parent) as records:
        before = records.sweeps()
    add_step(
        monkeypatch, "CREATE TABLE later (id INTEGER PRIMARY KEY) STRICT", "INSERT INTO later VALUES (7)"
    )
    for _ in range(2):
        with Records.open(filled.parent) as records:
            assert records.sweeps() == before
            assert records.database.rows("SELECT id FROM later") == [(7,)]
            assert records.database.rows("PRAGMA user_version") == [(len(MIGRATIONS) + 1,)]
    copy = sqlite3.connect(f"{filled}.version-{len(MIGRATIONS)}")
    assert copy.execute("PRAGMA user_version").fetchone() == (len(MIGRATIONS),)
    assert copy.execute("SELECT count(*) FROM sweep").fetchone() == (15,)
    copy.close()


def test_a_step_that_fails_leaves_the_record_as_it_was(filled, monkeypatch):
    before = rows_of(filled.parent)
    add_step(
        monkeypatch, "CREATE TABLE later (id INTEGER PRIMARY KEY) STRICT", "INSERT INTO nowhere VALUES (7)"
    )
    with pytest.raises(sqlite3.OperationalError, match="nowhere"):  # a fault of ours is not hidden
        Database(filled)
    assert rows_of(filled.parent) == before
    link = sqlite3.connect(filled)
    assert link.execute("PRAGMA user_version").fetchone() == (len(MIGRATIONS),)
    link.close()


def test_the_mark_of_a_record_spells_ring():
    assert APPLICATION.to_bytes(4, "big") == b"Ring"
