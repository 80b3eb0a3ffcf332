# SPDX-License-Identifier: BSD-3-Clause
"""A against B: pairs that are pairs, and intervals that hold the truth of made-up campaigns."""

from dataclasses import replace

import numpy as np
import pytest

from ringwright.air.comparison import clear_of_floor, compare
from ringwright.air.pairs import at_one_watt, find_pairs
from ringwright.air.verdict import more, verdict
from ringwright.errors import ReportsError
from tests.air.campaigns import START, Campaign, made, reports_of


def few(times, receivers, antennas, *, snr=None, power=5.0):
    count = len(times)
    return reports_of(
        START + np.array(times, dtype=float),
        receiver=np.array(receivers),
        snr=np.zeros(count) if snr is None else np.array(snr, dtype=float),
        power=np.full(count, power),
        antenna=np.array(antennas),
    )


def pairs_of(reports, within=600.0):
    a = reports.antenna == 0
    pairs = find_pairs(reports, a, ~a, within=within)
    return sorted(zip(pairs.first.tolist(), pairs.second.tolist(), strict=True))


def test_the_closest_in_time_make_a_pair_and_each_report_only_one():
    assert pairs_of(few([0, 200, 300, 900], [0, 0, 0, 0], [0, 0, 1, 1])) == [(1, 2)]
    assert pairs_of(few([0, 100, 250, 300], [0, 0, 0, 0], [0, 1, 0, 1])) == [(0, 1), (2, 3)]


def test_pairs_share_receiver_band_mode_and_direction():
    reports = few([0, 10], [0, 1], [0, 1])
    assert pairs_of(reports) == []
    reports = few([0, 10], [0, 0], [0, 1])
    assert pairs_of(reports) == [(0, 1)]
    for name, other in (("band", [5, 6]), ("mode", [0, 1]), ("heard_me", [True, False])):
        changed = replace(reports, **{name: np.array(other, dtype=getattr(reports, name).dtype)})
        assert pairs_of(changed) == []


def test_pairs_too_far_apart_in_time_are_none():
    assert pairs_of(few([0, 600], [0, 0], [0, 1])) == [(0, 1)]
    assert pairs_of(few([0, 601], [0, 0], [0, 1])) == []


def test_power_is_taken_out():
    reports = few([0, 10], [0, 0], [0, 1], snr=[10.0, 0.0])
    reports = replace(reports, power=np.array([50.0, 5.0]))
    a = reports.antenna == 0
    assert find_pairs(reports, a, ~a, within=60.0).difference[0] == pytest.approx(0.0, abs=1e-9)


def test_reports_without_power_are_not_compared():
    reports = few([0, 10], [0, 0], [0, 1])
    assert pairs_of(replace(reports, power=np.array([np.nan, 5.0]))) == []


CAMPAIGNS = [
    Campaign(reports=200, true_db=-4.0, receivers=20, slot=300.0),
    Campaign(reports=1000, true_db=3.0, slot=300.0),
    Campaign(reports=2000, true_db=-3.0, slot=120.0),
    Campaign(reports=2000, true_db=-4.0, slot=300.0, floor=-24.0),
]


@pytest.mark.parametrize("campaign", CAMPAIGNS, ids=lambda c: f"{c.reports}-{c.floor}")
def test_the_interval_holds_the_truth_and_the_mean_error_is_small(campaign):
    # benchmarks/air_campaigns.py draws thousands; here enough to see a broken interval.
    rng = np.random.default_rng(2026)
    hits, errors = 0, []
    for _ in range(60):
        found = compare(made(campaign, rng), "A", "B").found
        assert found is not None
        hits += found.low <= campaign.true_db <= found.high
        errors.append(found.value - campaign.true_db)
    assert hits >= 51  # of 60 at 95 %: fewer in one of 2000 draws
    assert abs(np.mean(errors)) < 0.2 + 3.0 * np.std(errors) / np.sqrt(60.0)


def test_naive_averages_are_off_by_more_than_a_decibel_where_the_comparison_is_not():
    campaign = Campaign(reports=3000, true_db=-3.0, receivers=8, slot=300.0)
    rng = np.random.default_rng(4)
    naive, paired = [], []
    for _ in range(30):
        reports = made(campaign, rng)
        a, level = reports.antenna == 0, at_one_watt(reports)
        naive.append(level[a].mean() - level[~a].mean() - campaign.true_db)
        paired.append((compare(reports, "A", "B").difference or np.nan) - campaign.true_db)
    assert abs(np.mean(naive)) > 1.0
    assert abs(np.mean(paired)) < 0.2


def test_a_floor_pulls_pairs_together_and_they_are_left_out():
    campaign = Campaign(reports=4000, true_db=-6.0, slot=120.0, floor=-20.0, fading=1.0, wrong=0.0)
    reports = made(campaign, np.random.default_rng(1))
    a = reports.antenna == 0
    pairs = find_pairs(reports, a, ~a, within=1200.0)
    clear = clear_of_floor(pairs, reports.snr)
    assert len(clear) < len(pairs)
    assert abs(np.median(clear.difference) + 6.0) < abs(np.median(pairs.difference) + 6.0) - 0.5


def test_more_pairs_are_needed_until_the_interval_is_a_decibel_each_way():
    rng = np.random.default_rng(8)
    small = compare(made(Campaign(reports=300, true_db=2.0, slot=120.0), rng), "A", "B")
    assert small.found is not None
    half = (small.found.high - small.found.low) / 2.0
    assert half > 1.0
    assert small.more_needed == pytest.approx(small.pairs * (half**2 - 1.0), abs=1.0)
    quiet = Campaign(reports=8000, true_db=2.0, slot=120.0, fading=0.5, slot_fading=0.2, noise=1.0)
    large = compare(made(quiet, rng), "A", "B")
    assert large.more_needed == 0
    assert more(large) == "The difference is known to 1 dB or better."


def test_a_and_b_exchanged_change_only_the_sign():
    reports = made(Campaign(reports=1000, true_db=2.0), np.random.default_rng(6))
    one, other = compare(reports, "a", "B"), compare(reports, "B", "A")
    assert one.found is not None
    assert other.found is not None
    assert one.found.value == pytest.approx(-other.found.value, rel=1e-6)
    assert one.found.low == pytest.approx(-other.found.high, rel=1e-6)


def test_the_verdict_says_better_worse_or_not_told_apart():
    rng = np.random.default_rng(12)
    clear = compare(made(Campaign(reports=4000, true_db=-8.0, slot=120.0), rng), "A", "B")
    assert verdict(clear).startswith("A is worse than B by ")
    alike = compare(made(Campaign(reports=300, true_db=0.0, slot=120.0), rng), "A", "B")
    assert verdict(alike).startswith("A and B are not told apart: ")
    none = compare(few([0, 10], [0, 0], [0, 1]), "A", "B")
    assert verdict(none).startswith("A and B cannot be compared yet: 1 pair from 1 receiver")
    assert (none.difference, none.more_needed) == (0.0, None)


def test_antennas_that_no_report_names_are_refused_with_those_it_does():
    reports = few([0, 10], [0, 0], [0, 1])
    with pytest.raises(ReportsError, match='"dipole"; the reports name "A", "B"'):
        compare(reports, "A", "dipole")
    with pytest.raises(ReportsError, match="itself"):
        compare(reports, "A", "a")


def test_a_sparse_campaign_is_paired_further_apart_in_time():
    reports = few([0, 3000, 20_000, 23_000], [0, 0, 1, 1], [0, 1, 0, 1])
    found = compare(reports, "A", "B")
    assert (found.pairs, found.within) == (2, 10_800.0)
    assert compare(reports, "A", "B", within=600.0).pairs == 0
