# SPDX-License-Identifier: BSD-3-Clause
"""Names stay inside the workspace, and a file is the old text or the new one, whatever happens to the writer."""

import errno
import os
import subprocess
import sys
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.desk import design_folder
from ringwright.desk.design_folder import ABANDONED, DesignFolder, FileChangedMeanwhileError, etag_of
from ringwright.errors import (
    DesignFileError,
    NameRefusedError,
    NoSuchDesignError,
    StorageError,
    WorkspaceError,
)

ESCAPES = [
    "..", ".", "", " ", "../secret", "a/../../secret", "/etc/passwd", "\\\\host\\share", "..\\secret", "C:evil", "a/b",
    "a\\b", "a\0b", "a\nb", ".hidden", "ends.", "ends ", "-dash", "x" * 81, "nul", "CON", "Com1.txt", "aux .b", "a:b",
    "a%2e", "e\N{COMBINING ACUTE ACCENT}", "a\N{RIGHT-TO-LEFT OVERRIDE}b", "*", "a?b", "~root", "$HOME", "`id`",
]  # fmt: skip


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "secret.toml").write_text("secret = true")
    workspace = tmp_path / "workspace"
    workspace.mkdir()
    return DesignFolder(workspace)


@pytest.mark.parametrize("name", ESCAPES)
def test_a_name_that_is_no_plain_name_is_refused(folder, name):
    for act in (folder.read, lambda n: folder.write(n, "x = 1", over=None)):
        with pytest.raises(NameRefusedError, match="cannot be a design's name"):
            act(name)
    assert not list(folder.workspace.rglob("*"))


@given(st.text(max_size=100))
def test_no_name_at_all_leads_out_of_the_folder(tmp_path_factory, name):
    folder = DesignFolder(tmp_path_factory.getbasetemp())
    try:
        path = folder._path(name)
    except NameRefusedError:
        return
    assert path.parent == folder.workspace / "designs"


@pytest.mark.parametrize("name", ["terrace", "Größe 2", "v1.2 (b)+c", "x" * 80, "7"])
def test_a_design_is_read_back_as_it_was_written(folder, name):
    folder.write(name, "a = 'ß'\r\n", over=None)
    assert folder.read(name) == "a = 'ß'\r\n"
    assert folder.names() == [name]


@pytest.mark.skipif(sys.platform == "win32", reason="left out: links need a privilege there")
def test_links_out_of_the_workspace_are_neither_listed_read_nor_written(folder):
    designs = folder.workspace / "designs"
    designs.mkdir()
    (designs / "linked.toml").symlink_to(folder.workspace.parent / "secret.toml")
    assert folder.names() == []
    with pytest.raises(NameRefusedError, match="leads out"):
        folder.read("linked")
    with pytest.raises(NameRefusedError, match="leads out"):
        folder.write("linked", "mine = 1", over="secret = true")
    assert (folder.workspace.parent / "secret.toml").read_text() == "secret = true"


@pytest.mark.skipif(sys.platform == "win32", reason="left out: links need a privilege there")
def test_a_folder_of_designs_that_is_a_link_out_is_refused(folder, tmp_path):
    (folder.workspace / "designs").symlink_to(tmp_path, target_is_directory=True)
    assert folder.names() == []
    with pytest.raises(NameRefusedError, match="leads out"):
        folder.write("new", "x = 1", over=None)
    assert not (tmp_path / "new.toml").exists()


def test_a_design_that_is_not_there_is_named(folder):
    with pytest.raises(NoSuchDesignError, match='"terrace"'):
        folder.read("terrace")


def test_what_is_no_text_or_no_file_is_refused_by_the_readers_own_sentence(folder):
    designs = folder.workspace / "designs"
    (designs / "folder.toml").mkdir(parents=True)
    (designs / "latin.toml").write_bytes(b"name = '\xe9'")
    for name, why in (("folder", "is a folder"), ("latin", "not UTF-8")):
        with pytest.raises(DesignFileError, match=f"^{name}.toml: .*{why}"):
            folder.read(name)


def test_a_folder_that_is_not_there_is_no_workspace(tmp_path):
    with pytest.raises(WorkspaceError, match="no such folder"):
        DesignFolder(tmp_path / "missing")


def test_a_design_file_is_no_workspace_and_the_sentence_says_where_it_goes(tmp_path):
    design = tmp_path / "attic.toml"
    design.write_text("format = 1\n", encoding="utf-8")
    with pytest.raises(WorkspaceError, match=r"is a file.*designs/"):
        DesignFolder(design)


@pytest.mark.parametrize("over", [None, "something else"])
def test_a_text_is_only_put_over_the_text_the_writer_knew(folder, over):
    folder.write("ring", "old = 1", over=None)
    with pytest.raises(FileChangedMeanwhileError):
        folder.write("ring", "new = 1", over=over)
    assert folder.read("ring") == "old = 1"
    assert [path.name for path in (folder.workspace / "designs").iterdir()] == ["ring.toml"]


def test_a_full_disk_leaves_the_old_text_and_nothing_else(folder, monkeypatch):
    folder.write("ring", "old = 1", over=None)

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(StorageError, match=r"ring.toml could not be saved \(No space left"):
        folder.write("ring", "new = 1", over="old = 1")
    assert folder.read("ring") == "old = 1"
    assert [path.name for path in (folder.workspace / "designs").iterdir()] == ["ring.toml"]


def test_two_writers_never_share_a_draft_and_a_dead_writers_draft_is_taken_over(folder, monkeypatch):
    monkeypatch.setattr(design_folder, "PATIENCE", 0.0)
    folder.write("ring", "old = 1", over=None)
    draft = folder.workspace / "designs" / ".ring.toml.saving"
    draft.write_text("half of")
    with pytest.raises(StorageError, match="another program is saving it; try again after 10 s"):
        folder.write("ring", "new = 1", over="old = 1")
    long_ago = time.time() - 2 * ABANDONED
    os.utime(draft, (long_ago, long_ago))
    folder.write("ring", "new = 1", over="old = 1")
    assert folder.read("ring") == "new = 1"
    assert folder.names() == ["ring"]


WRITER = """
import sys
from pathlib import Path
from ringwright.desk import design_folder
design_folder.ABANDONED = -1.0  # the next writer need not wait
folder = design_folder.DesignFolder(Path(sys.argv[1]))
now = folder.read("ring")
while True:
    for letter in "ab":
        text = letter * 200_000
        folder.write("ring", text, over=now)
        now = text
        print(letter, flush=True)
"""


def test_a_writer_killed_at_any_moment_leaves_one_whole_text(folder):
    folder.write("ring", "a" * 200_000, over=None)
    for delay in (0.0, 0.003, 0.007, 0.013, 0.021):
        writer = subprocess.Popen(
            [sys.executable, "-c", WRITER, str(folder.workspace)], stdout=subprocess.PIPE, text=True
        )
        assert writer.stdout is not None
        writer.stdout.readline()
        time.sleep(delay)
        writer.kill()
        writer.wait()
        writer.stdout.close()
        assert folder.read("ring") in ("a" * 200_000, "b" * 200_000)
        assert folder.names() == ["ring"]


@pytest.mark.skipif(sys.platform == "win32", reason="left out: permissions are another matter there")
def test_permissions_of_a_file_stay(folder):
    folder.write("ring", "old = 1", over=None)
    path = folder.workspace / "designs" / "ring.toml"
    path.chmod(0o600)
    folder.write("ring", "new = 1", over="old = 1")
    assert path.stat().st_mode & 0o777 == 0o600


def test_an_etag_is_the_hash_of_the_files_bytes(folder):
    # FIPS 180-4's example "abc", as printed by NIST.
    assert etag_of("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
