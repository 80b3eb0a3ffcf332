# SPDX-License-Identifier: BSD-3-Clause
"""`python -m ringwright`, and files given to the wrong verb."""

import subprocess
import sys

import pytest

BRIEF = 'format = 1\nbands = ["20m"]\n[room]\nwidth = "1 m"\n'


def test_the_module_runs_as_the_program_does():
    done = subprocess.run(
        [sys.executable, "-m", "ringwright", "--version"], capture_output=True, text=True, check=True
    )
    assert done.stdout.startswith("ringwright ")
    wrong = subprocess.run(
        [sys.executable, "-m", "ringwright", "dig"], capture_output=True, text=True, check=False
    )
    assert (wrong.returncode, wrong.stderr.count("\n")) == (2, 1)


@pytest.mark.parametrize(
    ("verb", "said"),
    [
        ("predict", "this is a brief, not a design; `ringwright search` finds rings for it"),
        ("keepout", "this is a brief, not a design; `ringwright search` finds rings for it"),
    ],
)
def test_a_brief_is_told_which_verb_takes_it(call, tmp_path, verb, said):
    brief = tmp_path / "brief.toml"
    brief.write_text(BRIEF, encoding="utf-8")
    answer = call(verb, brief)
    assert (answer.code, answer.out) == (2, "")
    assert answer.err == f"ringwright: {brief}: {said}\n"


def test_a_design_is_told_which_verb_takes_it(call, octagon):
    answer = call("search", octagon)
    assert answer.code == 2
    assert "this is a design, not a brief; `ringwright predict` says what it does" in answer.err


def test_a_folder_is_told_as_one(call, octagon, tmp_path):
    answer = call("prove", octagon, tmp_path)
    assert (answer.code, answer.out) == (2, "")
    assert answer.err == f"ringwright: {tmp_path}: this is a folder; name the sweep files in it\n"


def test_an_odd_number_of_slots_is_said_to_be_one_more(call):
    answer = call("slots", "ring", "dipole", "--count", "3", "--seed", "1")
    assert answer.out.count("ring") == answer.out.count("dipole") == 2
    assert "4 are planned, not 3" in answer.err
    assert call("slots", "ring", "dipole", "--count", "4", "--seed", "1").err == ""


def test_a_table_of_headings_alone_says_how_to_go_on(call, tmp_path):
    table = tmp_path / "reports.csv"
    table.write_text("time,frequency_mhz,receiver,locator,snr_db,power_w,antenna\n", encoding="utf-8")
    answer = call("air", table)
    assert answer.code == 0
    assert "nothing but headings" in answer.out
