# SPDX-License-Identifier: BSD-3-Clause
"""Outlines of zones against fields whose zones are known in closed form: powers of distance from one place or two."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.desk.site.zones import FINE, QUICK, Cut, zones
from ringwright.safety.limits import LIMITS

SECTION = Cut(
    name="axis",
    origin=np.array([0.0, 0.0, 2.0]),
    right=np.array([0.0, 1.0, 0.0]),
    up=np.array([0.0, 0.0, 1.0]),
    floor=0.0,
    reach=60.0,
)


def falling(*places, reach, power=3.0):
    """Field over limit that falls with a power of distance and meets 1 at `reach` from the nearest place."""

    def ratio_at(points):
        distance = np.min([np.linalg.norm(points - place, axis=1) for place in places], axis=0)
        return (reach / np.maximum(distance, 1e-6))[:, None] ** power

    return ratio_at


def seen_from_origin(cut, rings):
    return np.concatenate([np.linalg.norm(ring, axis=1) for ring in rings])


@given(st.floats(0.3, 1.9), st.sampled_from([2.0, 3.0, 6.0]))
def test_the_zone_of_a_point_is_a_circle_never_drawn_smaller(reach, power):
    # Straight lines in the logarithm put the outline outside. The chords of 44 cells that crowd at the middle are at
    # most 0.15 of the radius long: sagitta 0.3 % of it.
    (zone,) = zones(SECTION, falling(SECTION.origin, reach=reach, power=power), LIMITS[:1], cells=FINE)
    (ring,) = zone.rings
    radius = np.linalg.norm(ring, axis=1)
    assert radius.min() >= reach * (1.0 - 3e-3)
    assert radius.max() <= reach * 1.06


@pytest.mark.parametrize(("cells", "slack"), [(QUICK, 0.15), (FINE, 0.05)])
def test_fewer_points_draw_the_same_zone_a_little_wider(cells, slack):
    (zone,) = zones(SECTION, falling(SECTION.origin, reach=1.5), LIMITS[:1], cells=cells)
    radius = seen_from_origin(SECTION, zone.rings)
    assert 1.5 * 0.99 <= radius.min() <= radius.max() <= 1.5 * (1.0 + slack)


def test_a_zone_ends_at_the_earth():
    (zone,) = zones(SECTION, falling(SECTION.origin, reach=5.0), LIMITS[:1], cells=FINE)
    up = np.concatenate([ring[:, 1] for ring in zone.rings])
    assert up.min() == pytest.approx(-2.0, rel=1e-12, abs=0)
    assert up.max() == pytest.approx(5.0, rel=0.05, abs=0)


def test_two_places_make_two_outlines():
    places = [np.array([0.0, side, 2.0]) for side in (-1.5, 1.5)]
    (zone,) = zones(SECTION, falling(*places, reach=0.8), LIMITS[:1], cells=FINE)
    assert len(zone.rings) == 2
    for ring in zone.rings:
        middle = np.sign(ring[:, 0].mean()) * 1.5
        assert np.hypot(ring[:, 0] - middle, ring[:, 1]) == pytest.approx(0.8, rel=0.15, abs=0)


def test_a_hole_is_an_outline_of_its_own():
    def shell(points):
        return np.exp(0.4 - abs(np.linalg.norm(points - SECTION.origin, axis=1) - 1.0))[:, None]

    (zone,) = zones(SECTION, shell, LIMITS[:1], cells=FINE)
    radii = sorted(float(np.linalg.norm(ring, axis=1).mean()) for ring in zone.rings)
    assert radii == pytest.approx([0.6, 1.4], rel=0.03, abs=0)


def test_each_limit_has_its_own_zone_and_a_quiet_one_none():
    def ratio_at(points):
        near = falling(SECTION.origin, reach=1.0)(points)
        return np.hstack([near, 0.4**3 * near, 0.0 * near])

    wide, narrow, none = zones(SECTION, ratio_at, LIMITS[:3], cells=FINE)
    assert [zone.limit for zone in (wide, narrow, none)] == list(LIMITS[:3])
    assert seen_from_origin(SECTION, wide.rings).max() == pytest.approx(1.0, rel=0.05, abs=0)
    assert seen_from_origin(SECTION, narrow.rings).max() == pytest.approx(0.4, rel=0.2, abs=0)
    assert none.rings == ()


@pytest.mark.parametrize("reach", [0.05, 3.0, 40.0])
def test_the_grid_follows_the_zone_near_and_far_and_asks_no_field_out_of_bounds(reach):
    farthest = 0.0
    ratio = falling(SECTION.origin, reach=reach)

    def ratio_at(points):
        nonlocal farthest
        farthest = max(farthest, float(np.linalg.norm(points - SECTION.origin, axis=1).max()))
        return ratio(points)

    (zone,) = zones(SECTION, ratio_at, LIMITS[:1], cells=FINE)
    outer = np.concatenate([ring[ring[:, 1] >= 0.0] for ring in zone.rings])
    assert np.linalg.norm(outer, axis=1).max() == pytest.approx(
        reach, rel=0.35 if reach < 0.1 else 0.1, abs=0
    )
    assert farthest <= SECTION.reach * np.sqrt(2.0)


def test_nothing_is_asked_where_no_limit_is_chosen():
    def must_not(points):
        raise AssertionError("no field is wanted")

    assert zones(SECTION, must_not, (), cells=FINE) == ()
