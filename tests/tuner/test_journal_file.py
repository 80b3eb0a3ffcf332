# SPDX-License-Identifier: BSD-3-Clause
import os
from contextlib import closing

import pytest

from ringwright.errors import StorageError
from ringwright.tuner.journal import Kept, journal_line, read_journal
from ringwright.tuner.journal_file import LONGEST_FILE, JournalOnDisk

HERE, THERE = Kept(120, True, None, 3), Kept(120, True, 900, 3)


def test_what_is_appended_is_read_by_the_next(tmp_path):
    path = tmp_path / "position.journal"
    with closing(JournalOnDisk(path)) as journal:
        assert journal.read() == b""
        journal.append(journal_line(HERE, 1))
        journal.append(journal_line(THERE, 2))
    with closing(JournalOnDisk(path)) as journal:
        assert read_journal(journal.read()).kept == THERE


def test_a_line_is_on_the_disk_before_append_returns(tmp_path, monkeypatch):
    path = tmp_path / "position.journal"
    on_disk: list[bytes] = []
    monkeypatch.setattr(os, "fsync", lambda _: on_disk.append(path.read_bytes()))
    with closing(JournalOnDisk(path)) as journal:
        journal.append(journal_line(HERE, 1))
        assert on_disk == [journal_line(HERE, 1)]


@pytest.mark.parametrize("cut", range(len(journal_line(THERE, 2))))
def test_power_cut_at_any_byte_and_then_more_lines(tmp_path, cut):
    path = tmp_path / "position.journal"
    path.write_bytes(journal_line(HERE, 1) + journal_line(THERE, 2)[:cut])
    with closing(JournalOnDisk(path)) as journal:
        found = read_journal(journal.read())
        assert (found.kept, found.number, found.is_whole) == (HERE, 1, True)
        journal.append(journal_line(THERE, 2))
        found = read_journal(journal.read())
        assert (found.kept, found.is_whole) == (THERE, True)


def test_damage_is_doubt_and_stays_doubt_over_restarts(tmp_path):
    path = tmp_path / "position.journal"
    path.write_bytes(b"?" + journal_line(HERE, 1) + journal_line(HERE, 2))
    for _ in range(2):
        with closing(JournalOnDisk(path)) as journal:
            kept = read_journal(journal.read()).kept
        assert kept == Kept(HERE.at, False, None, HERE.boots)


def test_a_long_file_is_begun_anew_with_its_last_line(tmp_path):
    path = tmp_path / "position.journal"
    lines = b"".join(journal_line(HERE, number) for number in range(1, 14_000))
    assert len(lines) > LONGEST_FILE
    path.write_bytes(lines)
    with closing(JournalOnDisk(path)) as journal:
        assert journal.read() == journal_line(HERE, 13_999)


def test_a_journal_that_cannot_be_opened_is_one_sentence(tmp_path):
    with pytest.raises(StorageError, match="position journal cannot be opened"):
        JournalOnDisk(tmp_path / "absent" / "position.journal")
