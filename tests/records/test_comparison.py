# SPDX-License-Identifier: BSD-3-Clause
"""Two builds side by side: the factor of Q with an interval that is right, and no change claimed where none shows."""

from datetime import timedelta

import numpy as np
import pytest
from scipy import stats

from ringwright.errors import NoSuchEntryError
from ringwright.records.comparison import compare_sweeps
from ringwright.records.entries import NoteKind
from tests.records.recording import START, add
from tests.records.sweeps_at import sweep_at


def compared(before, after):
    (change,) = compare_sweeps(before, after, names=("a", "b"), notes=()).bands
    return change


def test_one_sweep_each_is_the_ratio_with_both_intervals_in_square(records):
    add(records, b"1", q=400.0, spread=0.03, build="as built")
    records.add_note("joint 5 remade", at=START + timedelta(days=1), kind=NoteKind.JOINT)
    add(records, b"2", q=600.0, spread=0.04, build="remade", days=2)
    comparison = records.compare("as built", "remade")
    (change,) = comparison.bands
    assert change.ratio.value == pytest.approx(1.5, rel=1e-12, abs=0)
    # Two independent relative errors of 3 and 4 % make 5 % of their quotient.
    assert change.ratio.high == pytest.approx(1.5 * np.exp(0.05), rel=1e-12, abs=0)
    assert change.ratio.low == pytest.approx(1.5 * np.exp(-0.05), rel=1e-12, abs=0)
    assert change.gain_db.value == pytest.approx(
        1.7609, rel=1e-4, abs=0
    )  # 10 log10(1.5), table of logarithms
    assert change.is_told_apart
    assert change.is_without_repeat
    assert [note.text for note in comparison.notes] == ["joint 5 remade"]
    assert records.compare("1", "2").bands == comparison.bands


def test_intervals_that_overlap_too_far_tell_no_change(records):
    add(records, b"1", q=590.0, spread=0.03, build="as built")
    add(records, b"2", q=600.0, spread=0.04, build="remade", days=2)
    (change,) = records.compare("as built", "remade").bands
    assert not change.is_told_apart
    assert change.gain_db.low < 0.0 < change.gain_db.high


def test_each_band_is_compared_with_itself_lowest_first(records):
    for number, (band, f, build, q) in enumerate(
        [("20m", 14.1e6, "a", 300.0), ("40m", 7.1e6, "a", 600.0), ("40m", 7.1e6, "b", 660.0),
         ("20m", 14.1e6, "b", 270.0), ("30m", 10.1e6, "b", 500.0)]
    ):  # fmt: skip
        add(records, b"%d" % number, band=band, frequency=f, build=build, q=q)
    bands = records.compare("a", "b").bands
    assert [change.band for change in bands] == ["40m", "20m"]
    assert [change.ratio.value for change in bands] == pytest.approx([1.1, 0.9], rel=1e-12, abs=0)


def test_scatter_wider_than_the_fits_say_widens_the_interval_by_student_s_t():
    q = np.array([500.0, 560.0, 530.0, 610.0])
    change = compared(
        [sweep_at(0, q=1000.0, spread=1e-6)], [sweep_at(k, q=v, spread=0.001) for k, v in enumerate(q)]
    )
    mean = stats.ttest_1samp(np.log(q / 1000.0), 0.0).confidence_interval(0.95)
    assert np.log(change.ratio.low) == pytest.approx(
        mean.low, rel=1e-6, abs=0
    )  # the other side's 1e-6 is beside it
    assert np.log(change.ratio.high) == pytest.approx(mean.high, rel=1e-6, abs=0)


@pytest.mark.parametrize("sweeps", [1, 3])
def test_the_interval_covers_the_truth_in_95_of_100(sweeps):
    rng = np.random.default_rng(95)
    covered, told = 0, 0
    for _ in range(1000):
        noise = rng.normal(scale=0.05 / 1.959964, size=(2, sweeps))
        before, after = (
            [sweep_at(k, q=600.0 * np.exp(e), spread=0.05) for k, e in enumerate(row)] for row in noise
        )
        change = compared(before, after)
        covered += change.ratio.low <= 1.0 <= change.ratio.high
        told += change.is_told_apart
    # Of 1000 at 95 % 929 or more are covered but once in 500; the wider of two intervals covers more than 95 %.
    assert covered >= 929
    assert told == 1000 - covered
    if sweeps == 1:
        assert covered <= 970


def test_builds_measured_at_different_frequencies_are_compared_less_sharply():
    # A ring that only radiates: resistance as f^4, reactance slope constant, Q = f X'/(2 R) as f^-3, nothing changed.
    before, after = (
        sweep_at(0, q=600.0, frequency=7.00e6),
        sweep_at(1, q=600.0 * (7.2 / 7.0) ** -3, frequency=7.20e6),
    )
    assert not compared([before], [after]).is_told_apart
    assert compared([before], [sweep_at(1, q=after.result.q_unloaded.value, frequency=7.00e6)]).is_told_apart


@pytest.mark.parametrize(
    ("before", "after"), [("as built", "nowhere"), ("99", "as built"), ("as built", "other band")]
)
def test_what_cannot_be_compared_is_one_sentence_with_what_there_is(records, before, after):
    add(records, b"1", build="as built")
    add(records, b"2", build="other band", band="20m")
    with pytest.raises(NoSuchEntryError, match="as built"):
        records.compare(before, after)
