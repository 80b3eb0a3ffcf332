# SPDX-License-Identifier: BSD-3-Clause
"""What `prove` keeps: where it is told to, with what is said of the sweeps, and nothing of what cannot be kept."""

import json
import os
from datetime import datetime

import pytest

from ringwright.cli import proving
from ringwright.proof.proving import prove
from tests.cli.test_prove import touchstone


@pytest.fixture
def workspace(call, octagon, tmp_path):
    """A workspace with the octagon in it."""
    folder = tmp_path / "terrace"
    assert call("new", folder).code == 0
    (folder / "designs" / "terrace.toml").write_bytes(octagon.read_bytes())
    return folder


@pytest.fixture(scope="module")
def sweep(tmp_path_factory):
    path = touchstone(tmp_path_factory.mktemp("delivered") / "40m.s1p", at=7.09e6)
    os.utime(path, (1.7e9, 1.7e9))
    return path


@pytest.fixture(scope="module")
def answers():
    return {}


@pytest.fixture(autouse=True)
def the_same_sweeps_are_weighed_once(monkeypatch, answers):
    """The same sweeps always get the same answer, which is what takes the time; what is kept is looked at here."""

    def weighed(design, sweeps, **how):
        key = (repr(design), *((each.source, each.response.tobytes()) for each in sweeps))
        if key not in answers:
            answers[key] = prove(design, sweeps, **how)
        return answers[key]

    monkeypatch.setattr(proving, "set_against", weighed)


def listed(call, workspace):
    return json.loads(call("record", "list", workspace, "--json").out)["sweeps"]


def test_what_is_said_of_sweeps_is_kept_with_them(call, workspace, sweep):
    said = (
        "--build",
        "as built",
        "--temperature",
        "4.5 degC",
        "--note",
        "dry",
        "--measured-at",
        "2026-05-01 18:30",
    )
    answer = call("prove", workspace / "designs" / "terrace.toml", sweep, *said)
    assert (answer.code, answer.err.splitlines()[-1]) == (0, f"ringwright: 1 sweep recorded in {workspace}")
    (kept,) = listed(call, workspace)
    assert (kept["build"], kept["temperature_degc"], kept["note"]) == ("as built", 4.5, "dry")
    at = datetime.fromisoformat(kept["measured_at"])
    assert at.astimezone().strftime("%Y-%m-%d %H:%M") == "2026-05-01 18:30"


def test_a_sweep_that_is_kept_already_is_not_called_recorded_again(call, workspace, sweep):
    design = workspace / "designs" / "terrace.toml"
    assert call("prove", design, sweep, "--build", "first go").code == 0
    again = call("prove", design, sweep, "--build", "after the joint")
    assert again.code == 0
    last = again.err.splitlines()[-1]
    assert last.startswith("ringwright: 40m.s1p is sweep 1 already; what was written of it stays")
    assert "recorded in" not in again.err
    (kept,) = listed(call, workspace)
    assert kept["build"] == "first go"


def test_a_design_elsewhere_is_kept_where_a_workspace_is_named(call, workspace, octagon, sweep):
    answer = call("prove", octagon, sweep, "--workspace", workspace, "--json")
    assert answer.code == 0
    (kept,) = listed(call, workspace)
    assert datetime.fromisoformat(kept["measured_at"]).timestamp() == 1.7e9
    assert (workspace / "sweeps" / "40m.s1p").read_bytes() == sweep.read_bytes()


def test_nothing_is_kept_where_nothing_shall_be(call, workspace, sweep):
    answer = call("prove", workspace / "designs" / "terrace.toml", sweep, "--no-record")
    assert answer.code == 0
    assert not (workspace / "records.sqlite").exists()


def test_typed_readings_are_kept_as_the_table_they_make(call, workspace):
    readings = "7.08 MHz 5.1; 7.09 MHz 2.6; 7.095 MHz 1.6; 7.1 MHz 1.3; 7.11 MHz 3"
    assert call("prove", workspace / "designs" / "terrace.toml", "--swr", readings).code == 0
    (kept,) = listed(call, workspace)
    assert kept["file"] == "40m readings.csv"
    again = call(
        "prove", workspace / "designs" / "terrace.toml", workspace / "sweeps" / kept["file"], "--json"
    )
    assert again.code == 0
    assert len(listed(call, workspace)) == 1  # the same bytes are the same sweep


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--record",), "lies in no workspace"),
        (("--build", "as built"), "lies in no workspace"),
        (("--workspace", "nowhere"), "is no workspace"),
        (("--no-record", "--note", "dry"), "--no-record keeps nothing"),
        (("--build", "7"), "cannot be a build's name"),
        (("--temperature", "400 degC"), "is no weather"),
        (("--temperature", "4"), "unit"),
        (("--measured-at", "yesterday"), "is no date"),
    ],
)
def test_what_cannot_be_kept_is_refused_before_anything_is_computed(call, octagon, sweep, options, said):
    answer = call("prove", octagon, sweep, *options)
    assert (answer.code, answer.out) == (2, "")
    assert said in answer.err
    assert len(answer.err.strip().splitlines()) == 1


def test_columns_that_were_named_are_remembered_in_the_workspace(call, workspace, tmp_path):
    design = workspace / "designs" / "terrace.toml"
    table = tmp_path / "40m.csv"
    rows = [line.split() for line in touchstone(tmp_path / "a.s1p", at=7.09e6).read_text().splitlines()[1:]]
    table.write_text("QRG;A;B\n" + "".join(f"{';'.join(row)}\n" for row in rows))
    assert "no column is the frequency" in call("prove", design, table).err
    named = ("--column", "frequency=QRG", "--column", "real=2", "--column", "imaginary=3")
    assert call("prove", design, table, *named, "--frequency-unit", "Hz").code == 0
    assert call("prove", design, table).code == 0
    alone = call("prove", design, table, "--no-record")  # without a workspace nothing is known
    assert "no column" in alone.err


def test_a_sweep_kept_among_those_of_another_antenna_is_said(call, octagon, tmp_path, sweep):
    other = tmp_path / "attic"
    assert call("new", other).code == 0  # with a design of its own
    answer = call("prove", octagon, sweep, "--workspace", other)
    assert answer.code == 0
    assert "is no design of" in answer.err
    assert "1 sweep recorded in" in answer.err
    (other / "designs" / "octagon.toml").write_bytes(octagon.read_bytes())
    assert "is no design of" not in call("prove", octagon, sweep, "--workspace", other, "--build", "x").err
