# SPDX-License-Identifier: BSD-3-Clause
"""The figures of a trial from outcomes made up for it."""

from collections import Counter

import pytest

from ringwright.errors import OutOfRangeError
from ringwright.tuner.trial.document import trial_document
from ringwright.tuner.trial.faults import Fault
from ringwright.tuner.trial.outcome import Outcome
from ringwright.tuner.trial.plain import Method, PlainOutcome
from ringwright.tuner.trial.trial import Trial, run_trial
from ringwright.tuner.trial.truth import Truth


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
