# SPDX-License-Identifier: BSD-3-Clause
"""The fit of sweeps with phase against sweeps whose truth is known: textbook resonators and coupled circuits."""

import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ringwright.errors import SweepFitError
from ringwright.proof.fit_result import ResonanceFit
from ringwright.proof.resonance_fit import fit_resonance
from ringwright.proof.sweep import SweepKind
from tests.proof.intervals import COVERED, tally
from tests.proof.sweeps import VELOCITY, Truth, complex_noise, grid, ring_and_loop, sweep_of


def codes(fit: ResonanceFit) -> set[str]:
    return {flag.code for flag in fit.flags}


def fitted(truth: Truth, *, widths=8.0, points=201, off_centre=0.0, noise=0.0, seed=0) -> ResonanceFit:
    f = grid(truth, widths=widths, points=points, off_centre=off_centre)
    s = truth.reflection(f) + complex_noise(np.random.default_rng(seed), points, noise)
    return fit_resonance(sweep_of(f, s))


HELD_OUT = [
    # widths, points, off centre, cable in metres, noise
    (1.5, 51, 0.0, 0.0, 1e-3),
    (2.0, 101, 0.2, 5.0, 1e-3),
    (4.0, 21, 0.0, 10.0, 1e-3),
    (6.0, 301, 0.45, 10.0, 5e-3),
    (10.0, 11, 0.0, 3.0, 1e-3),
    (10.0, 201, -0.3, 30.0, 5e-3),
    (30.0, 61, 0.3, 10.0, 1e-3),
    (100.0, 201, 0.1, 10.0, 1e-3),
    (100.0, 1001, -0.4, 20.0, 5e-3),
    (400.0, 2001, 0.3, 10.0, 1e-3),
]


@pytest.mark.parametrize("coupling", [0.3, 0.9, 2.0])
@pytest.mark.parametrize("q", [250.0, 1200.0])
@pytest.mark.parametrize(("widths", "points", "off_centre", "cable", "noise"), HELD_OUT)
def test_held_out_sweeps(widths, points, off_centre, cable, noise, q, coupling):
    truth = Truth(frequency=14.2e6, q=q, coupling=coupling, cable=cable)
    f = grid(truth, widths=widths, points=points, off_centre=off_centre)
    f = f[f > 1.5e6]
    rng = np.random.default_rng(points)
    s = ring_and_loop(f, f0=14.2e6, q=q, coupling=coupling, cable=cable)
    fit = fit_resonance(sweep_of(f, s + complex_noise(rng, len(f), noise)))
    # The contract's bars. Within them lies that the circuit's Q is that of the ring with its loop open, which differs
    # from the circle's by about coupling over Q.
    assert fit.q_unloaded.value == pytest.approx(q, rel=0.03, abs=0)
    assert fit.coupling.value == pytest.approx(coupling, rel=0.05, abs=0)


def test_without_noise_the_textbook_resonator_is_found_exactly():
    truth = Truth(q=1000.0, coupling=0.8, cable=12.0, loss=0.1)
    fit = fitted(truth)
    # The cable's root of frequency against our exponential, over a span of 1.4 %: 0.1/8 x 0.007^2 is 6e-7.
    assert fit.q_unloaded.value == pytest.approx(1000.0, rel=2e-6, abs=0)
    assert fit.q_loaded.value == pytest.approx(555.556, rel=3e-6, abs=0)  # 1000/1.8, six digits
    assert fit.coupling.value == pytest.approx(0.8, rel=2e-6, abs=0)
    assert fit.frequency.value == pytest.approx(truth.frequency, rel=1e-8, abs=0)
    assert fit.bandwidth_half_power.value == pytest.approx(7.1e6 / 1000.0, rel=2e-6, abs=0)
    assert fit.swr_min is not None
    assert fit.delay is not None
    # At the dip the reflection is (k - 1)/(k + 1) = -1/9: SWR 1.25, whatever the cable.
    assert fit.swr_min.value == pytest.approx(1.25, rel=2e-6, abs=0)
    assert fit.off_resonance.value == pytest.approx(np.exp(-0.1), rel=2e-6, abs=0)
    assert fit.delay.value == pytest.approx(2 * 12.0 / VELOCITY, rel=1e-4, abs=0)


def test_intervals_hold_the_truth_95_times_in_100():
    rng = np.random.default_rng(95)
    held, pulls = (np.array(each) for each in zip(*(tally(case, 60, rng) for case in COVERED), strict=True))
    # 60 sweeps tell 95 % to 2.8 %, 420 to 1.1 % (one standard deviation): four of each. `python -m
    # benchmarks.sweep_intervals` counts ten times as many.
    assert np.all(abs(held - 0.95) < 0.113), held
    assert np.all(abs(held.mean(axis=0) - 0.95) < 0.043), held.mean(axis=0)
    # An error over half its interval is 1/1.96 in the root of the mean square; 420 sweeps tell that to 3.5 %.
    assert np.sqrt((pulls**2).mean(axis=0)) * 1.96 == pytest.approx(1.0, rel=0.14, abs=0)


@settings(max_examples=25)  # two sweeps are fitted in each
@given(st.floats(0.0, 6.28), st.floats(0.3, 1.0), st.floats(0.2, 3.0))
def test_turning_and_shrinking_the_chart_changes_no_q(angle, scale, times):
    truth = Truth(coupling=0.7)
    f = grid(truth, widths=6.0, points=61)
    s = truth.reflection(f) + complex_noise(np.random.default_rng(4), 61, 1e-3)
    before = fit_resonance(sweep_of(f, s))
    # A constant loss is expected to be a cable's, which grows across the sweep; the sweep says otherwise.
    after = fit_resonance(sweep_of(f, s * scale * np.exp(1j * angle)))
    assert after.q_unloaded.value == pytest.approx(before.q_unloaded.value, rel=2e-3, abs=0)
    # All frequencies times the same: the same Q, as nothing but ratios and the cable's loss come in.
    moved = fit_resonance(sweep_of(f * times, s))
    assert moved.q_unloaded.value == pytest.approx(before.q_unloaded.value, rel=1e-5, abs=0)
    assert moved.frequency.value == pytest.approx(before.frequency.value * times, rel=1e-7, abs=0)


def test_mirrored_sweep_mirrors_the_answer():
    truth = Truth(coupling=1.7)
    f = grid(truth, widths=6.0, points=61, off_centre=0.2)
    s = truth.reflection(f) + complex_noise(np.random.default_rng(5), 61, 1e-3)
    there = fit_resonance(sweep_of(f, s))
    # Conjugate and backwards is the same circle; only the loss is expected to grow the other way.
    back = fit_resonance(sweep_of(2 * truth.frequency - f[::-1], s[::-1].conj()))
    assert back.q_unloaded.value == pytest.approx(there.q_unloaded.value, rel=1e-4, abs=0)
    assert back.coupling.value == pytest.approx(there.coupling.value, rel=1e-4, abs=0)


def test_four_times_the_points_halve_the_interval():
    few, many = (fitted(Truth(), points=n, noise=2e-3).q_unloaded.log_spread for n in (101, 401))
    # A noise estimate of 200 numbers is good to 5 %.
    assert few / many == pytest.approx(2.0, rel=0.15, abs=0)


def test_few_points_in_the_dip_are_flagged():
    assert "few_points" in codes(fitted(Truth(), widths=20.0, points=41, noise=1e-3))
    assert "few_points" not in codes(fitted(Truth(), widths=8.0, points=101, noise=1e-3))


def test_noise_is_flagged():
    assert "noise" in codes(fitted(Truth(), noise=0.03))
    assert "noise" not in codes(fitted(Truth(), noise=1e-3))


def test_an_analyser_out_of_calibration_is_flagged():
    truth = Truth()
    f = grid(truth, widths=8.0, points=201)
    s = 1.03 * truth.reflection(f) + complex_noise(np.random.default_rng(1), 201, 1e-3)
    fit = fit_resonance(sweep_of(f, s))
    assert "calibration" in codes(fit)
    assert fit.q_unloaded.value == pytest.approx(truth.q, rel=0.01, abs=0)
    assert "calibration" not in codes(fitted(truth, noise=2e-3))


def test_a_second_resonance_is_flagged_and_the_deeper_measured():
    one, other = Truth(), Truth(frequency=7.3e6, coupling=0.15)
    f = np.linspace(7.0e6, 7.4e6, 801)
    s = one.reflection(f) * other.reflection(f) + complex_noise(np.random.default_rng(1), 801, 1e-3)
    fit = fit_resonance(sweep_of(f, s))
    assert "second_resonance" in codes(fit)
    assert fit.frequency.value == pytest.approx(7.1e6, rel=1e-4, abs=0)
    assert "second_resonance" not in codes(fitted(one, widths=40.0, points=801, noise=1e-3))


def test_a_cable_left_in_the_sweep_is_flagged_and_measured():
    fit = fitted(Truth(cable=10.0, loss=0.1), noise=1e-3)
    assert "cable" in codes(fit)
    assert fit.delay is not None
    assert fit.delay.low < 2 * 10.0 / VELOCITY < fit.delay.high
    assert "cable" not in codes(fitted(Truth(), noise=1e-3))


def test_a_dip_at_the_edge_is_flagged_and_still_right():
    fit = fitted(Truth(), widths=6.0, off_centre=0.49, noise=1e-3)
    assert "dip_at_edge" in codes(fit)
    assert fit.q_unloaded.value == pytest.approx(800.0, rel=0.03, abs=0)


def test_two_dips_that_overlap_are_refused():
    one, other = Truth(), Truth(frequency=7.115e6)
    f = np.linspace(7.05e6, 7.15e6, 401)
    s = one.reflection(f) * other.reflection(f) + complex_noise(np.random.default_rng(1), 401, 1e-3)
    with pytest.raises(SweepFitError, match="more than one resonance"):
        fit_resonance(sweep_of(f, s))


F = np.linspace(7.0e6, 7.2e6, 201)
NOISE = complex_noise(np.random.default_rng(3), 201, 1.0)
NOTHING = {
    "noise alone": 0.3 * NOISE,
    "a match": 1e-3 * NOISE,
    "zeros": np.zeros(201),
    "an open end": np.ones(201),
    "an open end, noisy": 1.0 + 1e-3 * NOISE,
    "a cable alone": 0.9 * np.exp(-2j * np.pi * 2e-7 * F) + 1e-3 * NOISE,
    "the dip beyond the end": Truth(frequency=7.3e6).reflection(F) + 1e-3 * NOISE,
    "the dip just beyond the end": Truth(frequency=7.205e6, q=200.0).reflection(F) + 1e-3 * NOISE,
    "a dip of one point": Truth(q=40_000.0).reflection(F) + 1e-3 * NOISE,
    "a dip in the noise": Truth(coupling=0.002).reflection(F) + 1e-2 * NOISE,
    "a slow bend": Truth(q=4.0).reflection(F) + 1e-3 * NOISE,
    "a step": np.where(F < 7.1e6, 0.9, 0.4) + 1e-3 * NOISE,
}


@pytest.mark.parametrize("response", NOTHING.values(), ids=NOTHING.keys())
def test_what_is_no_resonance_is_refused_with_a_sentence(response):
    with pytest.raises(SweepFitError, match=r"^made\.s1p: [^\n]+; [^\n]+$"):
        fit_resonance(sweep_of(F, response))


def test_eight_points_are_refused():
    with pytest.raises(SweepFitError, match=r"points with phase, 8; .* 9 or more"):
        fitted(Truth(), points=8)


def test_random_walks_are_hardly_ever_answered_and_never_without_end():
    rng = np.random.default_rng(8)
    answered, slowest = 0, 0.0
    for _ in range(20):
        f = np.sort(rng.uniform(1e6, 5e7, rng.integers(9, 60)))
        s = np.cumsum(complex_noise(rng, len(f), 0.1))
        start = time.process_time()
        for kind in (SweepKind.REFLECTION, SweepKind.TRANSMISSION):
            try:
                fit_resonance(sweep_of(f, s / max(1.0, abs(s).max()), kind))
                answered += 1
            except SweepFitError:
                pass
        slowest = max(slowest, time.process_time() - start)
    assert answered <= 1
    assert slowest < 5.0  # evaluations are bounded; 0.1 s where this was written


@pytest.mark.parametrize("points", [101, 201, 401, 1001])
def test_a_hundred_widths_are_cut_to_the_dip(points):
    fit = fitted(Truth(cable=10.0), widths=100.0, points=points, noise=1e-3)
    assert "cut" in codes(fit)
    assert fit.q_unloaded.value == pytest.approx(800.0, rel=0.03, abs=0)
    assert fit.last - fit.first < 0.2 * points


def test_transmission_between_weak_probes_gives_the_unloaded_q():
    # Equal probes of coupling k each: |S21| = 2k/(1 + 2k) at resonance, Q0 = Q_L (1 + 2k).
    k, q = 0.01, 900.0
    f = np.linspace(7.05e6, 7.15e6, 301)
    x = q / (1 + 2 * k) * (f / 7.1e6 - 7.1e6 / f)
    s = (2 * k / (1 + 2 * k) / (1 + 1j * x) + 2e-4j) * np.exp(-2j * np.pi * 3e-8 * f)  # peak, leak, cable
    fit = fit_resonance(
        sweep_of(f, s + complex_noise(np.random.default_rng(2), 301, 1e-5), SweepKind.TRANSMISSION)
    )
    # Noise of 1/2000 of the peak at 300 points.
    assert fit.q_unloaded.value == pytest.approx(q, rel=2e-3, abs=0)
    assert fit.coupling.value == pytest.approx(2 * k, rel=2e-3, abs=0)
    assert fit.q_unloaded.low < q < fit.q_unloaded.high
    assert fit.swr_min is None
    assert "probes_load" in codes(fit)
