# SPDX-License-Identifier: BSD-3-Clause
"""Files changed by whoever are told of once; files only touched are not."""

import os

import pytest

from ringwright.desk.design_folder import DesignFolder, etag_of
from ringwright.desk.watch import DesignWatch, FileChange


@pytest.fixture
def folder(tmp_path):
    folder = DesignFolder(tmp_path)
    folder.write("ring", "a = 1", over=None)
    return folder


def path_of(folder, name):
    return folder.workspace / "designs" / f"{name}.toml"


def test_what_is_there_at_first_is_no_change(folder):
    assert DesignWatch(folder).look() == []


def test_new_changed_and_removed_files_are_told_of_once(folder):
    watch = DesignWatch(folder)
    path_of(folder, "ring").write_text("a = 2")
    path_of(folder, "new").write_text("b = 1")
    assert watch.look() == [FileChange("new", etag_of("b = 1")), FileChange("ring", etag_of("a = 2"))]
    assert watch.look() == []
    path_of(folder, "new").unlink()
    assert watch.look() == [FileChange("new", None)]
    assert watch.look() == []
    path_of(folder, "new").write_text("b = 1")
    assert watch.look() == [FileChange("new", etag_of("b = 1"))]


def test_a_file_put_in_place_by_a_rename_is_seen_even_with_the_old_size_and_time(folder, tmp_path):
    watch = DesignWatch(folder)
    path = path_of(folder, "ring")
    status = path.stat()
    other = tmp_path / "other"
    other.write_text("a = 9")
    os.utime(other, ns=(status.st_atime_ns, status.st_mtime_ns))
    other.replace(path)
    assert watch.look() == [FileChange("ring", etag_of("a = 9"))]


def test_a_touched_file_has_not_changed(folder):
    watch = DesignWatch(folder)
    os.utime(path_of(folder, "ring"), (1, 1))
    assert watch.look() == []


def test_a_file_that_cannot_be_read_now_is_told_of_without_an_etag(folder):
    watch = DesignWatch(folder)
    path_of(folder, "ring").write_bytes(b"\xff\xff\xff")
    assert watch.look() == [FileChange("ring", None)]
    path_of(folder, "ring").write_text("a = 1")
    assert watch.look() == [FileChange("ring", etag_of("a = 1"))]
