# SPDX-License-Identifier: BSD-3-Clause
"""A file is there whole, as it was or as it shall be: with a full disk, a killed process, two at once."""

import os
import stat
import time
from concurrent.futures import ThreadPoolExecutor

import pytest

from ringwright.disk import ABANDONED, add_file, is_unfinished, replace_file

full_disk = pytest.importorskip(
    "tests.full_disk", reason="left out: needs limits as POSIX has them", exc_type=ImportError
)


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def test_a_file_is_replaced_and_keeps_its_permissions(tmp_path):
    path = tmp_path / "sheet.pdf"
    replace_file(path, b"old")
    path.chmod(stat.S_IRUSR | stat.S_IWUSR | stat.S_IRGRP)
    replace_file(path, b"new")
    assert path.read_bytes() == b"new"
    assert stat.S_IMODE(path.stat().st_mode) == stat.S_IRUSR | stat.S_IWUSR | stat.S_IRGRP
    assert names(tmp_path) == ["sheet.pdf"]


def test_what_a_link_leads_to_is_replaced_and_the_link_stays(tmp_path):
    (tmp_path / "true").write_bytes(b"old")
    (tmp_path / "link").symlink_to(tmp_path / "true")
    replace_file(tmp_path / "link", b"new")
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "true").read_bytes() == b"new"


@pytest.mark.parametrize("write", [replace_file, add_file])
@pytest.mark.parametrize("room", [0, 1, 4_000])
def test_a_full_disk_leaves_what_was_there_and_nothing_beside_it(tmp_path, write, room):
    old = tmp_path / "old"
    old.write_bytes(b"as it was")
    path = old if write is replace_file else tmp_path / "new"
    with full_disk.no_file_beyond(room), pytest.raises(OSError, match="File too large"):
        write(path, b"x" * 5_000)
    assert old.read_bytes() == b"as it was"
    assert names(tmp_path) == ["old"]


def test_a_new_file_takes_nobodys_place(tmp_path):
    add_file(tmp_path / "layer", b"first")
    with pytest.raises(FileExistsError):
        add_file(tmp_path / "layer", b"second")
    assert (tmp_path / "layer").read_bytes() == b"first"


def test_without_second_names_a_new_file_takes_nobodys_place_either(tmp_path, monkeypatch):
    def refuses(*_):
        raise PermissionError(1, "Operation not permitted")  # as vfat says

    monkeypatch.setattr(os, "link", refuses)
    add_file(tmp_path / "layer", b"first")
    with pytest.raises(FileExistsError):
        add_file(tmp_path / "layer", b"second")
    assert (tmp_path / "layer").read_bytes() == b"first"
    assert names(tmp_path) == ["layer"]


def test_of_many_at_once_one_makes_the_new_file_and_all_others_are_told(tmp_path):
    def attempt(number):
        try:
            add_file(tmp_path / "layer", b"%d" % number * 2_000)
        except FileExistsError:
            return None
        return number

    with ThreadPoolExecutor(8) as many:
        (winner,) = [made for made in many.map(attempt, range(8)) if made is not None]
    assert (tmp_path / "layer").read_bytes() == b"%d" % winner * 2_000
    assert names(tmp_path) == ["layer"]


def test_what_a_killed_process_left_goes_after_a_while_and_what_is_being_written_stays(tmp_path):
    old, young = tmp_path / ".ringwright-0123.unfinished", tmp_path / ".ringwright-4567.unfinished"
    for left in (old, young):
        left.write_bytes(b"half")
        assert is_unfinished(left.name)
    long_ago = time.time() - ABANDONED - 60.0
    os.utime(old, (long_ago, long_ago))
    replace_file(tmp_path / "a", b"whole")
    assert names(tmp_path) == [young.name, "a"]
    assert not is_unfinished("a")
