# SPDX-License-Identifier: BSD-3-Clause
"""`--help` and a plain import stay light: what is loaded is looked up, not timed, so that the test is steady."""

import subprocess
import sys

import pytest

HEAVY = (
    *("numpy", "scipy", "pydantic", "rich", "sqlite3", "serial", "paho"),
    *("fastapi", "starlette", "uvicorn", "websockets"),
    *("matplotlib", "skrf", "pandas", "numba"),
)

REPORT = f"""
import sys
try:
    {{action}}
except SystemExit as done:
    assert not done.code, done.code
print("loaded:", *(name for name in {HEAVY!r} if name in sys.modules))
"""
HELP = "sys.argv = ['ringwright', '--help']; from ringwright.cli import main; main()"


def output_of(action: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", REPORT.format(action=action)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.mark.parametrize("action", ["import ringwright", HELP], ids=["import", "help"])
def test_nothing_heavy_is_loaded(action):
    assert output_of(action).splitlines()[-1] == "loaded:"


def test_the_program_prints_its_help():
    assert output_of(HELP).startswith("Usage: ringwright")


def test_the_look_up_sees_what_is_loaded():
    assert output_of("import numpy").splitlines()[-1] == "loaded: numpy"
