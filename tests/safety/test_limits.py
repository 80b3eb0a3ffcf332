# SPDX-License-Identifier: BSD-3-Clause
"""The set of limits as a whole; their numbers are checked in tests/published, one file per source."""

from collections import Counter

import pytest

from ringwright.antenna.bands import bands_of
from ringwright.safety.limits import LIMITS, Tier


def test_each_limit_and_tier_stands_once_with_its_source():
    assert max(Counter((row.name, row.tier) for row in LIMITS).values()) == 1
    assert all(any(year in row.source for year in ("1996", "1999", "2010", "2020")) for row in LIMITS)


@pytest.mark.parametrize("region", [1, 2, 3])
def test_every_amateur_band_has_all_averaged_limits(region):
    for band in bands_of(region).values():
        for frequency in (band.low, band.centre, band.high):
            assert all(row.covers(frequency) for row in LIMITS if row.is_averaged)


def test_workers_are_never_held_to_less_than_the_public():
    for megahertz in (1.81, 3.6, 7.1, 10.125, 14.2, 21.2, 28.5, 50.5):
        for row in LIMITS:
            if row.tier is Tier.OCCUPATIONAL and row.covers(megahertz * 1e6):
                public = next(r for r in LIMITS if r.name == row.name and r.tier is Tier.PUBLIC)
                pairs = zip(row.at(megahertz * 1e6), public.at(megahertz * 1e6), strict=True)
                assert all(a >= b for a, b in pairs)
