# SPDX-License-Identifier: BSD-3-Clause
"""The example to follow: what ships as simulated is what the script simulates, and says so."""

import click
import numpy as np
import pytest

from ringwright.antenna.scenario import EXAMPLES, example_files
from ringwright.cli.new import new
from scripts.make_example import files


@pytest.fixture(scope="module")
def shipped():
    return example_files("terrace")


def rows(text):
    """The numbers of a sweep."""
    return np.array([line.split() for line in text.splitlines() if line[0] not in "!#"], dtype=float)


def test_the_sweeps_and_reports_are_those_the_script_makes(shipped):
    made = files()
    assert set(made) == {name for name in shipped if name.startswith("sweeps/") or name == "reports.csv"}
    for name, text in made.items():
        if name == "reports.csv":
            assert shipped[name] == text, "run: python -m scripts.make_example"
        else:
            # 1 Hz and two of the last of five digits: what another processor's rounding may move.
            apart = abs(rows(shipped[name]) - rows(text)).max(axis=0)
            assert np.all(apart <= [1.0, 2e-5, 2e-5]), f"{name}: run python -m scripts.make_example"


def test_every_simulated_file_says_so_in_its_first_line(shipped):
    told = [text.splitlines()[0] for name, text in shipped.items() if name.endswith((".s1p", ".csv"))]
    assert len(told) == 7
    assert all("SIMULATED" in line for line in told)
    assert shipped["SIMULATED.txt"].startswith("Nothing in this folder was measured.")


def test_the_reports_have_callsigns_of_nobody(shipped):
    names = {line.split(",")[2] for line in shipped["reports.csv"].splitlines()[2:]}
    assert names
    assert all(name.startswith("QX") for name in names)


def test_the_verb_offers_every_example():
    (offered,) = (one.type for one in new.params if one.name == "example")
    assert isinstance(offered, click.Choice)
    assert list(offered.choices) == list(EXAMPLES)
