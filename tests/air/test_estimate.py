# SPDX-License-Identifier: BSD-3-Clause
"""The middle of clustered differences: the textbook's interval where it holds, and what wild ones may do to it."""

import numpy as np
import pytest
from scipy import stats

from ringwright.air.estimate import interval, location, middle, receiver_weights, variances

# D. C. Montgomery, Design and Analysis of Experiments (strength of fabric, four looms at random, four pieces each;
# random-effects model): mean squares 29.73 and 1.90, variance of looms 6.96. Data and results are from memory.
LOOMS = np.array([[98, 97, 99, 96], [91, 90, 93, 92], [96, 95, 97, 95], [95, 96, 99, 98]], dtype=float)
LOOM = np.repeat(np.arange(4), 4)


def test_variance_components_of_montgomerys_looms():
    between, within = variances(LOOMS.ravel(), LOOM)
    assert within == pytest.approx(1.90, rel=3e-3, abs=0)
    assert between == pytest.approx(6.96, rel=1e-3, abs=0)
    # The F statistic of the same table, by the reference library.
    ratio = stats.f_oneway(*LOOMS).statistic
    assert (within + 4.0 * between) / within == pytest.approx(ratio, rel=1e-12, abs=0)


def test_interval_of_balanced_looms_is_the_classical_one():
    # Mean +- t(3) sqrt(MS_looms / 16), by scipy on the means of the looms, which are the independent values.
    values = LOOMS.ravel()
    equal = np.full(16, 1.0 / 16.0)
    found = interval(
        values.mean(),
        equal * (values - values.mean()),
        shares=equal,
        receiver=LOOM,
        half_stretch=np.arange(16) * 100,  # no two at one time
        spread=1.0,
    )
    means = LOOMS.mean(axis=1)
    assert found.error == pytest.approx(stats.sem(means), rel=0.03, abs=0)
    low, high = stats.t.interval(0.95, 3, loc=means.mean(), scale=stats.sem(means))
    # Time's own share, here nothing but chance, is in it too: 3 per mille of the middle wider at most.
    assert found.low == pytest.approx(low, rel=0.004, abs=0)
    assert found.high == pytest.approx(high, rel=0.004, abs=0)
    assert found.receivers == pytest.approx(4.0)


def test_independent_normal_differences_give_the_interval_of_students_t():
    rng = np.random.default_rng(3)
    count, hits, widths = 60, 0, []
    for _ in range(400):
        values = rng.normal(2.0, 3.0, size=count)
        found = middle(values, np.arange(count), time=np.linspace(0.0, 1.0, count) * 1e6, stretch=1.0)
        assert found is not None
        hits += found.low <= 2.0 <= found.high
        widths.append((found.high - found.low) / 2.0)
    # 400 draws: 95 % within three standard errors of the share.
    assert 0.917 < hits / 400 < 0.983
    assert np.median(widths) == pytest.approx(stats.t.ppf(0.975, 59) * 3.0 / np.sqrt(60.0), rel=0.12, abs=0)


def test_biweight_location_is_nearly_as_good_as_the_mean_on_normal_values():
    rng = np.random.default_rng(5)
    drawn = rng.normal(size=(2000, 50))
    found = [location(values, np.ones(50))[0] for values in drawn]
    # 95 % efficient (Huber and Ronchetti), with sampling error of the variance 3 %.
    assert np.var(drawn.mean(axis=1)) / np.var(found) == pytest.approx(0.95, rel=0.07, abs=0)


def test_a_fifth_of_wild_values_moves_the_middle_by_less_than_their_neighbours_do():
    rng = np.random.default_rng(7)
    values = rng.normal(0.0, 1.0, size=500)
    values[:100] += 30.0
    assert location(values, np.ones(500))[0] == pytest.approx(0.0, abs=0.2)
    assert values.mean() > 5.0


def test_a_busy_receiver_counts_for_no_more_than_it_can_tell():
    rng = np.random.default_rng(9)
    receiver = np.repeat(np.arange(20), 10).tolist() + [20] * 800
    own = rng.normal(0.0, 3.0, size=21)
    values = own[receiver] + rng.normal(size=len(receiver))
    weight = receiver_weights(values, np.array(receiver))
    busy = weight[200:].sum() / weight.sum()
    # Variances 9 and 1: a receiver with ten counts 1 / (9 + 0.1), one with 800 about 1 / 9.
    assert busy == pytest.approx(1.0 / 21.0, rel=0.15, abs=0)


def test_one_receiver_has_no_interval():
    assert middle(np.arange(9.0), np.zeros(9, dtype=int), time=np.arange(9.0), stretch=1.0) is None


def test_equal_whole_decibels_are_not_known_to_nothing():
    found = middle(np.full(10, 3.0), np.arange(10), time=np.arange(10.0) * 1e5, stretch=1.0)
    assert found is not None
    # sqrt(2/12) dB each, ten of them, Student's t with 9 degrees.
    assert (found.high - found.low) / 2.0 == pytest.approx(
        0.4 / np.sqrt(10.0) * stats.t.ppf(0.975, 9), rel=0.02, abs=0
    )
