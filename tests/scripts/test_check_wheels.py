# SPDX-License-Identifier: BSD-3-Clause
"""What is asked of pip, for every Python that the project admits; pip itself is asked by hand, it needs the index."""

import tomllib
from pathlib import Path

from scripts import check_wheels
from scripts.check_wheels import PYTHONS, SYSTEMS, only_there, pinned

PROJECT = tomllib.loads((Path(__file__).parents[2] / "pyproject.toml").read_text(encoding="utf-8"))["project"]


def test_pythons_begin_with_the_projects_floor():
    assert PROJECT["requires-python"] == f">={PYTHONS[0]}"
    assert [f"3.{minor}" for minor in range(11, 11 + len(PYTHONS))] == [*PYTHONS]


def test_what_one_system_or_python_needs_besides_is_looked_up_there_only(monkeypatch):
    needs = [
        "there==1",
        "colorama>=0.4; sys_platform == 'win32'",
        "late; python_version >= '3.14'",
        "x; extra == 'x'",
    ]
    monkeypatch.setattr(check_wheels, "_requirements", lambda package: needs if package == "here" else [])
    packages = {"here": "here==1", "there": "there==1"}
    found = {(s, p): only_there(packages, s, p) for s in SYSTEMS for p in ("3.13", "3.14")}
    assert {key: more for key, more in found.items() if "colorama>=0.4" in more}.keys() == {
        ("windows", "3.13"),
        ("windows", "3.14"),
    }
    assert {key for key, more in found.items() if "late" in more} == {(s, "3.14") for s in SYSTEMS}
    assert not any("x" in more or "there==1" in more for more in found.values())


def test_a_lock_is_read_by_package():
    assert pinned("# made\npydantic_core==2.1\nnumpy==2.4\n") == {
        "pydantic-core": "pydantic_core==2.1",
        "numpy": "numpy==2.4",
    }
