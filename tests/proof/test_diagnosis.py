# SPDX-License-Identifier: BSD-3-Clause
"""The diagnosis judged by rings whose fault is known: planted in the design, solved full-wave, measured with noise."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from ringwright.antenna.design import SiteWire
from ringwright.antenna.geometry import build_wires
from ringwright.antenna.predict import operating_points, predict
from ringwright.antenna.solution import SolutionMemory
from ringwright.errors import OutOfRangeError
from ringwright.proof.comparison import feedline_attenuation, prove_sweep
from ringwright.proof.diagnosis import diagnose, diagnosis_with
from ringwright.proof.diagnosis_document import diagnosis_document
from ringwright.proof.draws import Draws
from ringwright.proof.evidence import MODEL_SPREAD, Channels
from ringwright.proof.measured import Measured
from ringwright.proof.suspects import PRIOR, Cause
from ringwright.proof.twin import Twin
from tests.proof.planted import FAULTS, behind_cable, built_with, designs, predicted_sweep, within_tolerance

DESIGNS = designs()
OCTAGON = DESIGNS["terrace octagon"]
SOLVED = SolutionMemory()
"""Of rings that differ in joints or capacitor alone; nothing is solved twice for them."""


@pytest.fixture(scope="module")
def twins():
    return {
        name: Twin(design, np.array([target.frequency for target in design.targets]), SOLVED)
        for name, design in DESIGNS.items()
    }


def as_predicted(design=OCTAGON, *, noise=0.025, **changed):
    """What noiseless sweeps of the very design would measure."""
    prediction, found = predict(design, SOLVED), []
    for point in operating_points(design, build_wires(design), SOLVED):
        loss_db = 8.686 * feedline_attenuation(design, point.target.frequency)
        found.append(
            Measured.of(prove_sweep(design, prediction, behind_cable(predicted_sweep(point), loss_db)))
        )
    return [replace(each, q_spread=noise, coupling_spread=noise, **changed) for each in found]


@pytest.fixture(scope="module")
def octagon(twins):
    """A diagnosis of the terrace octagon from what was measured."""
    return lambda measured: diagnosis_with(twins["terrace octagon"], measured)


@pytest.fixture(scope="module")
def sound():
    """Noiseless sweeps of the octagon as declared."""
    return as_predicted()


def belief(diagnosis, cause):
    return next(each.probability for each in diagnosis.suspects if each.cause is cause)


def test_longer_leads_at_the_socket_hide_no_bad_capacitor(twins):
    # A coupling's reactance is the least certain part of it: a centimetre of lead is some 10 nH (common practice, no
    # source). That lets the coupling follow another law over the bands, which says nothing about the missing ohms.
    twin = twins["garden circle"]
    sound = Draws.as_declared(1)
    doubled = 1.0 + (twin.resistance(sound) / twin.capacitor_resistance(sound)).mean()
    built = replace(sound, capacitor_loss=np.array([doubled]), loop_reactance=np.array([1.3]))
    seen = twin.observe(built)
    diagnosis = diagnosis_with(
        twin,
        [
            Measured(frequency=f, q_unloaded=q, q_spread=0.005, coupling=coupling, coupling_spread=0.005)
            for f, q, coupling in zip(
                twin.frequency, np.exp(seen.ln_q[0]), np.exp(seen.ln_coupling[0]), strict=True
            )
        ],
    )
    assert diagnosis.suspects[0].cause is Cause.CAPACITOR
    assert belief(diagnosis, Cause.COUPLING) < 0.1


def test_a_planted_fault_comes_first_and_is_never_ruled_out(twins):
    # Required of the diagnosis: the true cause first in 80 % of cases and never below 5 %. These are twelve cases, each
    # fault in two of the rings; benchmarks/planted_faults.py has hundreds.
    right, cases = 0, []
    for number, (name, design) in enumerate(DESIGNS.items()):
        for kind, cause in enumerate(FAULTS):
            if (kind + number) % len(DESIGNS) == 0:
                continue
            rng = np.random.default_rng([7, number, list(Cause).index(cause)])
            built = built_with(cause, design, rng)
            diagnosis = diagnosis_with(twins[name], built.measured(rng))
            cases.append((name, cause, built.size, diagnosis.suspects[0].cause, belief(diagnosis, cause)))
            right += diagnosis.suspects[0].cause is cause
    assert right >= 0.8 * len(cases), cases
    assert min(case[-1] for case in cases) >= 0.05, cases


def test_every_cause_is_listed_once_in_order_with_probabilities_that_sum_to_one(octagon, sound):
    diagnosis = octagon(sound)
    assert {each.cause for each in diagnosis.suspects} == set(Cause)
    probabilities = [each.probability for each in diagnosis.suspects]
    assert probabilities == sorted(probabilities, reverse=True)
    assert sum(probabilities) == pytest.approx(1.0, rel=1e-12, abs=0)
    assert sum(PRIOR.values()) == pytest.approx(1.0, rel=1e-12, abs=0)


def test_a_ring_as_declared_has_nothing_wrong_and_nothing_to_gain(octagon, sound):
    first = octagon(sound).suspects[0]
    assert first.cause is Cause.NONE
    assert (first.resistance.value, first.gain_db.value, first.size) == (0.0, 0.0, None)


def test_the_cable_of_a_sweep_accuses_nobody_where_none_is_declared():
    # A quarter of a decibel of analyser's lead in front of a capacitor of 0.4 times its Q: two things are not as the
    # design says, but of the cable it says nothing.
    design = replace(OCTAGON, feedline=replace(OCTAGON.feedline, loss=0.0))
    built = replace(design, capacitor=replace(design.capacitor, q=0.4 * (design.capacitor.q or 1000.0)))
    prediction = predict(design, SOLVED)
    measured = [
        Measured.of(prove_sweep(design, prediction, behind_cable(predicted_sweep(point), 0.25)))
        for point in operating_points(built, build_wires(built), SOLVED)
    ]
    seen = [replace(each, q_spread=0.025, coupling_spread=0.025) for each in measured]
    diagnosis = diagnose(design, seen, SOLVED)
    assert diagnosis.suspects[0].cause is Cause.CAPACITOR
    assert belief(diagnosis, Cause.FEED_LINE) <= PRIOR[Cause.FEED_LINE]


def test_a_bad_joint_is_sized_and_its_cure_is_worth_what_the_prediction_without_it_says(octagon):
    # 60 mohm at the corners; its cure is judged by two full predictions. Both intervals hold 95 of 100, so that the
    # truth lies within here, where the measurement has no noise.
    bad = replace(
        OCTAGON, ring=replace(OCTAGON.ring, joint_resistance=0.06 / 8 + OCTAGON.ring.joint_resistance)
    )
    suspect = next(each for each in octagon(as_predicted(bad)).suspects if each.cause is Cause.JOINTS)
    before, after = predict(bad, SOLVED).bands[0], predict(OCTAGON, SOLVED).bands[0]
    gain = 10.0 * np.log10(after.watts_pct.sky / before.watts_pct.sky)
    extra = before.resistance.joints - after.resistance.joints
    assert suspect.at_frequency == pytest.approx(after.frequency, rel=1e-3, abs=0)
    assert suspect.gain_db.low < gain < suspect.gain_db.high
    assert suspect.resistance.low < extra < suspect.resistance.high
    assert suspect.gains_db[0] == pytest.approx(gain, rel=0.2, abs=0)


@pytest.mark.parametrize(
    ("length", "aside", "up", "direction"), [(13.62, 1.5, 3.8, -1.0), (14.21, 2.0, 2.5, 1.0)]
)
def test_taking_metal_away_may_cost_or_bring_and_the_interval_holds_what_two_predictions_say(
    octagon, length, aside, up, direction
):
    # Half-wave wires on 30 m: one above the ring whose field adds to the ring's, one beside it whose field cancels it.
    wire = SiteWire(
        kind="wire", start=(-length / 2, aside, up), end=(length / 2, aside, up), diameter=0.004,
        conductivity=58e6, mu_r=1.0, material="copper",
    )  # fmt: skip
    site = replace(OCTAGON.site, metal=(*OCTAGON.site.metal, wire))
    beside = replace(OCTAGON, site=site)
    suspect = next(each for each in octagon(as_predicted(beside)).suspects if each.cause is Cause.METAL)
    with_wire, without = (predict(each, SOLVED).bands[2].efficiency_sky_pct for each in (beside, OCTAGON))
    gain = 10.0 * np.log10(without / with_wire)
    assert suspect.probability > 0.5
    assert direction * gain > 2.0
    assert suspect.gain_frequency == pytest.approx(10.125e6, rel=1e-2, abs=0)
    assert suspect.gain_db.low < gain < suspect.gain_db.high


def test_low_capacitor_q_is_sized(octagon):
    bad = replace(OCTAGON, capacitor=replace(OCTAGON.capacitor, q=400.0))
    first = octagon(as_predicted(bad)).suspects[0]
    assert first.cause is Cause.CAPACITOR
    assert first.size is not None
    assert first.size.value.low < 400.0 < first.size.value.high


def test_one_band_alone_cannot_tell_a_joint_from_a_capacitor_or_a_conductor():
    # One resistance at one frequency has no law with frequency.
    bad = replace(OCTAGON, ring=replace(OCTAGON.ring, joint_resistance=0.02))
    alone = diagnose(OCTAGON, as_predicted(bad)[:1], SOLVED)
    assert set(alone.not_told_apart) >= {Cause.JOINTS, Cause.CAPACITOR, Cause.CONDUCTOR}


def test_only_the_reflection_off_resonance_tells_of_a_lossy_cable(octagon, sound):
    lossy = [
        replace(each, off_resonance=10.0**-0.2 * (each.off_resonance or 1.0)) for each in sound
    ]  # 2 dB there and back
    assert octagon(lossy).suspects[0].cause is Cause.FEED_LINE
    unseen = octagon([replace(each, off_resonance=None) for each in lossy])
    assert unseen.suspects[0].cause is Cause.NONE
    assert belief(unseen, Cause.FEED_LINE) > 0.05


def test_a_ring_is_judged_by_students_distribution_in_every_channel(sound, twins):
    # scipy.stats.t, five degrees of freedom, in the spread of noise and model together.
    twin = twins["terrace octagon"]
    seen = twin.observe(replace(Draws.as_declared(3), joint_extra=np.array([0.0, 0.02, 0.3])))
    found = Channels([replace(each, off_resonance=None) for each in sound]).ln_likelihood(seen)
    shown = np.concatenate([seen.ln_q, seen.ln_coupling], axis=1)
    measured = np.log([*(each.q_unloaded for each in sound), *(each.coupling for each in sound)])
    expected = stats.t(5.0, loc=measured, scale=np.hypot(0.025, MODEL_SPREAD)).logpdf(shown).sum(axis=1)
    assert np.diff(found) == pytest.approx(np.diff(expected), rel=1e-9, abs=0)


def test_one_sweep_that_is_far_worse_than_its_interval_does_not_rule_the_truth_out(octagon):
    bad = replace(OCTAGON, ring=replace(OCTAGON.ring, joint_resistance=0.02))
    seen = as_predicted(bad)
    seen[1] = replace(seen[1], q_unloaded=seen[1].q_unloaded * 0.88)  # five standard deviations
    assert belief(octagon(seen), Cause.JOINTS) >= 0.05


def test_real_sweeps_with_noise_are_read_fitted_compared_and_diagnosed(octagon):
    rng = np.random.default_rng(3)
    sound = within_tolerance(OCTAGON, rng, Cause.COUPLING)
    bad = replace(sound, coupling=replace(sound.coupling, diameter=0.7 * (OCTAGON.coupling.diameter or 0.0)))
    prediction = predict(OCTAGON, SOLVED)
    measured = []
    for point in operating_points(bad, build_wires(bad), SOLVED):
        sweep = predicted_sweep(point, points=201)
        noise = 2e-3 * (rng.normal(size=201) + 1j * rng.normal(size=201))
        noisy = behind_cable(replace(sweep, response=sweep.response + noise), 0.4)
        measured.append(Measured.of(prove_sweep(OCTAGON, prediction, noisy)))
    assert octagon(measured).suspects[0].cause is Cause.COUPLING


def test_the_same_sweeps_get_the_same_answer_solved_anew_or_not(octagon, sound, twins):
    at = [
        replace(each, frequency=f) for each, f in zip(sound, twins["terrace octagon"].frequency, strict=True)
    ]
    assert diagnosis_document(octagon(at)) == diagnosis_document(diagnose(OCTAGON, at))


def test_progress_is_told_and_the_work_ends_when_the_listener_raises(sound):
    told = []

    class StopError(Exception):
        pass

    def listen(done, total, doing):
        told.append((done, total))
        if done == 3:
            raise StopError

    with pytest.raises(StopError):
        diagnose(OCTAGON, sound[:1], SOLVED, told=listen)
    assert told == [(0, 9), (1, 9), (2, 9), (3, 9)]


def test_no_sweep_is_no_diagnosis():
    with pytest.raises(OutOfRangeError, match="at least one sweep"):
        diagnose(OCTAGON, [])


@pytest.mark.parametrize("name", ["frequency", "q_unloaded", "q_spread", "coupling"])
@pytest.mark.parametrize("value", [0.0, -1.0, float("nan"), float("inf")])
def test_what_cannot_have_been_measured_is_refused(name, value):
    usual = {"frequency": 7e6, "q_unloaded": 500.0, "q_spread": 0.02, "coupling": 1.0}
    with pytest.raises(OutOfRangeError, match=name):
        Measured(**usual | {name: value})
