# SPDX-License-Identifier: BSD-3-Clause
"""What an SWR meter tells: width and depth of the dip, not its side."""

import numpy as np
import pytest

from ringwright.errors import SweepFitError
from ringwright.physics.checks import FloatArray
from ringwright.proof.fit_result import ResonanceFit
from ringwright.proof.readings import parse_readings
from ringwright.proof.resonance_fit import fit_resonance
from ringwright.proof.sweep import SweepKind
from ringwright.proof.swr_fit import as_over_coupled
from tests.proof.sweeps import Truth, grid, sweep_of

SWEEPS = 150


def swr_fit(
    truth: Truth, f: FloatArray, error: FloatArray | float = 0.0, *, cable: float = 1.0
) -> ResonanceFit:
    size = abs(abs(truth.reflection(f)) + error)
    return fit_resonance(sweep_of(f, size.astype(complex), SweepKind.SWR), off_resonance=cable)


def test_five_readings_from_a_meter():
    # A resonator of Q0 1000 and coupling 0.8 at 14.2 MHz, least SWR 1.25; digits by another program (Kajfez, 1994):
    # 1.4680 at 2 kHz, 2.2193 at 5 kHz, 4.2969 at 10 kHz beside it, as a meter would show them.
    text = "14.190 MHz 4.30; 14.195 MHz 2.22; 14.200 MHz 1.25; 14.205 MHz 2.22; 14.210 MHz 4.30"
    fit = fit_resonance(parse_readings(text))
    # Half of the last digit is 0.4 % of the least SWR and as much of the width.
    assert fit.q_loaded.value == pytest.approx(1000 / 1.8, rel=0.01, abs=0)
    assert fit.swr_min is not None
    assert fit.swr_min.value == pytest.approx(1.25, rel=0.01, abs=0)
    assert fit.q_unloaded.value == pytest.approx(1000.0, rel=0.01, abs=0)
    assert fit.frequency.value == pytest.approx(14.2e6, rel=0.02 / 556, abs=0)


def test_the_side_of_the_match_is_said_to_be_unknown():
    truth = Truth(coupling=0.5)
    fit = swr_fit(truth, grid(truth, widths=3.0, points=9))
    sentence = {flag.code: flag.text for flag in fit.flags}["ambiguous_coupling"]
    # Q_L 533.3; with k = 0.5 Q0 is 800, with k = 2 it is 1600.
    assert "under-coupled the unloaded Q is 800, over-coupled 1600" in sentence
    for estimate, under, over in ((fit.q_unloaded, 800, 1600), (fit.coupling, 0.5, 2.0)):
        assert estimate.low <= under
        assert over <= estimate.high
    other = as_over_coupled(fit)
    assert other.q_unloaded.value == pytest.approx(1600, rel=1e-4, abs=0)
    assert other.coupling.value == pytest.approx(2.0, rel=1e-4, abs=0)
    assert (other.q_unloaded.low, other.q_unloaded.high) == (fit.q_unloaded.low, fit.q_unloaded.high)


@pytest.mark.parametrize("coupling", [0.3, 1.0, 3.0])
def test_the_same_curve_on_either_side(coupling):
    one, other = Truth(coupling=coupling), Truth(coupling=1 / coupling)
    f = grid(one, widths=4.0, points=31)
    # The same loaded Q and the reciprocal coupling show the same SWR.
    other = Truth(coupling=1 / coupling, q=one.q_loaded * (1 + 1 / coupling))
    assert abs(one.reflection(f)) == pytest.approx(abs(other.reflection(f)), rel=1e-9, abs=1e-12)
    assert swr_fit(one, f).q_loaded.value == pytest.approx(one.q_loaded, rel=1e-4, abs=0)


@pytest.mark.parametrize(
    ("widths", "points", "coupling", "error"),
    [(3.0, 5, 0.8, 0.01), (4.0, 9, 0.4, 0.01), (10.0, 101, 0.7, 3e-3)],
)
def test_intervals_hold_the_truth_95_times_in_100(widths, points, coupling, error):
    truth = Truth(q=600.0, coupling=coupling)
    rng, count, sweeps = np.random.default_rng(5), np.zeros(4), 0
    for _ in range(SWEEPS):
        f = grid(truth, widths=widths, points=points)
        f = f + rng.uniform(-0.5, 0.5) * (f[1] - f[0])
        try:
            fit = swr_fit(truth, f, error * rng.normal(size=points))
        except SweepFitError:
            continue  # five readings with an error of 2 % of the dip may tell no width: rare, counted below
        assert fit.swr_min is not None
        sweeps += 1
        found = (fit.frequency, fit.q_loaded, fit.swr_min, fit.q_unloaded)
        expected = (truth.frequency, truth.q_loaded, max(coupling, 1 / coupling), truth.q)
        count += [e.low <= value <= e.high for e, value in zip(found, expected, strict=True)]
    assert sweeps > 0.96 * SWEEPS
    # 150 sweeps tell 95 % to 1.8 %, three of it; the unloaded Q's interval spans both sides and may hold it more often.
    assert np.all(abs(count[:3] / sweeps - 0.95) < 0.055), count / sweeps
    assert count[3] / sweeps > 0.91


def test_a_wide_sweep_shows_the_cable_s_loss_and_a_narrow_one_is_told_it():
    truth = Truth(loss=0.12)
    rng = np.random.default_rng(6)
    wide = grid(truth, widths=10.0, points=201)
    seen = swr_fit(truth, wide, 2e-3 * rng.normal(size=201))
    assert "assumed_cable" not in {flag.code for flag in seen.flags}
    assert seen.off_resonance.value == pytest.approx(np.exp(-0.12), rel=5e-3, abs=0)
    narrow = grid(truth, widths=2.5, points=9)
    told = swr_fit(truth, narrow, 2e-3 * rng.normal(size=9), cable=float(np.exp(-0.12)))
    assert "assumed_cable" in {flag.code for flag in told.flags}
    for fit in (seen, told):
        assert fit.q_unloaded.value == pytest.approx(800.0, rel=0.03, abs=0)
    # Not told, it takes the loss for loss of the ring.
    assert swr_fit(truth, narrow, 0.0).q_loaded.value < 0.97 * truth.q_loaded


def test_readings_rounded_to_whole_numbers_widen_the_interval():
    # On the curve of a match by luck: residuals alone would claim no error at all.
    coarse = fit_resonance(parse_readings("7.0 MHz 11; 7.01 MHz 4; 7.02 MHz 1; 7.03 MHz 4; 7.04 MHz 11"))
    assert coarse.noise > 0.02
    assert coarse.q_loaded.log_spread > 0.1


def as_typed(truth: Truth, *, spacing: float, count: int, off_centre: float, scale_ends: float) -> str:
    """Readings so many loaded widths apart of a meter whose scale ends there."""
    f = np.asarray(truth.frequency + truth.width * spacing * (np.arange(count) - count // 2 + off_centre))
    size = abs(truth.reflection(f))
    swr = np.minimum((1 + size) / (1 - size), scale_ends)
    return "; ".join(f"{a / 1e6:.6f} MHz {b:.1f}" for a, b in zip(f, swr, strict=True))


@pytest.mark.parametrize("scale_ends", [10.0, 25.0, 999.0])
@pytest.mark.parametrize("loss", [0.0, 0.1])
def test_readings_too_coarse_for_the_dip_are_told_so_and_never_answered_with_another_dip(scale_ends, loss):
    truth = Truth(q=700.0, loss=loss)
    told = 0
    for spacing in (1.0, 2.0, 3.0, 10.0):
        for count, off_centre in ((5, 0.0), (9, 0.25), (7, 0.5)):
            typed = as_typed(
                truth, spacing=spacing, count=count, off_centre=off_centre, scale_ends=scale_ends
            )
            try:
                fit = fit_resonance(parse_readings(typed), off_resonance=float(np.exp(-loss)))
            except SweepFitError as refusal:
                told += "kHz apart, too far for this dip" in str(refusal)
            else:
                assert fit.q_loaded.low < truth.q_loaded < fit.q_loaded.high
                assert "few_points" in {flag.code for flag in fit.flags}
    assert told >= 7  # of twelve; readings a width apart may still do, seldom two


def test_too_coarse_readings_hear_how_close_to_take_them():
    # The dip is 18 kHz wide.
    text = "7.00 MHz 10; 7.05 MHz 10; 7.10 MHz 1.3; 7.15 MHz 10; 7.20 MHz 10"
    with pytest.raises(
        SweepFitError, match=r"50 kHz apart.*1 of them lies well inside it.*7\.1 MHz, 12 kHz apart or closer"
    ):
        fit_resonance(parse_readings(text))


BAD = {
    "four readings": ("7.0 MHz 3; 7.01 MHz 2; 7.02 MHz 1.2; 7.03 MHz 2", "4 readings are too few"),
    "all the same": ("7.0 MHz 2; 7.1 MHz 2; 7.2 MHz 2; 7.3 MHz 2; 7.4 MHz 2", ""),
    "falling": ("7.0 MHz 6; 7.01 MHz 5; 7.02 MHz 4; 7.03 MHz 3; 7.04 MHz 2", ""),
    "at random": ("7.0 MHz 2; 7.1 MHz 5; 7.2 MHz 1.1; 7.3 MHz 6; 7.4 MHz 1.3; 7.5 MHz 9", ""),
}


@pytest.mark.parametrize(("text", "words"), BAD.values(), ids=BAD.keys())
def test_readings_that_show_no_dip_are_refused(text, words):
    with pytest.raises(SweepFitError, match=r"^readings: [^\n]+; [^\n]+$") as caught:
        fit_resonance(parse_readings(text))
    assert words in str(caught.value)
