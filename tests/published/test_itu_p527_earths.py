# SPDX-License-Identifier: BSD-3-Clause
"""Recommendation ITU-R P.527, typical constants of the earth's surface below 30 MHz. The categories are those of its
figures; the values read off them are from memory. Good, average and poor are handbook convention (common practice)."""

import pytest

from ringwright.antenna.earths import EARTHS

CONSTANTS = {
    "sea water": (5.0, 70.0),
    "fresh water": (3e-3, 80.0),
    "wet ground": (1e-2, 30.0),
    "medium dry ground": (1e-3, 15.0),
    "very dry ground": (1e-4, 3.0),
    "good": (3e-2, 20.0),
    "average": (5e-3, 13.0),
    "poor": (1e-3, 5.0),
}


@pytest.mark.parametrize(("name", "constants"), CONSTANTS.items())
def test_constants_of_each_earth(name, constants):
    earth = EARTHS[name].earth
    assert (earth.conductivity, earth.permittivity) == constants


def test_conventions_are_told_apart_from_categories():
    flagged = {name for name, earth in EARTHS.items() if "convention" in earth.source}
    assert flagged == {"good", "average", "poor"}
    assert {name for name, earth in EARTHS.items() if "P.527" in earth.source} == set(CONSTANTS) - flagged


def test_only_the_perfect_earth_is_a_mirror():
    assert [name for name, earth in EARTHS.items() if earth.earth.perfect] == ["perfect earth"]
