# SPDX-License-Identifier: BSD-3-Clause
"""The search for the last point over a limit, on zones whose extent is known in closed form."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.safety.outermost import Space, farthest, last_along

RING = 0.5 * np.stack(
    [np.sin(np.arange(48) * np.pi / 24), 0.0 * np.arange(48), np.cos(np.arange(48) * np.pi / 24)], axis=1
)
TO_A_THOUSANDTH = 1e-3  # what distances promise


def space(ratio_at, *, centre=(0.0, 0.0, 2.0), floor=None, places=None):
    centre = np.array(centre)
    return Space(
        ratio_at=ratio_at,
        centre=centre,
        frame=np.eye(3),
        floor=floor,
        places=centre + RING if places is None else np.concatenate([centre + RING, places]),
        strange=np.empty((0, 3)) if places is None else places,
    )


def ellipsoid(axes, *, turn, power, centre):
    """Ratio of a field whose zone is an ellipsoid: (distance in its own measure)^-power."""

    def ratio_at(points):
        own = (points - centre) @ turn / axes
        return np.maximum(np.linalg.norm(own, axis=1), 1e-3)[:, None] ** -power

    return ratio_at


def turning(rng):
    q, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    return q


# A ring's own zone is up to 1.6 times as long as wide; earth and metal may stretch it.
@pytest.mark.parametrize(("longest", "promise"), [(1.6, 2e-3), (2.2, 1e-2)])
@given(seed=st.integers(0, 2**32), power=st.floats(1.0, 4.0))
def test_any_ellipsoid_is_seen_to_its_tip(longest, promise, seed, power):
    rng = np.random.default_rng(seed)
    axes = rng.uniform(0.3, 8.0) * rng.uniform(1.0, longest, 3)
    centre = np.array([0.0, 0.0, 30.0])
    zone = space(ellipsoid(axes, turn=turning(rng), power=power, centre=centre), centre=centre)
    reach = zone.reach()
    assert reach > axes.max()
    found = np.linalg.norm(farthest(zone, reach)[0] - centre)
    assert (1.0 - promise) * axes.max() <= found <= (1.0 + TO_A_THOUSANDTH) * axes.max()


@given(st.integers(0, 2**32), st.floats(1.0, 4.0))
def test_a_ray_ends_where_the_ellipsoid_does(seed, power):
    rng = np.random.default_rng(seed)
    axes, turn, centre = rng.uniform(0.6, 8.0, 3), turning(rng), np.array([0.0, 0.0, 20.0])
    zone = space(ellipsoid(axes, turn=turn, power=power, centre=centre), centre=centre)
    directions = rng.normal(size=(6, 3))
    directions /= np.linalg.norm(directions, axis=1, keepdims=True)
    truth = 1.0 / np.linalg.norm(directions @ turn / axes, axis=1)
    found = last_along(zone, directions, zone.reach())[:, 0]
    assert found == pytest.approx(truth, rel=TO_A_THOUSANDTH, abs=0)


def test_what_lies_behind_a_quiet_place_counts():
    # Two balls on one ray: 1 m round the centre, and 0.4 m round a place 5 m away.
    zone_at = np.array([0.0, 5.0, 2.0])

    def ratio_at(points):
        near = 1.0 / np.linalg.norm(points - [0.0, 0.0, 2.0], axis=1).clip(1e-3)
        far = 0.4 / np.linalg.norm(points - zone_at, axis=1).clip(1e-3)
        return np.maximum(near, far)[:, None] ** 3

    found = last_along(space(ratio_at), np.array([[0.0, 1.0, 0.0]]), 12.0)
    assert found[0, 0] == pytest.approx(5.4, rel=TO_A_THOUSANDTH, abs=0)


@pytest.mark.parametrize("radius", [0.045, 0.1, 0.2])
def test_a_thin_hose_along_a_railing_is_not_missed(radius):
    # The zone is a hose round a railing 3 m away, far from every other; its far end is the farthest point.
    centre = np.array([0.0, 0.0, 2.0])
    railing = np.linspace([-2.0, 3.0, 1.0], [2.5, 3.0, 1.0], 46)

    def ratio_at(points):
        along = np.clip(points[:, 0], -2.0, 2.5)
        nearest = np.stack([along, 0.0 * along + 3.0, 0.0 * along + 1.0], axis=1)
        return (radius / np.linalg.norm(points - nearest, axis=1).clip(1e-4))[:, None]

    zone = space(ratio_at, places=railing, floor=0.0)
    truth = np.linalg.norm([2.5, 3.0, -1.0]) + radius
    found = np.linalg.norm(farthest(zone, 15.0)[0] - centre)
    assert found == pytest.approx(truth, rel=TO_A_THOUSANDTH, abs=0)
    across = last_along(zone, np.array([[0.0, 3.0, -1.0]]) / np.sqrt(10.0), 15.0)[0, 0]
    assert across == pytest.approx(np.sqrt(10.0) + radius, rel=TO_A_THOUSANDTH, abs=0)


@pytest.mark.parametrize("radius", [2.5, 4.0, 9.0])
def test_the_floor_cuts_the_zone_and_its_rim_is_the_farthest(radius):
    # A ball whose middle lies 1.5 m under the ring's: its farthest point above the floor is the rim on the floor.
    centre, middle = np.array([0.0, 0.0, 2.0]), np.array([0.7, 0.0, 0.5])

    def ratio_at(points):
        assert np.all(points[:, 2] >= -1e-9)
        return (radius / np.linalg.norm(points - middle, axis=1).clip(1e-3))[:, None] ** 2

    zone = space(ratio_at, floor=0.0)
    reach = zone.reach()
    rim = 0.7 + np.sqrt(radius**2 - 0.5**2)
    truth = np.hypot(rim, 2.0)
    found = np.linalg.norm(farthest(zone, reach)[0] - centre)
    assert found == pytest.approx(truth, rel=TO_A_THOUSANDTH, abs=0)
    assert last_along(zone, np.array([[0.0, 0.0, -1.0]]), reach)[0, 0] == pytest.approx(2.0, rel=1e-9, abs=0)


def test_several_limits_are_sought_at_once_and_each_finds_its_own():
    strengths = np.array([0.2, 1.0, 8.0, 64.0])

    def ratio_at(points):
        return strengths / np.linalg.norm(points - [0.0, 0.0, 2.0], axis=1).clip(1e-3)[:, None] ** 3

    zone = space(ratio_at)
    reach = zone.reach()
    truth = strengths ** (1.0 / 3.0)
    assert np.linalg.norm(farthest(zone, reach) - zone.centre, axis=1) == pytest.approx(
        truth, rel=TO_A_THOUSANDTH, abs=0
    )
    assert last_along(zone, np.eye(3), reach) == pytest.approx(
        np.tile(truth, (3, 1)), rel=TO_A_THOUSANDTH, abs=0
    )


def test_nothing_over_the_limit_gives_zero_and_no_place():
    zone = space(lambda points: np.full((len(points), 1), 0.5))
    assert last_along(zone, np.eye(3), 5.0).max() == 0.0
    assert np.isnan(farthest(zone, 5.0)).all()
