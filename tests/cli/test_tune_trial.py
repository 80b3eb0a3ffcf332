# SPDX-License-Identifier: BSD-3-Clause
"""`tune trial` at the terminal."""

import json

from ringwright.cli.program import run
from ringwright.tuner.trial.outcome import Outcome
from ringwright.tuner.trial.trial import Trial


def test_json_is_one_document_and_the_rest_goes_to_standard_error(capsys):
    assert run(["tune", "trial", "--twins", "3", "--seed", "3", "--processes", "1", "--json"]) == 0
    out, err = capsys.readouterr()
    document = json.loads(out)
    assert (document["schema"], document["twins"], document["seed"]) == ("ringwright.trial/1", 3, 3)
    assert "times real time" in err


def test_a_table_for_people(capsys):
    assert run(["tune", "trial", "--twins", "2", "--seed", "3", "--processes", "1"]) == 0
    out, _ = capsys.readouterr()
    assert "golden section" in out
    assert "unsafe acts: 0" in out


def test_an_unsafe_act_is_exit_code_1(monkeypatch, capsys):
    def trial(twins, **_):
        outcome = Outcome(number=0, fault=None, unsafe={"stepped after STOP": 1})
        return Trial(seed=1, with_faults=False, outcomes=(outcome,), plain=(), busy=1.0)

    monkeypatch.setattr("ringwright.cli.trialling.run_trial", trial)
    assert run(["tune", "trial", "--twins", "1"]) == 1
    assert "stepped after STOP: 1" in capsys.readouterr().out


def test_ctrl_c_says_how_far_it_came(monkeypatch, capsys):
    def trial(twins, *, progress, **_):
        progress(30, 0)
        raise KeyboardInterrupt

    monkeypatch.setattr("ringwright.cli.trialling.run_trial", trial)
    assert run(["tune", "trial", "--twins", "100"]) == 130
    assert "stopped; 30 of 100 twins, 0 unsafe acts" in capsys.readouterr().err


def test_no_twin_is_bad_input(capsys):
    assert run(["tune", "trial", "--twins", "0"]) == 2
    assert "--twins" in capsys.readouterr().err
