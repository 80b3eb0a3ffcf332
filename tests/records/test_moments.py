# SPDX-License-Identifier: BSD-3-Clause
"""Any two moments side by side: which sweeps speak for the ring as it was, and what is told of it."""

from datetime import timedelta

import numpy as np
import pytest
from scipy import stats

from ringwright.records.comparison import compare_sweeps
from ringwright.records.entries import NoteKind
from ringwright.records.moments import compare_moments
from tests.records.recording import START
from tests.records.sweeps_at import note_at, sweep_at


def at(days):
    return START + timedelta(days=days)


def compared(sweeps, notes, before, after):
    return compare_moments(sweeps, notes, before=at(before), after=at(after))


BEFORE = [sweep_at(day, q=q) for day, q in ((1, 400.0), (5, 410.0), (9, 396.0))]
AFTER = [sweep_at(day, q=q) for day, q in ((21, 600.0), (25, 612.0))]
MENDED = note_at(15, NoteKind.JOINT, "joint 5 remade")


def test_where_the_ring_was_changed_all_sweeps_of_either_build_speak():
    found = compared([*BEFORE, *AFTER], [MENDED], 9, 25)
    assert found.has_changed
    (change,) = found.comparison.bands
    assert change.sweeps_before == tuple(sweep.number for sweep in BEFORE)
    assert change.sweeps_after == tuple(sweep.number for sweep in AFTER)
    assert change.ratio == compare_sweeps(BEFORE, AFTER, names=("a", "b"), notes=()).bands[0].ratio
    assert [note.text for note in found.comparison.notes] == ["joint 5 remade"]


@pytest.mark.parametrize(("moment", "spoken"), [(14.9, BEFORE), (15, AFTER), (15.1, AFTER)])
def test_the_moment_of_a_change_belongs_to_the_ring_after_it(moment, spoken):
    other = 25 if spoken is BEFORE else 9
    (change,) = compared([*BEFORE, *AFTER], [MENDED], *sorted((moment, other))).comparison.bands
    numbers = tuple(sweep.number for sweep in spoken)
    assert numbers in (change.sweeps_before, change.sweeps_after)


def test_within_one_build_the_sweep_nearest_before_each_moment_speaks():
    found = compared([*BEFORE, *AFTER], [MENDED], 6, 10)
    assert not found.has_changed
    (change,) = found.comparison.bands
    assert (change.sweeps_before, change.sweeps_after) == ((5 * 24,), (9 * 24,))
    assert change.is_without_repeat


def test_before_the_first_sweep_the_first_one_speaks():
    (change,) = compared(BEFORE, [], -30, 7).comparison.bands
    assert (change.sweeps_before, change.sweeps_after) == ((24,), (5 * 24,))


def test_another_name_of_the_build_is_a_change_and_rain_is_none():
    sweeps = [sweep_at(1, q=400.0, build="as built"), sweep_at(9, q=500.0, build="thicker strap")]
    assert compared(sweeps, [], 2, 10).has_changed
    assert not compared(BEFORE, [note_at(6, NoteKind.RAIN)], 2, 10).has_changed
    unnamed = [
        sweep_at(1, q=400.0, build="as built"),
        sweep_at(4, q=402.0),
        sweep_at(9, q=401.0, build="as built"),
    ]
    assert not compared(unnamed, [], 2, 10).has_changed


def test_the_earlier_moment_comes_first_whichever_was_picked_first():
    assert compared(BEFORE, [], 9, 1) == compared(BEFORE, [], 1, 9)


@pytest.mark.parametrize(("before", "after"), [(5, 6), (20, 30), (-9, -5)])
def test_moments_that_one_sweep_speaks_for_are_no_comparison(before, after):
    found = compared(BEFORE, [], before, after)
    assert found.comparison.bands == ()
    assert found.why_not is not None
    assert "choose moments further apart" in found.why_not


def test_two_sweeps_at_different_frequencies_tell_the_shift_with_both_intervals_in_square():
    sweeps = [sweep_at(1, q=400.0, frequency=7.1e6), sweep_at(2, q=400.0, frequency=7.09e6)]
    (change,) = compared(sweeps, [], 1, 2).comparison.bands
    assert change.frequency_change.value == pytest.approx(-10e3, rel=1e-9, abs=0)
    # Both fits know their frequency to 30 Hz.
    assert change.frequency_change.high + 10e3 == pytest.approx(30.0 * 2.0**0.5, rel=1e-6, abs=0)
    # The radiation resistance of a small loop goes with the fourth power of the frequency (C. A. Balanis, Antenna
    # Theory, 4th ed., 2016, sec. 5.2; section from memory).
    wider = np.log(change.resistance_ratio.high / change.resistance_ratio.value)
    assert wider == pytest.approx(4.0 * np.log(7.1 / 7.09) + 0.02 * 2.0**0.5, rel=1e-9, abs=0)


def test_frequencies_that_scatter_have_student_s_interval():
    spread = (0.0, 900.0, -400.0, 300.0)
    sweeps = [sweep_at(k, q=400.0, frequency=7.1e6 + f) for k, f in enumerate(spread)]
    later = [sweep_at(21 + k, q=400.0, frequency=7.1e6) for k in range(2)]
    (change,) = compared([*sweeps, *later], [MENDED], 3, 22).comparison.bands
    mean = stats.ttest_1samp(spread, 0.0).confidence_interval(0.95)
    assert change.frequency_before.high - 7.1e6 == pytest.approx(mean.high, rel=1e-6, abs=0)
