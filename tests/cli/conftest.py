# SPDX-License-Identifier: BSD-3-Clause
"""The program run in this process: what it printed and its exit code."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from ringwright.antenna.scenario import RUCKSACK_BRAID, TERRACE_OCTAGON, shipped_text
from ringwright.cli.program import run


@dataclass(frozen=True)
class Outcome:
    code: int
    out: str
    err: str

    @property
    def sentence(self) -> str:
        """The one line of standard error, which is all there is."""
        assert self.out == ""
        assert self.err.endswith("\n")
        assert self.err.count("\n") == 1, self.err
        assert "Traceback" not in self.err
        assert self.err.startswith("ringwright: ")
        return self.err.removeprefix("ringwright: ").rstrip("\n")


Call = Callable[..., Outcome]


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Call:
    """`call("predict", path)` as the shell would, in 80 columns."""
    monkeypatch.setenv("COLUMNS", "80")

    def run_it(*arguments: object) -> Outcome:
        capsys.readouterr()
        code = run([str(argument) for argument in arguments])
        out, err = capsys.readouterr()
        return Outcome(code, out, err)

    return run_it


def in_free_space(text: str) -> str:
    """A shipped design without its site, which is quicker and changes nothing that the command line does."""
    return text[: text.index("[site]")] + '[site]\nearth = "free space"\n'


@pytest.fixture
def octagon(tmp_path: Path) -> Path:
    path = tmp_path / "octagon.toml"
    path.write_text(in_free_space(shipped_text(TERRACE_OCTAGON)), encoding="utf-8")
    return path


@pytest.fixture
def braid(tmp_path: Path) -> Path:
    """Does not reach the top of 10 m."""
    path = tmp_path / "braid.toml"
    path.write_text(in_free_space(shipped_text(RUCKSACK_BRAID)), encoding="utf-8")
    return path
