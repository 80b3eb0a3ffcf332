# SPDX-License-Identifier: BSD-3-Clause
"""An export as one archive: packed and unpacked it is the same record; nothing else gets out of an archive."""

import json
import zipfile

import pytest

from ringwright.errors import RecordFileError
from ringwright.records import archive
from ringwright.records.archive import pack, unpack
from ringwright.records.records import Records
from tests.records.recording import START, add, rows_of, workspace_in


@pytest.fixture
def packed(records, tmp_path):
    """The archive of a record with two sweeps, one of them lost."""
    add(records, b"1", name="a.s1p", build="as built")
    add(records, b"2", name="b.s1p", days=1)
    records.add_note("=SUM(1)", at=START)
    (records.workspace / "sweeps" / "b.s1p").unlink()
    records.export(tmp_path / "terrace-record")
    pack(tmp_path / "terrace-record", tmp_path / "record.zip")
    return tmp_path / "record.zip"


@pytest.fixture
def place(tmp_path):
    folder = tmp_path / "unpacked"
    folder.mkdir()
    return folder


def zipped(path, **files):
    with zipfile.ZipFile(path, "w") as made:
        for name, content in files.items():
            made.writestr(name, content)
    return path


def test_a_packed_export_rebuilds_the_record(records, packed, place, tmp_path):
    unpack(packed, place)
    again = workspace_in(tmp_path / "again")
    with Records.open(again) as rebuilt:
        found = rebuilt.would_import(place)
        assert rebuilt.count() == 0
        assert not list((again / "sweeps").iterdir())
        assert rebuilt.import_(place) == found
        assert rebuilt.would_import(place).sweeps == 0
        assert rebuilt.count() == records.count() == 6
    assert (found.sweeps, found.results, found.notes) == (2, 2, 1)
    assert rows_of(again) == rows_of(records.workspace)
    assert (again / "sweeps" / "a.s1p").read_bytes() == b"1"


def test_an_archive_without_the_folder_round_it_is_one_too(packed, place, tmp_path):
    with zipfile.ZipFile(packed) as source:
        flat = {name.partition("/")[2]: source.read(name) for name in source.namelist()}
    unpack(zipped(tmp_path / "flat.zip", **flat), place)
    assert json.loads((place / "record.json").read_text(encoding="utf-8"))["sweeps"] == 2


@pytest.mark.parametrize(
    "name",
    [
        "../evil",
        "/etc/evil",
        "x/../../evil",
        "sweeps/../evil",
        "sweeps/a/b",
        "a/b/c",
        "..\\evil",
        "C:evil",
        "con.txt",
    ],
)
def test_a_name_that_leads_elsewhere_takes_the_whole_archive_with_it(place, tmp_path, name):
    with pytest.raises(RecordFileError, match="is no export of a record"):
        unpack(zipped(tmp_path / "odd.zip", **{"record.json": b"{}", name: b"x"}), place)
    assert list(place.iterdir()) == []
    assert not (tmp_path / "evil").exists()


def test_what_is_no_archive_or_holds_nothing_gets_one_sentence(packed, place, tmp_path):
    (tmp_path / "text.zip").write_bytes(b"no zip")
    damaged = bytearray(packed.read_bytes())
    damaged[60] ^= 0xFF
    (tmp_path / "damaged.zip").write_bytes(damaged)
    zipped(tmp_path / "empty.zip")
    for name in ("text.zip", "damaged.zip", "empty.zip"):
        with pytest.raises(RecordFileError, match="the archive"):
            unpack(tmp_path / name, place)


def test_an_archive_that_swells_is_stopped(place, tmp_path, monkeypatch):
    monkeypatch.setattr(archive, "LARGEST_UNPACKED", 3_000_000)
    bomb = tmp_path / "bomb.zip"
    with zipfile.ZipFile(bomb, "w", compression=zipfile.ZIP_DEFLATED) as made:
        for number in range(4):
            made.writestr(f"{number}.jsonl", b"0" * 1_000_000)
    assert bomb.stat().st_size < 10_000
    with pytest.raises(RecordFileError, match="3 MB unpacked"):
        unpack(bomb, place)
    assert sum(path.stat().st_size for path in place.rglob("*") if path.is_file()) <= 3_000_000
