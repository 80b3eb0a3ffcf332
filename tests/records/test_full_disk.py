# SPDX-License-Identifier: BSD-3-Clause
"""A full disk at each place where something is kept: one sentence, nothing lost, the old file whole; then it goes on.

The kernel itself refuses (`tests.full_disk`), at several sizes, so that a write fails at once, half-way, or late.
"""

from contextlib import closing
from datetime import UTC, datetime

import numpy as np
import pytest

from ringwright.air.files import Delivered, read_reports
from ringwright.choose.rings.node import Node
from ringwright.cli.files import write_bytes
from ringwright.desk.design_folder import DesignFolder
from ringwright.desk.search_journal import SearchJournal
from ringwright.errors import RecordError, StorageError
from ringwright.records.drive_files import keep_findings, read_findings
from ringwright.records.records import Records
from ringwright.records.tuning import TuningPairs
from ringwright.tuner.commission import Findings
from ringwright.tuner.journal import Kept, journal_line, read_journal
from ringwright.tuner.journal_file import JournalOnDisk
from tests.records.recording import add, integrity, point, rows_of, tuning

full_disk = pytest.importorskip(
    "tests.full_disk", reason="left out: needs limits as POSIX has them", exc_type=ImportError
)
SIZES = [0, 300, 20_000]
REPORTS = "time,frequency_mhz,receiver,locator,snr_db,power_w,antenna\n" + "".join(
    f"2026-05-01T12:{k // 60:02}:{k % 60:02}Z,7.0386,QX1A{chr(65 + k % 26)},JJ{k % 90 + 10}aa,-12,5,ring\n"
    for k in range(600)
)


def one_sentence(error):
    text = str(error.value)
    return "\n" not in text and ("make room" in text or "File too large" in text)


def add_reports(records):
    now = datetime(2026, 6, 1, tzinfo=UTC)
    records.add_reports(read_reports([Delivered("a.csv", REPORTS.encode())], now=now).reports)


RECORDING = {
    "a sweep": lambda records: add(records, b"1 2 3\n" * 6_000),
    "a tuning": lambda records: [records.add_tuning(tuning(days=k), design="x" * 9_000) for k in range(9)],
    "a report": add_reports,
    "a tuning table": lambda records: records.keep_table(
        "octagon", TuningPairs(points=tuple(point(k, 7e6 + k) for k in range(400)), site="home")
    ),
}


@pytest.mark.parametrize("keep", RECORDING.values(), ids=RECORDING)
@pytest.mark.parametrize("size", SIZES)
def test_a_record_stays_as_it_was_and_goes_on_when_there_is_room(workspace, keep, size):
    with Records.open(workspace) as records:
        add(records, b"first", days=-1)
    before = rows_of(workspace)
    with Records.open(workspace) as records:
        with (
            full_disk.no_file_beyond(size),
            pytest.raises((RecordError, StorageError)) as error,
            records.writing(),
        ):
            keep(records)
        assert one_sentence(error)
        assert rows_of(workspace) == before
        assert [path.name for path in (workspace / "sweeps").iterdir()] == ["sweep.s1p"]
        keep(records)
    assert integrity(workspace) == "ok"
    assert rows_of(workspace) != before


@pytest.mark.parametrize("size", [0, 10])
def test_a_design_stays_as_it_was(tmp_path, size):
    folder = DesignFolder(tmp_path)
    folder.write("ring", "old text, whole", over=None)
    with (
        full_disk.no_file_beyond(size),
        pytest.raises(StorageError, match="the old text is untouched") as error,
    ):
        folder.write("ring", "new text, longer than the old one", over="old text, whole")
    assert one_sentence(error)
    assert [(path.name, path.read_text()) for path in (tmp_path / "designs").iterdir()] == [
        ("ring.toml", "old text, whole")
    ]


@pytest.mark.parametrize("room", [0, 10])
def test_the_tuners_journal_keeps_every_line_that_it_kept(tmp_path, room):
    path = tmp_path / "position.journal"
    with closing(JournalOnDisk(path)) as journal:
        for number in range(1, 4):
            journal.append(journal_line(Kept(number, True, None, 1), number))
        before = path.read_bytes()
        with full_disk.no_file_beyond(len(before) + room), pytest.raises(StorageError) as error:
            journal.append(journal_line(Kept(4, True, None, 1), 4))
        assert one_sentence(error)
        assert path.read_bytes() == before
        journal.append(journal_line(Kept(4, True, None, 1), 4))
    found = read_journal(path.read_bytes())
    assert (found.is_whole, found.number) == (True, 4)


ONES = np.ones((1, 2, 2))
NODE = Node(
    outside=ONES.astype(np.complex128),
    ring=ONES,
    coupling=ONES,
    joints=ONES,
    sky=ONES,
    metal=ONES,
    fields=ONES,
)


@pytest.mark.parametrize("room", [0, 40])
def test_the_searchs_journal_keeps_every_solution_that_it_kept(tmp_path, room):
    path = tmp_path / "searches" / "a.jsonl"
    with closing(SearchJournal(path)) as journal:
        journal.put("first", NODE)
        size = path.stat().st_size
        with full_disk.no_file_beyond(size + room), pytest.raises(StorageError) as error:
            journal.put("second", NODE)
        assert one_sentence(error)
    with closing(SearchJournal(path)) as journal:
        assert journal.get("first") is not None
        assert journal.get("second") is None
        journal.put("third", NODE)
    with closing(SearchJournal(path)) as journal:
        assert journal.get("third") is not None


@pytest.mark.parametrize("size", [0, 5_000])
def test_a_sheet_or_another_file_that_a_verb_writes_stays_as_it_was(tmp_path, size):
    sheet = tmp_path / "sheet.pdf"
    write_bytes(sheet, b"%PDF-old")
    with (
        full_disk.no_file_beyond(size),
        pytest.raises(StorageError, match="make room and try again") as error,
    ):
        write_bytes(sheet, b"%PDF-new" * 2_000)
    assert one_sentence(error)
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("sheet.pdf", b"%PDF-old")]


def test_what_was_found_of_a_drive_stays_as_it_was(workspace):
    keep_findings(workspace, "octagon", Findings(travel=128_000, slack=5))
    with full_disk.no_file_beyond(20), pytest.raises(StorageError) as error:
        keep_findings(workspace, "octagon", Findings(travel=128_000, slack=9))
    assert one_sentence(error)
    assert read_findings(workspace, "octagon", travel=128_000).slack == 5
