# SPDX-License-Identifier: BSD-3-Clause
"""The wheel holds what the program needs and nothing else; what fails when it is tried is one sentence."""

import sys
import zipfile
from pathlib import Path

import pytest

from scripts import try_wheel
from scripts.try_wheel import NEEDED, WheelError, built, linked, unexpected

WHOLE = [pattern.replace("*", "any") for pattern in NEEDED]


def test_the_wheel_of_this_tree_is_whole(tmp_path):
    with zipfile.ZipFile(built(tmp_path)) as archive:
        assert "ringwright/cli/program.py" in archive.namelist()


def test_a_wheel_with_one_file_for_every_need_is_whole():
    assert list(unexpected(WHOLE)) == []


@pytest.mark.parametrize("missing", WHOLE)
def test_every_need_that_is_missing_is_told(missing):
    (said,) = unexpected([name for name in WHOLE if name != missing])
    assert said.endswith("is not in the wheel")


@pytest.mark.parametrize("name", ["ringwright/web/static/old.map", "tests/test_units.py", "ringwright/a.so"])
def test_what_nobody_needs_is_told(name):
    assert list(unexpected([*WHOLE, name])) == [f"{name} lies in the wheel and nothing needs it"]


def test_files_that_a_page_or_a_style_sheet_names_are_found():
    page = '<link rel="icon" href="/mark.svg"><script src="/assets/a.js"></script><a href="#top">'
    assert linked("http://h:1/?token=x", page) == {"http://h:1/mark.svg", "http://h:1/assets/a.js"}
    style = "@font-face{src:url(./font.woff2)} .a{background:url('data:,')} .b{background:url(\"/b.svg\")}"
    assert linked("http://h:1/assets/a.css", style) == {"http://h:1/assets/font.woff2", "http://h:1/b.svg"}


def test_what_fails_is_told_in_one_sentence(monkeypatch, capsys, tmp_path):
    monkeypatch.setattr(try_wheel, "built", lambda folder: tmp_path / "absent.whl")
    assert try_wheel.main([sys.executable]) == 1
    said = capsys.readouterr().err
    assert said.startswith("try_wheel: the wheel does not install for ")
    assert said.count("\n") == 1


def test_a_program_that_runs_from_elsewhere_is_no_proof(tmp_path):
    here = Path(sys.executable).parent  # its package is the repository's own
    with pytest.raises(WheelError, match="instead of the installed wheel"):
        try_wheel.use(here, tmp_path)
