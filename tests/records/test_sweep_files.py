# SPDX-License-Identifier: BSD-3-Clause
"""Names of kept sweep files: safe on any system, leading nowhere, never over another file."""

import hashlib
import os
import unicodedata
from pathlib import PurePosixPath, PureWindowsPath

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ringwright.errors import StorageError
from ringwright.records.sweep_files import SweepFolder, safe_name


@pytest.mark.parametrize(
    ("name", "safe"),
    [
        ("sweep.s1p", "sweep.s1p"),
        ("../../etc/passwd", "passwd"),
        (r"C:\sweeps\..\40m.s1p", "40m.s1p"),
        ("a:b?c*.s1p", "a_b_c_.s1p"),
        ("..", "sweep"),
        ("", "sweep"),
        (".s1p", "s1p"),
        ("x.s1p. .", "x.s1p"),
        ("CON.s1p", "_CON.s1p"),
        ("com1", "_com1"),
        ("nul.tar.gz", "_nul.tar.gz"),
        ("a\x00b\n.csv", "a_b_.csv"),
        ("x" * 300 + ".s1p", "x" * 56 + ".s1p"),
        ("u\u0308ber.s1p", "\u00fcber.s1p"),  # NFC
        ("=cmd.csv", "_cmd.csv"),
    ],
)
def test_a_name_is_made_safe(name, safe):
    assert safe_name(name) == safe


@given(st.text(max_size=300))
def test_any_text_gives_a_name_that_any_system_takes(name):
    safe = safe_name(name)
    assert safe == safe_name(safe)
    assert 0 < len(safe.encode()) <= 255  # ext4, APFS (UTF-8); NTFS counts fewer
    assert unicodedata.is_normalized("NFC", safe)
    # The rules for Windows: learn.microsoft.com, "Naming Files, Paths, and Namespaces".
    assert not set(safe) & set('<>:"/\\|?*')
    assert all(ord(c) >= 32 for c in safe)
    assert not safe.endswith((".", " "))
    assert not safe.startswith((".", " "))
    assert safe.split(".")[0].strip().upper() not in {
        "CON",
        "PRN",
        "AUX",
        "NUL",
        "COM1",
        "COM9",
        "LPT1",
        "LPT9",
    }
    for path in (PurePosixPath(safe), PureWindowsPath(safe)):
        assert path.parts == (safe,)
        assert not path.is_absolute()


@settings(max_examples=30)  # each writes up to a dozen files to the disk
@given(
    st.lists(
        st.tuples(
            st.sampled_from(["a.s1p", "A.S1P", "b", "ä.s1p", "a\u0308.s1p", "x" * 80]), st.binary(max_size=3)
        ),
        max_size=12,
    )
)
def test_no_file_takes_anothers_place(tmp_path_factory, files):
    workspace = tmp_path_factory.mktemp("w")
    folder, kept = SweepFolder(workspace), {}
    for name, content in files:
        kept[folder.keep(content, name=name)] = content
    assert {path.name: path.read_bytes() for path in folder.folder.iterdir()} == kept if files else True
    assert len({name.casefold() for name in kept}) == len(kept)
    assert all(folder.holds(name, hashlib.sha256(content).hexdigest()) for name, content in kept.items())


def test_a_folder_or_a_dangling_link_in_the_way_is_left_alone(tmp_path):
    folder = SweepFolder(tmp_path)
    (folder.folder / "a.s1p").mkdir(parents=True)
    (folder.folder / "a-2.s1p").symlink_to(tmp_path / "elsewhere")
    assert folder.keep(b"x", name="a.s1p") == "a-3.s1p"
    assert not (tmp_path / "elsewhere").exists()


def test_a_disk_that_fails_leaves_no_half_file(tmp_path, monkeypatch):
    def fails(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", fails)
    folder = SweepFolder(tmp_path)
    with pytest.raises(StorageError, match="No space left"):
        folder.keep(b"x", name="a.s1p")
    assert list(folder.folder.iterdir()) == []


def test_a_folder_that_is_a_file_is_one_sentence(tmp_path):
    (tmp_path / "sweeps").write_text("no folder")
    with pytest.raises(StorageError, match="could not be written"):
        SweepFolder(tmp_path).keep(b"x", name="a.s1p")
