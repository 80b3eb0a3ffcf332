# SPDX-License-Identifier: BSD-3-Clause
"""Plane curves as polygons: perimeter and area kept, places where they belong."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from ringwright.antenna.outline import (
    SAME_NODE,
    ellipse_outline,
    ellipse_semi_axes,
    leave_point,
    polygon_area,
    polygon_centroid,
    polygon_length,
    polygon_outline,
    regular_polygon,
)
from ringwright.errors import DesignError

ANGLES = st.floats(-7.0, 7.0)
L_SHAPE = np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [1.0, 1.0], [1.0, 2.0], [0.0, 2.0]])


def arc_length(half_width, half_height, start, end):
    """Along an ellipse, from its definition."""
    return quad(
        lambda t: np.hypot(half_width * np.cos(t), half_height * np.sin(t)),
        start,
        end,
        epsrel=1e-11,
        limit=200,
    )[0]


@given(st.floats(0.01, 100.0), st.floats(0.1, 10.0))
def test_ellipse_has_its_perimeter_and_aspect(perimeter, aspect):
    half_width, half_height = ellipse_semi_axes(perimeter, aspect)
    assert half_width / half_height == pytest.approx(aspect, rel=1e-12, abs=0)
    around = 4.0 * arc_length(half_width, half_height, 0.0, np.pi / 2.0)
    assert around == pytest.approx(perimeter, rel=1e-9, abs=0)


@given(st.floats(0.05, 20.0), ANGLES, st.sampled_from([16, 48, 96]))
def test_polygon_of_an_ellipse_keeps_its_area(aspect, start, count):
    half_width, half_height = ellipse_semi_axes(1.0, aspect)
    outline = ellipse_outline(half_width, half_height, start=start, count=count)
    assert polygon_area(outline.corners) == pytest.approx(np.pi * half_width * half_height, rel=1e-12, abs=0)
    # The loss has the true length: 4096 chords stand for it, 1e-7.
    assert outline.length_factor * polygon_length(outline.corners) == pytest.approx(1.0, rel=1e-5, abs=0)


@pytest.mark.parametrize("count", [12, 16, 48])
def test_polygon_of_a_circle_in_closed_form(count):
    """Corners on a circle of b sqrt((2 pi/N)/sin(2 pi/N))."""
    outline = ellipse_outline(0.5, 0.5, start=0.3, count=count)
    expected = 0.5 * np.sqrt(2.0 * np.pi / count / np.sin(2.0 * np.pi / count))
    assert np.linalg.norm(outline.corners, axis=1) == pytest.approx(np.full(count, expected), rel=1e-6, abs=0)
    assert np.linalg.norm(outline.true_points, axis=1) == pytest.approx(np.full(count, 0.5), rel=1e-12, abs=0)
    sides = 2.0 * count * expected * np.sin(np.pi / count)
    assert outline.length_factor == pytest.approx(np.pi / sides, rel=1e-6, abs=0)


@given(st.floats(0.2, 5.0), st.floats(0.0, 6.2))
def test_nodes_of_an_ellipse_are_evenly_spaced_from_the_ray_on(aspect, start):
    half_width, half_height = ellipse_semi_axes(3.0, aspect)
    points = ellipse_outline(half_width, half_height, start=start, count=24).true_points
    assert (points[:, 0] / half_width) ** 2 + (points[:, 1] / half_height) ** 2 == pytest.approx(
        np.ones(24), rel=1e-12, abs=0
    )
    # Angles count from the top towards across.
    off_ray = points[0, 0] * np.cos(start) - points[0, 1] * np.sin(start)
    assert abs(off_ray) < 1e-12
    assert points[0] @ [np.sin(start), np.cos(start)] > 0
    parameter = np.unwrap(np.arctan2(points[:, 0] / half_width, points[:, 1] / half_height))
    between = [arc_length(half_width, half_height, a, b) for a, b in pairwise(parameter)]
    # Interpolated in a table of 4096 steps: the error per node is 1e-6 of the perimeter at most.
    assert between == pytest.approx([3.0 / 24.0] * 23, rel=1e-3, abs=0)
    assert np.all(np.diff(parameter) > 0)  # clockwise


@pytest.mark.parametrize(("joints", "count"), [(1, 48), (3, 48), (8, 48), (50, 48)])
def test_joints_of_a_curve_are_evenly_spread(joints, count):
    outline = ellipse_outline(0.5, 0.5, start=0.0, count=count, joints=joints)
    places = np.array([segment + fraction for segment, fraction in outline.joints])
    assert len(places) == joints
    assert np.diff(places, append=places[0] + count) == pytest.approx(
        np.full(joints, count / joints), rel=1e-12, abs=0
    )
    assert np.all((places >= 0) & (places < count))


@given(st.integers(3, 12), ANGLES, st.integers(24, 96), st.booleans())
def test_polygon_keeps_its_length_area_and_corners(sides, start, count, other_way):
    corners = regular_polygon(sides, 4.0)[:: -1 if other_way else 1]
    outline = polygon_outline(corners, start=start, count=count)
    assert polygon_length(outline.corners) == pytest.approx(4.0, rel=1e-9, abs=0)
    assert polygon_area(outline.corners) == pytest.approx(polygon_area(corners), rel=1e-9, abs=0)
    assert outline.length_factor == 1.0
    # The ray's place is the first node, at every corner is a node, and that is where the joints are.
    off_ray = outline.corners[0, 0] * np.cos(start) - outline.corners[0, 1] * np.sin(start)
    assert abs(off_ray) < 1e-9
    at_joints = np.array([outline.corners[segment] for segment, _ in outline.joints])
    assert {fraction for _, fraction in outline.joints} == {0.0}
    nearest = np.linalg.norm(at_joints[:, None] - corners, axis=2).min(axis=0)
    assert np.all(nearest < 1e-9)
    assert len(outline.joints) == sides
    # Clockwise, with segments of a length as even as whole numbers allow.
    x, y = outline.corners.T
    assert np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) < 0
    lengths = np.linalg.norm(np.roll(outline.corners, -1, axis=0) - outline.corners, axis=1)
    assert lengths.max() <= max(4.0 / sides / 2.0, 2.0 * 4.0 / count) * (1 + 1e-9)


def test_every_straight_piece_gets_two_segments():
    sliver = np.array([[-1.0, 0.0], [-1.0, 0.02], [1.0, 0.02], [1.0, 0.0]])
    outline = polygon_outline(sliver, start=0.0, count=8)
    upright = np.isclose(np.diff(outline.corners[:, 0], append=outline.corners[0, 0]), 0.0, atol=1e-9)
    assert np.count_nonzero(upright) == 4


def test_gap_at_a_corner_of_a_polygon():
    square = regular_polygon(4, 4.0)
    outline = polygon_outline(square, start=np.pi / 4.0, count=16)
    assert outline.corners[0] == pytest.approx([0.5, 0.5], rel=1e-9, abs=0)
    assert len(outline.corners) == 16
    assert sorted(segment for segment, _ in outline.joints) == [0, 4, 8, 12]


@pytest.mark.parametrize(("sides", "flat_bottom"), [(4, True), (6, True), (8, True)])
def test_regular_polygons_have_a_flat_top_and_bottom(sides, flat_bottom):
    corners = regular_polygon(sides, 6.0)
    top = np.isclose(corners[:, 1], corners[:, 1].max())
    bottom = np.isclose(corners[:, 1], corners[:, 1].min())
    assert np.count_nonzero(top) == np.count_nonzero(bottom) == 2
    assert corners[top, 0].sum() == pytest.approx(0.0, abs=1e-12)
    assert polygon_length(corners) == pytest.approx(6.0, rel=1e-12, abs=0)
    # Area of a regular polygon: N s^2/(4 tan(pi/N)).
    assert polygon_area(corners) == pytest.approx(
        sides * (6.0 / sides) ** 2 / (4.0 * np.tan(np.pi / sides)), rel=1e-12, abs=0
    )


def test_centroid_and_area_of_an_l_by_its_two_rectangles():
    expected = (2.0 * np.array([1.0, 0.5]) + np.array([0.5, 1.5])) / 3.0
    for way in (L_SHAPE, L_SHAPE[::-1]):
        assert polygon_centroid(way) == pytest.approx(expected, rel=1e-12, abs=0)
        assert polygon_area(way) == pytest.approx(3.0, rel=1e-12, abs=0)


def test_free_polygon_is_centred_on_its_area():
    outline = polygon_outline(L_SHAPE + 7.0, start=np.pi, count=40)
    assert polygon_centroid(outline.corners) == pytest.approx([0.0, 0.0], abs=1e-12)
    # Downwards from the centroid (5/6, 5/6) lies the bottom side.
    assert outline.corners[0] == pytest.approx([0.0, -5.0 / 6.0], rel=1e-12, abs=1e-12)


@given(st.floats(0.2, 5.0), ANGLES)
def test_leave_point_is_on_the_curve_and_its_normal_points_inwards(aspect, angle):
    half_width, half_height = ellipse_semi_axes(3.0, aspect)
    point, inward = leave_point(ellipse_outline(half_width, half_height, start=0.0, count=48), angle)
    assert point[0] * np.cos(angle) == pytest.approx(point[1] * np.sin(angle), abs=1e-12)
    inside = np.sqrt((point[0] / half_width) ** 2 + (point[1] / half_height) ** 2)
    # On a chord of the 48: its sagitta s^2/(8 rho), rho the least radius of curvature, counted along the shorter axis.
    shorter, longer = sorted((half_width, half_height))
    assert 1.0 - (3.0 / 48.0) ** 2 / 8.0 / (shorter**2 / longer) / shorter <= inside <= 1.0 + 1e-8
    assert np.linalg.norm(inward) == pytest.approx(1.0, rel=1e-12, abs=0)
    assert inward @ point < 0


def test_polygon_that_does_not_surround_its_centre_is_refused():
    crescent = np.array([[0.0, 0.0], [3.0, 0.0], [3.0, 3.0], [2.9, 3.0], [2.9, 0.1], [0.0, 0.1]])
    with pytest.raises(DesignError, match=r"ring\.points"):
        polygon_outline(crescent, start=-np.pi / 4.0, count=48)


@pytest.mark.parametrize("turn", [0.5, 0.613, 0.0301])
def test_a_node_is_cut_in_and_moves_nothing(turn):
    corners = regular_polygon(8, 3.0)
    for outline in (
        polygon_outline(corners, start=0.0, count=48),
        ellipse_outline(0.5, 0.4, start=0.3, count=48, joints=5),
    ):
        cut, node = outline.with_node(turn)
        assert polygon_area(cut.corners) == pytest.approx(polygon_area(outline.corners), rel=1e-12, abs=0)
        whole = polygon_length(outline.corners)
        assert polygon_length(cut.corners) == pytest.approx(whole, rel=1e-12, abs=0)
        pieces = np.linalg.norm(np.diff(cut.corners[: node + 1], axis=0), axis=1)
        assert pieces.sum() == pytest.approx(turn * whole, rel=0, abs=SAME_NODE)
        for before, after in zip(outline.joints, cut.joints, strict=True):
            assert place(cut, after) == pytest.approx(place(outline, before), rel=1e-12, abs=1e-12)
        # Where a node is already, none is added.
        assert cut.with_node(turn)[0] is cut


def place(outline, joint):
    segment, fraction = joint
    start, end = outline.corners[segment], outline.corners[(segment + 1) % len(outline.corners)]
    return start + fraction * (end - start)
