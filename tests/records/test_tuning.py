# SPDX-License-Identifier: BSD-3-Clause
"""Tunings and tuning tables in the record."""

import json
import sqlite3
from dataclasses import replace

import pytest

from ringwright.desk.tuning import twin_table_name
from ringwright.errors import RecordEntryError
from ringwright.records.migrations import MIGRATIONS
from ringwright.records.records import Records
from ringwright.records.tuning import Found, Outcome, TraceReading, TuningPairs
from tests.records.recording import DESIGN, START, add, point, rows_of, tuning


def test_a_tuning_comes_back_with_its_trace(records):
    added = records.add_tuning(tuning(), design=DESIGN)
    (kept,) = records.tunings()
    assert kept.number == added.number
    assert kept.tuning == tuning()
    assert records.design_text(kept.design) == DESIGN


def test_the_same_tuning_twice_is_one(records):
    first = records.add_tuning(tuning(), design=DESIGN)
    again = records.add_tuning(tuning(), design=DESIGN)
    assert first.is_new
    assert not again.is_new
    assert again.number == first.number
    assert records.add_tuning(tuning(outcome=Outcome.STOPPED), design=DESIGN).is_new


def test_tunings_come_in_order_of_time_and_by_band(records):
    for days in (2, 0, 1):
        records.add_tuning(tuning(days=days), design=DESIGN)
    records.add_tuning(replace(tuning(days=3), band=None), design=DESIGN)
    times = [kept.tuning.at for kept in records.tunings()]
    assert times == sorted(times)
    assert len(records.tunings(band="40m")) == 3
    assert records.tunings(band="80m") == ()


def test_a_tuning_table_is_kept_in_place_of_what_it_was(records):
    assert records.table("octagon") == TuningPairs(points=(), site="home")
    records.keep_table("octagon", TuningPairs(points=(point(), point(8_000, 7.5e6)), site="home"))
    records.keep_table("other", TuningPairs(points=(point(1, 9e6),), site="home"))
    later = TuningPairs(points=(point(8_000, 7.5e6),), site="garden")
    records.keep_table("octagon", later)
    assert records.table("octagon") == later
    assert records.table("other").points == (point(1, 9e6),)
    assert records.table_names() == ("octagon", "other")


def test_pairs_that_are_known_are_not_taken_in_twice(records, workspace, tmp_path):
    records.keep_table("octagon", TuningPairs(points=(point(), point(8_000, 7.5e6)), site="home"))
    records.export(tmp_path / "plain")
    records.keep_table(
        "octagon", TuningPairs(points=(point(8_000, 7.5e6), point(7_000, 7.9e6)), site="garden")
    )
    assert records.import_(tmp_path / "plain").tuning_pairs == 1
    table = records.table("octagon")
    assert table.points == (point(8_000, 7.5e6), point(7_000, 7.9e6), point())
    assert table.site == "garden"


def test_a_record_of_before_tunings_is_brought_up_to_date(records, workspace, tmp_path):
    add(records)
    records.close()
    path = workspace / "records.sqlite"
    link = sqlite3.connect(path)
    for table in ("report", "tuning_pair", "tuning_table", "tuning"):
        link.execute(f"DROP TABLE {table}")
    link.execute("PRAGMA user_version = 1")
    link.commit()
    link.close()
    with Records.open(workspace) as again:
        assert len(again.sweeps()) == 1
        again.add_tuning(tuning(), design=DESIGN)
        assert again.database.rows("PRAGMA user_version") == [(len(MIGRATIONS),)]
    assert path.with_name("records.sqlite.version-1").exists()


def test_an_export_of_before_tunings_is_taken_in(records, workspace, tmp_path):
    add(records)
    plain = tmp_path / "plain"
    records.export(plain)
    contents = json.loads((plain / "record.json").read_text(encoding="utf-8"))
    for name in ("tuning_tables", "tunings"):
        del contents[name]
        (plain / f"{name}.jsonl").unlink()
    (plain / "record.json").write_text(json.dumps(contents), encoding="utf-8")
    before = rows_of(workspace)
    assert records.import_(plain).sweeps == 0
    assert rows_of(workspace) == before


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: replace(tuning(), frequency=float("inf")),
        lambda: replace(tuning(), table=""),
        lambda: replace(tuning(), band="12"),
        lambda: replace(tuning(), at=START.replace(tzinfo=None)),
        lambda: Found(expected=float("nan")),
        lambda: Found(expected=1.0, swr=float("inf")),
        lambda: Found(expected=1.0, words="\x1b[2J"),
        lambda: Found(
            expected=1.0, trace=(TraceReading(after=0.0, position=1, reflection=0.0, forward=1.0),) * 3000
        ),
        lambda: TraceReading(after=-1.0, position=1, reflection=0.0, forward=1.0),
        lambda: Found.from_document({}),
        lambda: Found.from_document(Found(expected=1.0).to_document() | {"position_steps": 1.5}),
        lambda: Found.from_document(Found(expected=1.0).to_document() | {"trace": [[1, 2, 3]]}),
        lambda: Found.from_document(Found(expected=1.0).to_document() | {"trace": [[1, 2, 3, True]]}),
        lambda: Found.from_document(Found(expected=1.0).to_document() | {"words": 7}),
    ],
)
def test_what_no_tuning_can_be_is_one_sentence(wrong):
    with pytest.raises(RecordEntryError) as caught:
        wrong()
    assert "\n" not in str(caught.value)


def test_the_table_of_a_design_with_the_longest_name_is_kept(records):
    """A design file's name has up to 80 characters; a tuning must not fail on what its table is called."""
    name = twin_table_name("x" * 80)
    records.keep_table(name, TuningPairs(points=(point(),), site="terrace"))
    records.add_tuning(replace(tuning(), table=name), design=DESIGN)
    (kept,) = records.tunings()
    assert kept.tuning.table == name
    with pytest.raises(RecordEntryError, match="101 characters; write at most 100"):
        records.keep_table("x" * 101, TuningPairs(points=(point(),), site="terrace"))
