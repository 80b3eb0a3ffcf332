# SPDX-License-Identifier: BSD-3-Clause
"""The trial: the same whatever the processes, honest about what it counts, with the contract's keys."""

import json

import pytest

from ringwright.tuner.brain.step import step
from ringwright.tuner.trial import trial as trial_module
from ringwright.tuner.trial.document import trial_document
from ringwright.tuner.trial.faults import Fault
from ringwright.tuner.trial.run import run_twin
from ringwright.tuner.trial.trial import run_trial

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


def test_two_places_of_rest_tell_what_more_of_the_same_does_not():
    """Six steps a bandwidth and a noisy meter: the step beside the best one is an SWR of 0.34 worse."""
    outcome = run_twin(163, 1, step=step)
    assert outcome.truth is not None
    assert outcome.is_success
    assert outcome.carrier < 1.6  # a search that read the same place again took 2.0 s and missed


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
