# SPDX-License-Identifier: BSD-3-Clause
"""The null found from reports of made-up rings that were turned, or not."""

import numpy as np
import pytest

from ringwright.air.locator import Place
from ringwright.air.null_fit import figure_of_eight, fit_null
from ringwright.air.sentences import null_words
from ringwright.air.summary import Paths
from ringwright.errors import ReportsError
from tests.air.campaigns import reports_of

HOME = Place(latitude=0.0, longitude=0.0, uncertainty=0.0)


def heard(rng, *, planes, plane, depth, receivers=40, each=6, offsets=8.0):
    """Reports of a ring whose plane lies `plane` degrees from where it was thought to point."""
    count = receivers * each * len(planes)
    receiver = np.arange(count) % receivers
    turned = np.repeat(np.asarray(planes, dtype=float), receivers * each)
    bearing = rng.uniform(0.0, 360.0, size=receivers)[receiver]
    gain = figure_of_eight(bearing, turned + plane, depth_db=np.asarray(depth))
    level = rng.normal(0.0, offsets, size=receivers)[receiver] + gain + rng.standard_t(3, size=count) * 2.0
    power = np.where(rng.uniform(size=count) < 0.05, 50.0, 5.0)
    level[: count // 50] += 25.0
    reports = reports_of(
        np.arange(count) * 60.0, receiver=receiver, snr=level, power=power, antenna=np.zeros(count)
    )
    return reports, Paths(home=HOME, distance=np.full(count, 1e6), bearing=bearing), turned


def test_a_turned_ring_tells_its_null_within_a_few_degrees():
    rng = np.random.default_rng(3)
    hits = [0, 0]
    for _ in range(8):
        reports, of, turned = heard(rng, planes=(0.0, 45.0, 90.0, 135.0), plane=20.0, depth=12.0)
        found = fit_null(reports, of, turned=turned, rng=rng)
        assert found.is_turned
        assert found.bearing == pytest.approx(110.0, abs=10.0)
        hits[0] += found.bearing_low - 1.0 <= 110.0 <= found.bearing_high + 1.0  # the grid's half step
        hits[1] += found.depth_low - 0.5 <= 12.0 <= found.depth_high + 0.5
    assert min(hits) >= 6


def test_a_ring_left_where_it_stands_tells_less_and_its_interval_says_so():
    rng = np.random.default_rng(5)
    reports, of, turned = heard(rng, planes=(0.0,), plane=60.0, depth=15.0, each=24)
    still = fit_null(reports, of, turned=turned, rng=rng)
    reports, of, turned = heard(rng, planes=(0.0, 45.0, 90.0, 135.0), plane=60.0, depth=15.0)
    rotated = fit_null(reports, of, turned=turned, rng=rng)
    assert not still.is_turned
    assert still.bearing_high - still.bearing_low > rotated.bearing_high - rotated.bearing_low


def test_of_reports_without_a_pattern_no_null_is_told():
    rng = np.random.default_rng(9)
    told = 0
    for _ in range(8):
        flat = fit_null_of(rng, planes=(0.0, 90.0), depth=0.0)
        told += flat.is_told
        assert flat.is_told or "tell no null" in null_words(flat, plane="from the plane")
    assert told == 0
    deep = fit_null_of(rng, planes=(0.0, 45.0, 90.0, 135.0), depth=12.0)
    assert deep.is_told
    assert null_words(deep, plane="from the plane").startswith("The null lies")


def fit_null_of(rng, *, planes, depth):
    reports, of, turned = heard(rng, planes=planes, plane=20.0, depth=depth)
    return fit_null(reports, of, turned=turned, rng=rng)


def test_both_ends_of_the_plane_are_alike_and_the_null_lies_across():
    gain = figure_of_eight(np.array([30.0, 210.0, 120.0, 300.0]), np.asarray(30.0), depth_db=np.asarray(17.0))
    assert gain == pytest.approx(np.array([0.0, 0.0, -17.0, -17.0]), abs=1e-9)


def test_a_few_receivers_tell_no_null():
    reports, of, turned = heard(
        np.random.default_rng(1), planes=(0.0, 90.0), plane=0.0, depth=10.0, receivers=5
    )
    with pytest.raises(ReportsError, match="needs 8 receivers"):
        fit_null(reports, of, turned=turned, rng=np.random.default_rng(1))
