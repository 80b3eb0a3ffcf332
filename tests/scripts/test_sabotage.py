# SPDX-License-Identifier: BSD-3-Clause
"""The sabotage runner on a small tree of its own, and the real tables against the source they are about."""

from pathlib import Path

import pytest

from scripts.sabotage import Mutation, load, main

ROOT = Path(__file__).parents[2]
TABLE = """
[[mutation]]
what = "sum instead of difference"
file = "src/ringwright/__init__.py"
old = "a - b"
new = "a + b"
tests = ["tests/test_difference.py"]
"""
SURVIVOR = """
[[mutation]]
what = "nobody looks at the greeting"
file = "src/ringwright/__init__.py"
old = "hello"
new = "good-bye"
tests = ["tests/test_difference.py"]
"""
STALE = SURVIVOR.replace("hello", "text that was there once")
BROKEN = SURVIVOR.replace('new = "good-bye"', "new = 'hello\"  )'")


@pytest.fixture
def tree(tmp_path, monkeypatch):
    """A program of one function and one test."""
    files = {
        "pyproject.toml": "[tool.pytest.ini_options]\n",
        "src/ringwright/__init__.py": 'GREETING = "hello"\n\n\ndef difference(a, b):\n    return a - b\n',
        "tests/conftest.py": "from hypothesis import settings\n\nsettings.register_profile('sabotage')\n",
        "tests/test_difference.py": "from ringwright import difference\n\n\n"
        "def test_three_less_two():\n    assert difference(3, 2) == 1\n",
        "scripts/sabotage/area.toml": TABLE,
    }
    for name, text in files.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_an_error_that_a_test_notices_is_caught_by_name(tree, capsys):
    source = (tree / "src/ringwright/__init__.py").read_bytes()
    (tree / "scripts/sabotage/area.toml").write_text(TABLE + SURVIVOR)
    assert main(["difference"]) == 0  # the survivor is not selected
    out = capsys.readouterr().out
    assert (
        "caught  area: sum instead of difference\n        tests/test_difference.py::test_three_less_two\n"
        in out
    )
    assert "1 errors planted, 1 caught" in out
    assert (tree / "src/ringwright/__init__.py").read_bytes() == source


def test_what_is_not_caught_ends_with_1(tree, capsys):
    """One that survives, one whose text is gone, one that does not even run: none of them proves anything."""
    (tree / "scripts/sabotage/area.toml").write_text(TABLE + SURVIVOR + STALE + BROKEN)
    assert main([]) == 1
    out = capsys.readouterr().out
    assert out.count("MISSED") == 3
    assert "SURVIVED" in out
    assert "the old text is found 0 times in src/ringwright/__init__.py, must be once" in out
    assert "the tests did not run" in out
    assert "4 errors planted, 1 caught" in out


def test_tests_that_fail_anyway_prove_nothing(tree, capsys):
    (tree / "tests/test_difference.py").write_text("def test_nothing():\n    assert False\n")
    assert main([]) == 1
    assert "fail without any error planted" in capsys.readouterr().out


def test_nothing_selected_is_no_success(tree, capsys):
    assert main(["no such area"]) == 1
    assert "contains no such area" in capsys.readouterr().out


@pytest.mark.parametrize("text", ["x = 1\n", "x = 2\nx = 2\n"])
def test_old_text_must_be_there_exactly_once(text):
    mutation = Mutation(area="a", what="w", file="f", old="x = 2", new="x = 3", tests=())
    with pytest.raises(ValueError, match="must be once"):
        mutation.planted(text)


TABLES = sorted((ROOT / "scripts" / "sabotage").glob("*.toml"))


@pytest.mark.parametrize("mutation", load(TABLES), ids=lambda each: f"{each.area}: {each.what}")
def test_tables_are_about_what_stands_in_the_source(mutation):
    """Whoever rewrites a line that is sabotaged writes its row anew, so that the error is still planted."""
    text = (ROOT / mutation.file).read_text(encoding="utf-8")
    assert mutation.planted(text) != text
    for test in mutation.tests:
        assert (ROOT / test.split("::")[0]).exists()
