# SPDX-License-Identifier: BSD-3-Clause
"""Whatever instant a process is killed at, what it kept is whole; `python -m scripts.kill_files` does it more often."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from ringwright.records.records import Records
from ringwright.records.tuning import TuningPairs
from scripts import kill_files
from tests.records.recording import workspace_in


@pytest.mark.skipif(
    not hasattr(os, "fork"), reason="left out: needs fork, to kill many times in a short time"
)
def test_kills_leave_whole_files_and_all_that_was_said_to_be_kept():
    # A kill is no power cut: what stands in memory survives it as well, and is written sooner.
    memory = {"TMPDIR": "/dev/shm"} if Path("/dev/shm").is_dir() else {}
    done = subprocess.run(
        [sys.executable, "-m", "scripts.kill_files", "15"],
        capture_output=True,
        text=True,
        check=False,
        env=os.environ | memory,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    most = re.search(r"15 kills: after \d+ to (\d+) rounds; 0 wrong", done.stdout)
    assert most, done.stdout
    assert int(most[1]) >= 1  # else they fell where nothing is kept


def test_the_look_at_what_is_left_sees_what_is_wrong(tmp_path, monkeypatch):
    monkeypatch.setattr(kill_files, "ROUNDS", 2)
    workspace = workspace_in(tmp_path / "w")
    assert kill_files.seconds(workspace) > 0.0
    assert kill_files.complaints(workspace, 2) == []
    assert len(kill_files.complaints(workspace, 3)) == 5  # each of the five is behind what was said
    (workspace / "sheets/sheet.pdf").write_text(kill_files.design(2)[:-9])
    assert kill_files.complaints(workspace, 2) == ["the sheet is not whole"]
    (workspace / "sheets/sheet.pdf").write_text(kill_files.design(2))
    with Records.open(workspace) as records:
        records.keep_table("octagon", TuningPairs(points=kill_files.table(2).points[1:], site="home"))
    assert kill_files.complaints(workspace, 2) == ["the tuning table is not whole"]
    assert kill_files.goes_on(workspace) == []
