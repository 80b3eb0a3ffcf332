# SPDX-License-Identifier: BSD-3-Clause
"""The lock pins versions and nothing else: no index, address, path or hash (names and versions as in PEP 440, 503)."""

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
LOCKS = ["requirements.lock", "requirements-dev.lock"]


def pinned(lock: str) -> dict[str, str]:
    lines = [line for line in (ROOT / lock).read_text().splitlines() if not line.startswith("#")]
    pairs = [line.split("==") for line in lines]
    assert all(re.fullmatch(r"[A-Za-z0-9._-]+==[0-9][A-Za-z0-9.]*", line) for line in lines)
    return {re.sub(r"[-_.]+", "-", name).lower(): version for name, version in pairs}


@pytest.mark.parametrize("lock", LOCKS)
def test_a_lock_has_names_and_versions_only(lock):
    assert len(pinned(lock)) > 10


def test_tools_are_locked_on_top_of_what_the_program_runs_on():
    assert pinned(LOCKS[0]).items() <= pinned(LOCKS[1]).items()


def test_every_requirement_of_the_project_is_locked():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    for requirements, lock in (
        (project["dependencies"], LOCKS[0]),
        (project["optional-dependencies"]["dev"], LOCKS[1]),
    ):
        assert {requirement.split(">=")[0] for requirement in requirements} <= pinned(lock).keys()
