# SPDX-License-Identifier: BSD-3-Clause
"""Whose work the program stands on is told, as it is, and every licence that must travel with the wheel does."""

import subprocess
import sys
import tomllib

import pytest

from scripts import write_licences
from scripts.write_licences import (
    BESIDE,
    BUILT_TEXTS,
    CLIENT,
    MARK,
    PAGE,
    ROOT,
    TEXTS,
    client_packages,
    heading,
    page,
    python_packages,
)
from scripts.write_reference import rewritten


def test_the_page_is_current():
    written = PAGE.read_text(encoding="utf-8")
    assert written == rewritten(written, page(), mark=MARK), "run: python -m scripts.write_licences"


def test_every_requirement_of_the_project_has_its_licence():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    needed = {requirement.split(">=")[0] for requirement in project["dependencies"]}
    assert needed <= {work.name for work in python_packages()}
    assert all(work.licence and work.address.startswith("https://") for work in python_packages())


def test_the_built_client_has_the_licences_of_all_that_is_in_it():
    served = BUILT_TEXTS.read_text(encoding="utf-8")
    assert served == TEXTS.read_text(encoding="utf-8"), "run: web-client/build.sh"
    for work in client_packages():
        assert served.count(f"\n{heading(work)}\n") == 1, "run: python -m scripts.write_licences"
    # These words grant in the MIT licence and in the OFL, as the Open Source Initiative publishes them.
    assert served.count("Permission is hereby granted, free of charge") == len(client_packages())
    assert "SIL OPEN FONT LICENSE Version 1.1" in served


@pytest.mark.skipif(
    not all((CLIENT / "node_modules" / work.name / "LICENSE").exists() for work in client_packages()),
    reason="left out: the client's packages are not here",
)
def test_the_texts_are_the_packages_own():
    assert write_licences.texts() == TEXTS.read_text(encoding="utf-8")


@pytest.mark.parametrize("path", BESIDE)
def test_a_licence_stands_beside_what_it_is_of(path):
    text = (ROOT / path).read_text(encoding="utf-8")
    assert "opyright" in text or "©" in text
    assert path.removeprefix("src/") in PAGE.read_text(encoding="utf-8")


def test_the_page_is_the_same_where_a_package_reads_metadata_in_its_own_way():
    """The backport of importlib.metadata, which some packages import, takes the place of Python's own reader."""
    program = "import importlib_metadata; from scripts.write_licences import page; print(page())"
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=False, timeout=120
    )
    assert done.stdout == page() + "\n", done.stderr
