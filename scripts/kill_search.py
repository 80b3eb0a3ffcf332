# SPDX-License-Identifier: BSD-3-Clause
"""Kill a search half-way and ask again: `python -m scripts.kill_search [WORKERS]`.

The search is killed (SIGKILL) once half of its solutions are kept; none of its processes may be left after that. Asked
again it must solve nothing twice but what was under way, at most 5 % of all, and give the answer of a search that was
never stopped. A kill is not a power cut.
"""

import json
import os
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from benchmarks.search_grid import BRIEF

PROGRAM = Path(sys.executable).with_name("ringwright")
SOON = 1200.0
MOST_TWICE = 0.05


def asked(folder: Path, *options: str) -> list[str]:
    return [str(PROGRAM), "search", str(folder / "brief.toml"), "--json", *options]


def document(folder: Path, *options: str) -> dict[str, Any]:
    done = subprocess.run(asked(folder, *options), env=environment(folder), capture_output=True, check=True)
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def environment(folder: Path) -> dict[str, str]:
    return os.environ | {"XDG_CACHE_HOME": str(folder), "OPENBLAS_NUM_THREADS": "1"}


def kept(folder: Path) -> int:
    """Whole lines of the journal."""
    return sum(path.read_bytes().count(b"\n") for path in folder.glob("ringwright/searches/*.jsonl"))


def main(workers: str) -> int:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "brief.toml").write_text(BRIEF.replace('"5 m", 25', '"5 m", 7'), encoding="utf-8")
        whole = document(folder, "--afresh", "--workers", workers)
        child = subprocess.Popen(
            asked(folder, "--workers", workers),
            env=environment(folder),
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        end = time.monotonic() + SOON
        while kept(folder) < whole["solutions"] // 2 and child.poll() is None and time.monotonic() < end:
            time.sleep(0.02)
        os.kill(child.pid, signal.SIGKILL)
        child.wait()
        at_kill = kept(folder)
        time.sleep(2.0)
        left = subprocess.run(
            ["ps", "-g", str(child.pid), "-o", "pid="], capture_output=True, check=False
        ).stdout
        again = document(folder, "--workers", workers)
    twice = at_kill - again["solutions_kept"]
    same = {key: value for key, value in again.items() if key != "solutions_kept"} == {
        key: value for key, value in whole.items() if key != "solutions_kept"
    }
    print(
        f"killed with {at_kill} of {whole['solutions']} solutions kept; asked again, {again['solutions_kept']} were "
        f"known, {twice} solved twice of those kept; the same answer: {same}; processes left: {left.decode().split()}"
    )
    return 0 if same and not left.split() and twice <= MOST_TWICE * whole["solutions"] else 1


if __name__ == "__main__":
    sys.exit(main(*(sys.argv[1:] or ["2"])))
