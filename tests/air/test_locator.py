# SPDX-License-Identifier: BSD-3-Clause
"""Locators: strict in, exact out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.air.locator import locator_of, place_of
from ringwright.errors import LocatorError


@pytest.mark.parametrize(
    "text",
    [
        "",
        "J",
        "JJ",
        "JJ0",
        "J062QM",
        "JJ00a",
        "SJ00",
        "JJ00yy",
        "JJ00aa0",
        "JJ00aa00a",
        "JJ00aa00aaa",
        "JJ00ää",
    ],
)
def test_what_is_no_locator_is_refused(text):
    with pytest.raises(LocatorError, match="is no locator; write 4, 6, 8 or 10 characters"):
        place_of(text)


@given(st.floats(-90.0, 90.0), st.floats(-180.0, 180.0), st.sampled_from([4, 6, 8, 10]))
def test_a_place_lies_within_the_uncertainty_of_its_own_locator(latitude, longitude, characters):
    text = locator_of(latitude, longitude, characters=characters)
    place = place_of(text)
    assert len(text) == characters
    width = {
        4: (2.0, 1.0),
        6: (5 / 60, 2.5 / 60),
        8: (30 / 3600, 15 / 3600),
        10: (1.25 / 3600, 0.625 / 3600),
    }[characters]
    apart = abs((place.longitude - longitude + 180.0) % 360.0 - 180.0)
    assert apart <= width[0] / 2.0 * (1.0 + 1e-6) + 1e-9
    assert abs(place.latitude - latitude) <= width[1] / 2.0 * (1.0 + 1e-6) + 1e-9
    assert locator_of(place.latitude, place.longitude, characters=characters) == text


def test_each_pair_of_characters_makes_the_square_smaller():
    squares = [place_of("JJ00aa00aa"[:length]).uncertainty for length in (4, 6, 8, 10)]
    # 2 degrees by 1 at the equator: half of the diagonal of 222.6 km by 111.3 km.
    assert squares[0] == pytest.approx(124_450.0, rel=1e-3, abs=0)
    assert squares == sorted(squares, reverse=True)
    assert squares[0] / squares[1] == pytest.approx(24.0, rel=1e-3, abs=0)


def test_a_place_that_is_none_has_no_locator():
    with pytest.raises(LocatorError, match="no place"):
        locator_of(90.5, 0.0)
    with pytest.raises(LocatorError, match="no place"):
        locator_of(float("nan"), 0.0)
