# SPDX-License-Identifier: BSD-3-Clause
"""Solutions on the disk: as they were, whatever happened to the end of the file, and never those of another version."""

import json

import numpy as np
import pytest

from ringwright.choose.rings.finding import find_rings
from ringwright.desk.search_journal import JOURNALS_KEPT, SearchJournal, journal_folder
from ringwright.errors import StorageError
from tests.choose.rings.briefs import SMALL, brief

FEW = brief(SMALL, ('"20m", "17m"', '"20m"'), (', { diameter = "12 mm" }', ""), ('"3 m", 2', '"2 m", 1'))


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "searches"


def searched(folder):
    journal = SearchJournal.of(FEW, folder)
    found = find_rings(FEW, kept=journal)
    journal.close()
    return journal.path, found


def test_a_search_asked_again_finds_every_solution(folder):
    path, first = searched(folder)
    assert (first.kept, first.solutions) == (0, len(path.read_text().splitlines()))
    _, again = searched(folder)
    assert again.kept == again.solutions
    assert again.front == first.front
    assert again.candidates == first.candidates


def test_numbers_come_back_to_the_last_bit(folder):
    path, _ = searched(folder)
    journal = SearchJournal(path)
    line = json.loads(path.read_text().splitlines()[0])
    node = journal.get(line["key"])
    journal.close()
    assert node is not None
    assert node.outside.shape == (1, 2, 2)
    assert [*node.outside.real.ravel(), *node.outside.imag.ravel()] == line["outside"][1]
    assert np.isrealobj(node.ring)


def test_a_line_that_was_cut_off_costs_that_solution_only(folder):
    path, first = searched(folder)
    content = path.read_bytes()
    lines = content.splitlines(keepends=True)
    path.write_bytes(b"".join(lines[:-1]) + lines[-1][: len(lines[-1]) // 2])
    _, again = searched(folder)
    assert again.kept == again.solutions - 1
    assert again.front == first.front
    _, third = searched(folder)
    assert third.kept == third.solutions


@pytest.mark.parametrize("line", [b"\xff\xfe", b"[]", b"{}", b'{"v": 1, "key": 3}', b'{"v": 99, "key": "x"}'])
def test_what_is_no_solution_is_passed_over(folder, line):
    path, first = searched(folder)
    path.write_bytes(line + b"\n" + path.read_bytes())
    _, again = searched(folder)
    assert again.kept == first.solutions


def test_solutions_of_another_version_are_not_used(folder):
    path, _ = searched(folder)
    path.write_text(path.read_text().replace('{"v":1,', '{"v":0,'))
    _, again = searched(folder)
    assert again.kept == 0


def test_old_journals_go(folder):
    folder.mkdir()
    for number in range(JOURNALS_KEPT + 5):
        (folder / f"{number}.jsonl").write_text("")
    SearchJournal.of(FEW, folder).close()
    assert len(list(folder.iterdir())) == JOURNALS_KEPT


def test_a_folder_that_cannot_be_made_is_one_sentence(tmp_path):
    (tmp_path / "searches").write_text("a file")
    with pytest.raises(StorageError, match="solutions cannot be kept there"):
        SearchJournal.of(FEW, tmp_path / "searches")


def test_they_lie_in_the_workspace_or_in_the_cache(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setattr("sys.platform", "linux")
    assert journal_folder(None) == tmp_path / "ringwright" / "searches"
    assert journal_folder(tmp_path / "garden") == tmp_path / "garden" / "searches"
