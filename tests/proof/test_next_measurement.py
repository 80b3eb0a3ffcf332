# SPDX-License-Identifier: BSD-3-Clause
"""What to measure next: its bits against the theory of information, its advice against what the sweeps leave open."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import norm

from ringwright.antenna.solution import SolutionMemory
from ringwright.proof import next_measurement
from ringwright.proof.diagnosis import diagnosis_with, silent
from ringwright.proof.diagnosis_document import next_measurement_document
from ringwright.proof.draws import Draws
from ringwright.proof.evidence import MODEL_SPREAD
from ringwright.proof.experiments import experiments
from ringwright.proof.measured import Measured
from ringwright.proof.next_measurement import next_measurements
from ringwright.proof.suspects import Cause
from ringwright.proof.twin import Twin
from tests.proof.planted import built_with, designs

OCTAGON = designs()["terrace octagon"]


def bits_of(readings, spread, probability):
    ln = next_measurement._reading_likelihoods(readings, spread)
    return next_measurement._information(ln, np.array(probability), tuple(range(len(readings))))


def at(*places, rings=1000):
    """Suspects whose rings all show one place."""
    return [np.tile(place, (rings, 1)) for place in places]


@pytest.mark.parametrize("apart", [0.5, 1.5, 3.0])
def test_information_between_two_places_is_that_of_a_binary_channel_with_gaussian_noise(monkeypatch, apart):
    # C. E. Shannon, 1948: h(Y) - h(Y|X) for X = +-1 times apart/2, unit noise; the integral by quadrature.
    monkeypatch.setattr(next_measurement, "READINGS", 1000)

    def density(y):
        return 0.5 * (norm.pdf(y - apart / 2.0) + norm.pdf(y + apart / 2.0))

    entropy = quad(lambda y: -density(y) * np.log2(density(y)), -12.0, 12.0)[0]
    expected = entropy - 0.5 * np.log2(2.0 * np.pi * np.e)
    found = bits_of(at([0.0, 0.0], [apart, 0.0]), np.array([1.0, 1.0]), [0.5, 0.5])
    # 1000 readings of each: the standard error of the mean is about 0.02 bit; 3 of it.
    assert found == pytest.approx(expected, rel=0.06 / expected, abs=0)


def test_places_far_apart_tell_all_that_is_not_known():
    probability = [0.7, 0.2, 0.1]
    entropy = -sum(p * np.log2(p) for p in probability)
    found = bits_of(at([0.0, 0.0], [50.0, 0.0], [0.0, 50.0]), np.array([1.0, 1.0]), probability)
    assert found == pytest.approx(entropy, rel=1e-3, abs=0)


@pytest.mark.parametrize("spread", [0.05, 0.3])
def test_suspects_that_would_show_the_same_are_told_apart_by_nothing(spread):
    # By Jensen's inequality the mean is not above 0 where no reading knows its own ring; 80 readings leave 0.1 bit.
    rng = np.random.default_rng(1)
    same = [rng.normal(size=(100, 2)) for _ in range(2)]
    assert bits_of(same, np.array([spread, spread]), [0.5, 0.5]) < 0.1


@pytest.fixture(scope="module")
def planned():
    """A bad joint that its sweeps cannot tell from a poor conductor, and all that could be done next."""
    twin = Twin(OCTAGON, np.array([target.frequency for target in OCTAGON.targets]), SolutionMemory())
    rng = np.random.default_rng(5)
    seen = twin.observe(_joint(0.04))
    measured = [
        Measured(
            frequency=target.frequency,
            q_unloaded=float(np.exp(seen.ln_q[0, n] + rng.normal(0.0, 0.01))),
            q_spread=0.025,
            coupling=float(np.exp(seen.ln_coupling[0, n] + rng.normal(0.0, 0.01))),
            coupling_spread=0.03,
        )
        for n, target in enumerate(OCTAGON.targets)
    ]
    diagnosis = diagnosis_with(twin, measured)
    return diagnosis, next_measurements(diagnosis)


def _joint(ohms):
    return replace(Draws.as_declared(1), joint_extra=np.array([ohms]))


def test_what_tells_most_comes_first_and_nothing_tells_more_than_is_unknown(planned):
    diagnosis, plan = planned
    bits = [each.expected_information_bits for each in plan]
    assert all(a >= b for a, b in pairwise(bits))
    unknown = -sum(p.posterior * np.log2(p.posterior) for p in diagnosis.evidence.suspects if p.posterior > 0)
    assert min(bits) >= 0.0
    assert max(bits) <= unknown


def test_it_separates_suspects_that_the_sweeps_leave_open(planned):
    diagnosis, plan = planned
    assert Cause.JOINTS in diagnosis.not_told_apart
    assert set(plan[0].separates) <= set(diagnosis.not_told_apart)


def test_remaking_joints_or_another_frequency_tells_more_than_the_same_sweep_again(planned):
    _, plan = planned
    bits = {each.do.split()[0]: each.expected_information_bits for each in plan}
    assert bits["Clean"] > 2.0 * bits["Repeat"]
    assert bits["Leave"] > 2.0 * bits["Repeat"]
    remade = next(each for each in plan if each.do.startswith("Clean"))
    assert Cause.JOINTS in remade.separates


def test_each_kind_of_doing_is_named_once_with_its_numbers(planned):
    _, plan = planned
    starts = [each.do.split()[0] for each in plan]
    assert sorted(starts) == ["Clean", "Leave", "Raise", "Repeat", "Sweep", "Take"]
    assert all("MHz" in each.do for each in plan)
    assert "railing" in next(each.do for each in plan if each.do.startswith("Take"))


def test_a_sweep_made_again_is_expected_where_the_first_one_left_it(planned):
    # Both share the model's error: of a normal pair with that covariance, the second given the first, by its textbook
    # formulas (mean C21/C11 times what was seen, variance C22 - C21^2/C11).
    diagnosis, _ = planned
    evidence = diagnosis.evidence
    repeat = next(each for each in experiments(evidence, SolutionMemory(), silent) if each.kind == "repeat")
    joints = next(each for each in evidence.suspects if each.cause is Cause.JOINTS)
    shown = evidence.twin.observe(joints.draws).ln_q[:, 0]
    own = 0.025**2 + MODEL_SPREAD**2
    seen = np.log(evidence.measured[0].q_unloaded) - shown
    assert repeat.reading(joints)[:, 0] == pytest.approx(
        shown + MODEL_SPREAD**2 / own * seen, rel=1e-9, abs=0
    )
    assert repeat.spread[0] ** 2 == pytest.approx(own - MODEL_SPREAD**4 / own, rel=1e-9, abs=0)


def test_document_has_the_contract_keys(planned):
    _, plan = planned
    document = next_measurement_document(plan[0])
    assert list(document) == ["do", "separates", "expected_information_bits", "is_worth_making"]
    assert all(isinstance(name, str) for name in document["separates"])


def test_a_clear_case_has_little_left_to_learn():
    rng = np.random.default_rng(2)
    twin = Twin(OCTAGON, np.array([target.frequency for target in OCTAGON.targets]), SolutionMemory())
    built = built_with(Cause.COUPLING, OCTAGON, rng)
    diagnosis = diagnosis_with(twin, built.measured(rng))
    assert diagnosis.suspects[0].cause is Cause.COUPLING
    assert next_measurements(diagnosis)[0].expected_information_bits < 0.1
