# SPDX-License-Identifier: BSD-3-Clause
"""A record that an earlier program wrote is brought up to date with nothing lost (tests/records/old/make.py)."""

import re
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from ringwright.records.migrations import MIGRATIONS
from ringwright.records.records import Records
from tests.records.recording import add, integrity, tuning

OLD = Path(__file__).parent / "old"
VERSIONS = range(1, len(MIGRATIONS))


def everything(path):
    """Every row of every table, and the statements that made them, read without our code."""
    with closing(sqlite3.connect(path)) as link:
        made = link.execute("SELECT name, type, sql FROM sqlite_master WHERE sql IS NOT NULL").fetchall()
        rows = {
            name: link.execute(f"SELECT * FROM {name} ORDER BY 1, 2").fetchall()
            for name, kind, _ in made
            if kind == "table"
        }
        return rows, {name: sql for name, _, sql in made}


@pytest.fixture(params=VERSIONS, ids=lambda version: f"version {version}")
def old(request, workspace):
    text = (OLD / f"version-{request.param}.sql").read_text(encoding="utf-8")
    with closing(sqlite3.connect(workspace / "records.sqlite")) as link:
        link.executescript(text)
    return request.param, workspace


def test_every_version_but_the_newest_is_kept_here():
    assert {path.name for path in OLD.glob("*.sql")} == {f"version-{version}.sql" for version in VERSIONS}


def test_an_old_record_is_brought_up_to_date_with_nothing_lost(old):
    version, workspace = old
    path = workspace / "records.sqlite"
    rows, statements = everything(path)
    assert len(rows["sweep"]) == 3
    assert ("tuning_pair" in rows) == (version >= 2)
    with Records.open(workspace) as records:
        assert [sweep.note for sweep in records.sweeps()] == ["", "after the rain", "after the rain"]
        assert [sweep.temperature for sweep in records.sweeps()] == [None, 18.5, 18.5]
        assert {(flag.code, flag.text) for sweep in records.sweeps() for flag in sweep.result.flags} == {
            ("few_points", "4 points lie in the dip")
        }
        assert len(records.tunings()) == (version >= 2)
        assert [point.position for point in records.table("octagon").points] == [9_000, 8_999, 8_998][
            : 3 * (version >= 2)
        ]
        assert records.database.rows("PRAGMA user_version") == [(len(MIGRATIONS),)]
    now, made = everything(path)
    assert {name: now[name] for name in rows} == rows
    assert {name: made[name] for name in statements} == statements
    assert integrity(workspace) == "ok"


def test_the_old_file_is_kept_beside_and_the_new_one_is_written_on(old):
    version, workspace = old
    before = everything(workspace / "records.sqlite")
    with Records.open(workspace) as records:
        add(records, b"new", days=9)
        records.add_tuning(tuning(days=9), design="format = 1\n")
        assert len(records.sweeps()) == 4
    assert everything(workspace / f"records.sqlite.version-{version}") == before


def test_a_statement_that_was_ever_released_is_never_changed():
    newest, _ = max((int(re.findall(r"\d+", path.name)[0]), path) for path in OLD.glob("*.sql"))
    with closing(sqlite3.connect(":memory:")) as link:
        link.executescript((OLD / f"version-{newest}.sql").read_text(encoding="utf-8"))
        released = {sql for (sql,) in link.execute("SELECT sql FROM sqlite_master WHERE sql IS NOT NULL")}
    assert released == {statement for step in MIGRATIONS[:newest] for statement in step}
