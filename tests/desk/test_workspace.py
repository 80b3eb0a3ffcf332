# SPDX-License-Identifier: BSD-3-Clause
import errno
from pathlib import Path

import pytest

from ringwright.antenna.design import Design
from ringwright.desk.workspace import FOLDERS, write_workspace
from ringwright.errors import StorageError, WorkspaceError


def test_a_new_workspace_has_its_folders_and_a_design_that_reads(tmp_path):
    design = write_workspace(tmp_path / "ring")
    assert sorted(p.name for p in (tmp_path / "ring").iterdir()) == sorted(FOLDERS)
    assert Design.load(design).name == "First ring"


def test_an_empty_folder_becomes_a_workspace(tmp_path):
    assert write_workspace(tmp_path).is_file()


def test_a_folder_with_anything_in_it_is_left_alone(tmp_path):
    (tmp_path / "mine.txt").write_text("keep")
    with pytest.raises(WorkspaceError, match="not empty"):
        write_workspace(tmp_path)
    assert [p.name for p in tmp_path.iterdir()] == ["mine.txt"]


def test_a_workspace_is_not_written_twice(tmp_path):
    design = write_workspace(tmp_path)
    design.write_text("edited")
    with pytest.raises(WorkspaceError, match="not empty"):
        write_workspace(tmp_path)
    assert design.read_text() == "edited"


def test_a_file_is_no_workspace(tmp_path):
    (tmp_path / "file").write_text("")
    for name in ("file", "file/below", "nul\0byte"):
        with pytest.raises(WorkspaceError, match="name a new folder"):
            write_workspace(tmp_path / name)


def test_a_full_disk_is_told_apart_from_a_wrong_name(tmp_path, monkeypatch):
    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "mkdir", full)
    with pytest.raises(StorageError, match="No space left"):
        write_workspace(tmp_path / "ring")
