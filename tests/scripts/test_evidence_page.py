# SPDX-License-Identifier: BSD-3-Clause
"""The page of promises names only what there is: each command's module, file and target."""

import importlib.util
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "reference" / "evidence.md").read_text()
COMMANDS = sorted(
    {row.rsplit("|", 2)[1].strip().strip("`") for row in PAGE.splitlines() if row.endswith("` |")}
)


def test_there_are_commands():
    assert len(COMMANDS) > 20


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_names_what_there_is(command):
    program, *words = command.split()
    match program:
        case "pytest":
            paths = [word for word in words if word.startswith("tests/")]
            assert paths
            assert all((ROOT / path).exists() for path in paths)
        case "python":
            assert words[0] == "-m"
            assert importlib.util.find_spec(words[1]) is not None
        case "make":
            assert re.search(rf"^{words[0]}:", (ROOT / "Makefile").read_text(), re.MULTILINE)
        case "ringwright" | "time" | ".ci/run":
            assert words or program == ".ci/run"
        case _:
            pytest.fail(f"{command}: not a command that anybody could run again")
