# SPDX-License-Identifier: BSD-3-Clause
"""The record as the faces ask for it: one line of all that happened, sweeps kept as judged, copies out and in."""

import os
from datetime import UTC, datetime, timedelta

import pytest

from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from ringwright.desk.design_folder import etag_of
from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.desk.proving import Delivered
from ringwright.desk.record_keeping import Labels, readings_file
from ringwright.desk.record_line import LANES
from ringwright.errors import DesignError, NoSuchEntryError, RecordEntryError, RecordFileError
from ringwright.proof.files import parse_sweep
from ringwright.proof.readings import parse_readings
from ringwright.proof.resonance_fit import fit_resonance
from ringwright.records.entries import NoteKind
from ringwright.records.records import Records
from ringwright.records.report_rows import reports_of
from ringwright.records.tuning import Found, Outcome, Tuning
from tests.desk.test_proving import DAMAGED, FREE, GOOD, GOOD_FILE
from tests.records.recording import START, add

TERRACE = shipped_text(TERRACE_OCTAGON)
DRAFT = Draft(base=Base(text=TERRACE), edits=FREE)
READINGS = "7.08 MHz 5.1; 7.09 MHz 2.60; 7.095 MHz 1.6; 7.1 MHz 1.3; 7.105 MHz 1.9; 7.11 MHz 3"


@pytest.fixture
def desk(tmp_path):
    return Desk(tmp_path)


@pytest.fixture
def kept(desk):
    """A workspace with one sweep kept of a draft."""
    desk.keep(DRAFT, [GOOD], Labels(build="as built", measured_at=START))
    return desk


def at(days):
    return START + timedelta(days=days)


def line_of(desk):
    return [(entry.kind, entry.title, entry.at) for entry in desk.record.line().entries]


def test_a_look_at_an_empty_folder_begins_no_record(desk):
    line = desk.record.line()
    assert (line.entries, line.bands, line.builds, line.lost) == ((), (), (), ())
    assert desk.record.count() == 0
    for ask in (
        lambda: desk.record.trend("40m"),
        lambda: desk.record.compare(at(0), at(1)),
        lambda: desk.record.packed().__enter__(),
        lambda: desk.record.design_text("0" * 64),
    ):
        with pytest.raises(NoSuchEntryError, match="nothing is recorded yet"):
            ask()
    assert list(desk.folder.workspace.iterdir()) == []


def test_a_sweep_is_kept_with_the_text_it_was_set_against_and_what_the_person_says(desk):
    labels = Labels(build="as built", temperature=4.0, note="dry", measured_at=START)
    (kept,) = desk.keep(DRAFT, [GOOD], labels)
    assert (kept.name, kept.number, kept.file, kept.is_new) == ("good.s1p", 1, "good.s1p", True)
    (entry,) = (one for one in desk.record.line().entries if one.kind == "sweep")
    assert entry.sweep is not None
    assert (entry.at, entry.band, entry.build, entry.words) == (START, "40m", "as built", "dry")
    assert entry.sweep.temperature == 4.0
    # Chosen in tests.desk.test_proving, seven digits and no noise.
    assert entry.sweep.result.q_unloaded.value == pytest.approx(500.0, rel=1e-3, abs=0)
    text = desk.record.design_text(entry.designs[0])
    assert 'earth = "free space"' in text
    assert text != TERRACE
    assert (desk.folder.workspace / "sweeps" / "good.s1p").read_bytes() == GOOD_FILE
    assert not desk.keep(DRAFT, [GOOD], labels)[0].is_new


def test_what_cannot_be_judged_says_so_and_the_rest_is_kept(desk):
    bad, good = desk.keep(DRAFT, [DAMAGED, GOOD], Labels())
    assert bad.number is None
    assert bad.problem.startswith("damaged.s1p:2:")
    assert good.number == 1


@pytest.mark.parametrize(
    "said",
    [{"build": "7"}, {"temperature": 500.0}, {"note": "\x00"}, {"measured_at": datetime(2026, 5, 1)}],  # noqa: DTZ001 -- no zone
)
def test_a_label_that_cannot_be_kept_is_refused_before_anything_is_done(said):
    with pytest.raises(RecordEntryError):
        Labels(**said)


def test_a_draft_that_makes_no_design_keeps_nothing(desk):
    with pytest.raises(DesignError):
        desk.keep(Draft(base=Base(text=TERRACE), edits={"ring.perimeter": "0 m"}), [GOOD], Labels())
    assert not desk.record.file.exists()


def test_moments_are_the_person_s_else_the_file_s_else_now(desk):
    folder = desk.folder.workspace / "sweeps"
    folder.mkdir()
    (folder / "old.s1p").write_bytes(GOOD_FILE.replace(b"# Hz", b"! old\n# Hz"))
    os.utime(folder / "old.s1p", (at(-3).timestamp(),) * 2)
    dated = Delivered(name="dated.s1p", content=GOOD_FILE + b"! dated\n", measured_at=at(-2))
    desk.keep(DRAFT, [Delivered(name="old.s1p", content=None), dated, GOOD], Labels())
    found = {entry.title: entry.at for entry in desk.record.line().entries if entry.kind == "sweep"}
    assert (found["old.s1p"], found["dated.s1p"]) == (at(-3), at(-2))
    assert abs(datetime.now(UTC) - found["good.s1p"]) < timedelta(minutes=5)


def test_typed_readings_become_a_table_that_says_the_same(desk):
    readings = Delivered(name="readings 1", content=READINGS.encode(), is_readings=True)
    (kept,) = desk.keep(DRAFT, [readings], Labels(measured_at=START))
    assert kept.file == "40m readings.csv"
    content = (desk.folder.workspace / "sweeps" / kept.file).read_bytes()
    assert b"7.09,2.60\n" in content
    typed, read = parse_readings(READINGS), parse_sweep(content, source=kept.file)
    assert fit_resonance(read).q_unloaded.value == pytest.approx(
        fit_resonance(typed).q_unloaded.value, rel=1e-9, abs=0
    )
    assert readings_file(typed, None) == ("readings.csv", content)


def test_the_line_has_designs_sweeps_and_notes_in_the_order_in_which_they_happened(kept):
    kept.folder.write("terrace", TERRACE, over=None)
    path = kept.folder.workspace / "designs" / "terrace.toml"
    os.utime(path, (at(9).timestamp(),) * 2)
    kept.record.add_note("joint 5 remade", at=at(5), kind=NoteKind.JOINT)
    kept.keep(
        Draft(base=Base(text=TERRACE), edits=FREE | {"ring.joints": 4}),
        [Delivered(name="after.s1p", content=GOOD_FILE + b"! after\n")],
        Labels(build="four joints", measured_at=at(7)),
    )
    assert line_of(kept) == [
        ("design", "Terrace octagon", START), ("sweep", "good.s1p", START), ("note", "joint", at(5)),
        ("design", "Terrace octagon", at(7)), ("sweep", "after.s1p", at(7)), ("design", "Terrace octagon", at(9)),
    ]  # fmt: skip
    line = kept.record.line()
    assert (line.bands, line.builds) == (("40m",), ("as built", "four joints"))
    first, second, third = (entry for entry in line.entries if entry.kind == "design")
    assert [(change.key, change.before, change.after) for change in second.changes] == [
        ("ring.joints", "8", "4")
    ]
    assert first.words.endswith("no file of designs/ has this text any more")
    assert third.words == "last written then, no sweep set against it; designs/terrace.toml"
    assert {change.key for change in third.changes} >= {"site.earth", "ring.joints"}
    assert third.designs == (etag_of(TERRACE),)
    assert kept.record.design_text(etag_of(TERRACE)) == TERRACE
    assert [entry.changes_ring for entry in line.entries if entry.kind == "note"] == [True]


def test_a_tuning_stands_on_the_line_with_what_it_found(kept):
    found = Found(expected=1200.0, position=1210, swr=1.234, words="first guess held")
    tuning = Tuning(
        at=at(3), table="terrace", band="40m", frequency=7.1e6, outcome=Outcome.TUNED, found=found
    )
    with Records.open(kept.folder.workspace) as records:
        records.add_tuning(tuning, design=TERRACE)
    (entry,) = (entry for entry in kept.record.line().entries if entry.kind == "tuning")
    assert (entry.key, entry.at, entry.band, entry.mark) == ("tuning 1", at(3), "40m", "tuned")
    assert entry.title == "7.1 MHz tuned"
    assert entry.words == "SWR 1.23; first guess held; tuning table terrace"
    assert entry.designs == (etag_of(TERRACE),)


def test_reports_stand_on_the_line_in_heaps_of_a_day_and_a_band(kept):
    rows = [  # at, frequency, band, receiver
        ("2026-05-04T08:00:10Z", 7.1e6, "40m", "QX1A"), ("2026-05-04T07:00:00Z", 7.1e6, "40m", "QX1A"),
        ("2026-05-04T23:59:59Z", 7.1e6, "40m", "QX2B"), ("2026-05-04T09:00:00Z", 10.1e6, "30m", "QX2B"),
        ("2026-05-05T00:00:00Z", 7.1e6, "40m", "QX1A"),
    ]  # fmt: skip
    told = [(*row, None, None, None, -12.0, 5.0, "", "", 1, "") for row in rows]
    with Records.open(kept.folder.workspace) as records:
        assert records.add_reports(reports_of(told)) == 5
    found = [entry for entry in kept.record.line().entries if entry.kind == "report"]
    assert [(entry.key, entry.title, entry.words) for entry in found] == [
        ("report 2026-05-04 40m", "3 reports on 40m", "of 2 stations"),
        ("report 2026-05-04 30m", "1 report on 30m", "of 1 station"),
        ("report 2026-05-05 40m", "1 report on 40m", "of 1 station"),
    ]
    assert found[0].at == datetime(2026, 5, 4, 7, tzinfo=UTC)


def test_every_lane_is_named_once():
    assert len({lane.kind for lane in LANES}) == len(LANES)
    assert all(lane.heading for lane in LANES)


def test_a_lost_original_is_named(kept):
    (kept.folder.workspace / "sweeps" / "good.s1p").unlink()
    line = kept.record.line()
    assert line.lost == ("good.s1p",)
    assert [entry.is_lost for entry in line.entries if entry.kind == "sweep"] == [True]


def test_a_copy_rebuilds_the_record_and_a_trial_changes_nothing(kept, tmp_path_factory):
    kept.record.add_note("box opened", at=None, kind=NoteKind.BOX)
    with kept.record.packed() as archive:
        assert archive.name.startswith(f"{kept.name}-record-")
        content = archive.read_bytes()
    assert not archive.exists()
    other = Desk(tmp_path_factory.mktemp("other"))
    trial = other.record.take_in(content, is_trial=True)
    assert (trial.sweeps, trial.notes) == (1, 1)
    assert list(other.folder.workspace.iterdir()) == []
    assert other.record.take_in(content, is_trial=False) == trial
    assert line_of(other) == line_of(kept)
    before = kept.record.count()
    assert kept.record.take_in(content, is_trial=True).notes == 0
    kept.record.take_in(content, is_trial=False)
    assert kept.record.count() == before
    with pytest.raises(RecordFileError, match="cannot be unpacked"):
        kept.record.take_in(b"nothing", is_trial=True)


def test_two_moments_and_a_trend_come_from_the_record(desk):
    with desk.record._writable() as records:
        for day, q in enumerate((400.0, 404.0, 398.0, 402.0, 401.0, 610.0)):
            add(records, b"%d" % day, days=day, q=q, build="remade" if q > 600 else "as built")
    comparison = desk.record.compare(at(0), at(5))
    assert comparison.has_changed
    (change,) = comparison.comparison.bands
    assert change.ratio.value == pytest.approx(610.0 / 401.0, rel=2e-3, abs=0)
    assert desk.record.trend("40m").lines_from[0].build == "remade"


def test_the_count_grows_with_whatever_is_new(kept):
    before = kept.record.count()
    kept.record.add_note("rain", at=at(1), kind=NoteKind.RAIN)
    assert kept.record.count() == before + 1
