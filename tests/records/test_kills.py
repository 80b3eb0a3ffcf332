# SPDX-License-Identifier: BSD-3-Clause
"""A process killed while it records leaves a whole record; `python -m scripts.kill_records` does it more often."""

import hashlib
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from ringwright.records.records import Records
from scripts import kill_records
from tests.records.recording import workspace_in


@pytest.mark.skipif(
    not hasattr(os, "fork"), reason="left out: needs fork, to kill a hundred times in a short time"
)
def test_a_hundred_kills_leave_a_hundred_whole_records():
    # A kill is no power cut: what stands in memory survives it as well, and is written sooner.
    memory = {"TMPDIR": "/dev/shm"} if Path("/dev/shm").is_dir() else {}
    done = subprocess.run(
        [sys.executable, "-m", "scripts.kill_records", "100"],
        capture_output=True,
        text=True,
        check=False,
        env=os.environ | memory,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "100 kills" in done.stdout
    half_way = re.search(r"(\d+) in between", done.stdout)
    assert half_way, done.stdout
    assert int(half_way[1]) >= 5  # else the kills fell where nothing happens


def test_the_look_at_what_is_left_sees_what_is_wrong(tmp_path):
    def look(said=frozenset(), *, is_whole=False):
        return kill_records.complaints(workspace, set(said), is_whole=is_whole)

    workspace = workspace_in(tmp_path / "w")
    assert look() == []
    assert look({0}) != []
    kill_records.record(workspace, lambda _: None)
    assert look(set(range(kill_records.SWEEPS)), is_whole=True) == []
    assert look({99}) == ["sweep 99 is lost"]
    with Records.open(workspace) as records:
        with records.database.writing():
            records.database.write("DELETE FROM result WHERE sweep = 1")
        assert "sweeps, 11 with their result" in look()[0]
        with records.database.writing():
            records.database.write("DELETE FROM sweep WHERE id = 1")
        assert "11 sweeps, 12 tunings" in look()
        with records.database.writing():
            records.database.write("DELETE FROM tuning WHERE id = 1")
    assert look(is_whole=True) == ["11 of 12 sweeps of an import"]
    (workspace / "sweeps" / "sweep-2.s1p").write_bytes(b"half")
    assert look() == ["sweep-2.s1p is not the file that was recorded"]


def test_the_script_tells_its_sweeps_apart():
    assert len({hashlib.sha256(kill_records.content(n)).digest() for n in range(kill_records.SWEEPS)}) == 12
