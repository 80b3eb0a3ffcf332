# SPDX-License-Identifier: BSD-3-Clause
from itertools import pairwise

import pytest

from ringwright.antenna.bands import band_of, bands_of
from ringwright.errors import OutOfRangeError


def test_a_frequency_lies_in_its_band_with_both_edges():
    for frequency in (7.0e6, 7.1e6, 7.2e6):
        band = band_of(frequency, 1)
        assert band is not None
        assert band.name == "40m"


def test_a_frequency_between_bands_lies_in_none():
    assert band_of(7.25e6, 1) is None
    assert band_of(27.5e6, 2) is None


def test_the_region_decides():
    band = band_of(7.25e6, 2)
    assert band is not None
    assert band.name == "40m"
    assert band.centre == 7.15e6


def test_there_is_no_fourth_region():
    with pytest.raises(OutOfRangeError, match="write 1, 2 or 3"):
        bands_of(4)


@pytest.mark.parametrize("region", [1, 2, 3])
def test_bands_do_not_overlap_and_lie_in_the_range_of_predictions(region):
    bands = sorted(bands_of(region).values(), key=lambda band: band.low)
    assert all(lower.high < upper.low for lower, upper in pairwise(bands))
    assert bands[0].low >= 1.8e6
    assert bands[-1].high <= 54e6
