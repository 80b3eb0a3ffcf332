# SPDX-License-Identifier: BSD-3-Clause
"""A test that cannot run here is named; where nothing may be left out it fails. Run in a process of its own."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

TESTS = """
import pytest

MISSING, PRESENT = "no-such-program", "python3"

@pytest.mark.needs(MISSING)
def test_with_a_program_nobody_has():
    raise AssertionError("must not run")

@pytest.mark.needs(PRESENT)
def test_with_a_program_that_is_here():
    pass

@pytest.mark.xfail(strict=True)
def test_known_to_fail():
    assert False
"""
MODULE_LEFT_OUT = "import pytest\npytest.importorskip('no_such_module')\n"


def run_pytest(folder: Path, text: str, *, nothing_left_out: str) -> subprocess.CompletedProcess[str]:
    (folder / "conftest.py").write_text(Path(__file__).with_name("conftest.py").read_text())
    (folder / "test_inside.py").write_text(text)
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-ra", "-pno:cacheprovider", "-pno:schemathesis", "."],
        cwd=folder,
        env=os.environ
        | {"RINGWRIGHT_NOTHING_LEFT_OUT": nothing_left_out, "PATH": str(Path(sys.executable).parent)},
        capture_output=True,
        text=True,
        check=False,
    )


def test_missing_program_leaves_its_test_out_and_is_named_once(tmp_path):
    done = run_pytest(tmp_path, TESTS, nothing_left_out="0")
    assert done.returncode == 0
    assert done.stdout.count("left out: needs no-such-program, not installed here") == 1
    assert "1 passed, 1 skipped, 1 xfailed" in done.stdout


@pytest.mark.parametrize("text", [TESTS, MODULE_LEFT_OUT], ids=["test", "module"])
def test_nothing_left_out_turns_a_missing_program_into_a_failure(tmp_path, text):
    done = run_pytest(tmp_path, text, nothing_left_out="1")
    assert done.returncode in {pytest.ExitCode.TESTS_FAILED, pytest.ExitCode.INTERRUPTED}
    assert "nothing may be left out in this run" in done.stdout
    assert "skipped" not in done.stdout.splitlines()[-1]
