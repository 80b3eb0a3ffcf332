# SPDX-License-Identifier: BSD-3-Clause
"""Four towns that locator programs are customarily tried on, and the edges of the system.

IARU Region 1, VHF Managers Handbook: longitude first, fields of 20 by 10 degrees from 180 W, 90 S. The towns'
squares are from memory; the corners follow from the definition.
"""

import pytest

from ringwright.air.locator import locator_of, place_of


@pytest.mark.parametrize(
    ("latitude", "longitude", "expected"),
    [
        (48.14666, 11.60833, "JN58td"),
        (-34.91, -56.21166, "GF15vc"),
        (38.92, -77.065, "FM18lw"),
        (-41.28333, 174.745, "RE78ir"),
        (0.0, 0.0, "JJ00aa"),
        (89.9999, 179.9999, "RR99xx"),
        (90.0, 0.0, "JR09ax"),
        (0.0, 180.0, "AJ00aa"),
    ],
)
def test_a_place_has_its_locator(latitude, longitude, expected):
    assert locator_of(latitude, longitude) == expected


def test_a_square_is_two_degrees_by_one():
    place = place_of("JN58")
    assert (place.latitude, place.longitude) == (48.5, 11.0)


def test_an_extended_square_is_thirty_seconds_by_fifteen():
    place = place_of("JJ00aa99")
    assert place.longitude == pytest.approx(9.5 * 30.0 / 3600.0, rel=1e-9, abs=0)
    assert place.latitude == pytest.approx(9.5 * 15.0 / 3600.0, rel=1e-9, abs=0)
