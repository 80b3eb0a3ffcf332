# SPDX-License-Identifier: BSD-3-Clause
"""The trial: the same whatever the processes, honest about what it counts, with the contract's keys."""

import json
from collections import Counter

import pytest

from ringwright.errors import OutOfRangeError
from ringwright.tuner.brain.step import step
from ringwright.tuner.trial import trial as trial_module
from ringwright.tuner.trial.document import trial_document
from ringwright.tuner.trial.faults import Fault
from ringwright.tuner.trial.outcome import Outcome
from ringwright.tuner.trial.plain import Method, PlainOutcome
from ringwright.tuner.trial.run import run_twin
from ringwright.tuner.trial.trial import Trial, run_trial
from ringwright.tuner.trial.truth import Truth

KEYS = {
    "schema", "twins", "success_pct", "carrier_s_median", "readings_median", "tuning_power_max_w",
    "swr_excess_median", "unsafe_acts", "baselines",
}  # fmt: skip


@pytest.fixture(scope="module")
def small():
    return run_trial(12, seed=3, with_faults=False, processes=1)


def test_the_document_has_the_contracts_keys(small):
    document = trial_document(small)
    assert document["schema"] == "ringwright.trial/1"
    assert document.keys() >= KEYS
    baselines = document["baselines"]
    assert isinstance(baselines, dict)
    assert set(baselines) == {"golden_section", "full_scan"}
    json.dumps(document, allow_nan=False)


def test_most_healthy_twins_are_tuned_safely_at_low_power(small):
    """A small sample; the figures of thousands stand in docs/explanation/tuner-trial.md."""
    document = trial_document(small)
    assert sum(outcome.is_success for outcome in small.outcomes) >= 10
    assert document["unsafe_acts"] == 0
    assert max(outcome.forward_max for outcome in small.outcomes) == document["tuning_power_max_w"]
    assert max(outcome.forward_max for outcome in small.outcomes) <= 5.0


def test_the_number_of_processes_changes_nothing(monkeypatch):
    monkeypatch.setattr(trial_module, "_AT_ONCE", 2)
    one, two = (trial_document(run_trial(3, seed=8, with_faults=True, processes=n)) for n in (1, 2))
    assert one == two


@pytest.mark.parametrize("fault", Fault)
def test_a_fault_happens_and_nothing_unsafe_comes_of_it(fault):
    outcomes = [run_twin(number, 21, step=step, fault=fault) for number in range(2)]
    assert any(outcome.has_fault_happened for outcome in outcomes)
    assert [outcome.unsafe for outcome in outcomes] == [{}, {}]


def test_a_run_is_decided_by_its_seed():
    again = [run_twin(5, 3, step=step, fault=Fault.TWO_HOSTS) for _ in range(2)]
    assert again[0] == again[1]
    assert run_twin(5, 4, step=step) != run_twin(5, 3, step=step)


def test_unsafe_acts_are_added_up_and_named():
    outcomes = tuple(
        Outcome(number=number, fault=Fault.STUCK, unsafe=unsafe)
        for number, unsafe in enumerate([{"a": 2}, {}, {"a": 1, "b": 4}])
    )
    document = trial_document(Trial(seed=1, with_faults=True, outcomes=outcomes, plain=(), busy=1.0))
    assert document["unsafe_acts"] == 7
    assert document["unsafe_acts_by_kind"] == Counter(a=3, b=4)
    faults = document["faults"]
    assert isinstance(faults, dict)
    assert faults["capacitor stuck"]["unsafe_acts"] == 7
    assert document["success_pct"] == 0.0


def test_success_is_within_a_tenth_of_the_best_and_no_further():
    assert Truth(1.35, 1.2501).is_success
    assert not Truth(1.3502, 1.25).is_success


def test_figures_are_of_those_that_ended():
    ended = Outcome(number=0, fault=None, truth=Truth(1.2, 1.1), carrier=2.0, readings=10, forward_max=4.0)
    lost = Outcome(number=1, fault=None, carrier=50.0, readings=99, forward_max=9.0)
    plain = PlainOutcome(
        method=Method.FULL_SCAN, truth=Truth(2.0, 1.0), carrier=40.0, readings=139, readings_keyed=700
    )
    document = trial_document(
        Trial(seed=1, with_faults=False, outcomes=(ended, lost), plain=(plain,), busy=1.0)
    )
    assert (document["success_pct"], document["carrier_s_median"], document["readings_median"]) == (
        50.0,
        2.0,
        10,
    )
    assert document["baselines"] == {
        "golden_section": None,
        "full_scan": {
            "success_pct": 0.0, "carrier_s_median": 40.0, "readings_median": 139,
            "readings_keyed_median": 700, "swr_excess_median": 1.0,
        },
    }  # fmt: skip


@pytest.mark.parametrize("twins", [0, -3, 10**7])
def test_a_number_of_twins_that_is_none_is_refused(twins):
    with pytest.raises(OutOfRangeError, match="twins must be from 1 to"):
        run_trial(twins, seed=1, with_faults=False)
