# SPDX-License-Identifier: BSD-3-Clause
"""From a design to wires in space: heights, planes, clearances, lengths, joints, and what cannot be built."""

from itertools import product
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.antenna.design import CouplingPlace, CouplingShape, FeedSide, RingShape, SiteWire
from ringwright.antenna.geometry import Address, alone, build_wires
from ringwright.antenna.outline import ellipse_semi_axes, polygon_area
from ringwright.errors import DesignError
from tests.antenna.builds import built

FREE = ((-0.6, 0.5), (0.7, 0.4), (0.5, -0.6), (-0.4, -0.5))
FREE_PERIMETER = sum(
    float(np.hypot(a[0] - b[0], a[1] - b[1])) for a, b in zip(FREE, FREE[1:] + FREE[:1], strict=True)
)
SHAPES: dict[str, dict[str, Any]] = {
    "circle": {"shape": RingShape.CIRCLE},
    "square": {"shape": RingShape.SQUARE},
    "hexagon": {"shape": RingShape.HEXAGON},
    "octagon": {"shape": RingShape.OCTAGON},
    "oval": {"shape": RingShape.OVAL, "aspect": 1.6},
    "polygon": {"shape": RingShape.POLYGON, "points": FREE, "perimeter": FREE_PERIMETER},
}
TUBE_RADIUS, LOOP_RADIUS = 0.011, 0.003


def nodes_at(wires, address):
    segments = wires.graph.segments[wires.graph.address == address]
    return wires.graph.nodes[np.unique(segments)]


def in_plane(wires, points):
    """(across, up) of places, counted from the ring's centre."""
    return np.stack([(points - wires.centre) @ wires.across, (points - wires.centre) @ wires.up], axis=1)


def support(shape, direction):
    """How far the true curve reaches from its centre in a direction of its plane, in closed form [m]."""
    match shape:
        case "circle" | "oval":
            half_width, half_height = ellipse_semi_axes(3.0, SHAPES[shape].get("aspect", 1.0))
            return float(np.hypot(half_width * direction[0], half_height * direction[1]))
        case "polygon":
            corners = np.array(FREE) - centroid_by_triangles(np.array(FREE))
        case _:
            sides = {"square": 4, "hexagon": 6, "octagon": 8}[shape]
            angle = (np.arange(sides) + 0.5) * 2.0 * np.pi / sides
            corners = (
                3.0 / sides / (2.0 * np.sin(np.pi / sides)) * np.stack([np.sin(angle), np.cos(angle)], axis=1)
            )
    return float((corners @ direction).max())


def centroid_by_triangles(corners):
    first, second = corners[[0, 1, 2]], corners[[0, 2, 3]]
    areas = [polygon_area(first), polygon_area(second)]
    return (areas[0] * first.mean(axis=0) + areas[1] * second.mean(axis=0)) / sum(areas)


@pytest.mark.parametrize(
    ("shape", "tilt_deg", "gap_deg"), list(product(SHAPES, (0.0, 35.0, 90.0), (0.0, 180.0, 77.0)))
)
def test_lowest_point_is_at_the_stated_height(shape, tilt_deg, gap_deg):
    tilt = np.radians(tilt_deg)
    design = built(
        ring=SHAPES[shape] | {"tilt": tilt, "gap_angle": np.radians(gap_deg)},
        coupling={"diameter": 0.08},
        site={"height": 1.7, "turn": 0.4},
    )
    centre = build_wires(design).centre
    lowest = centre[2] - np.cos(tilt) * support(shape, np.array([0.0, -1.0]))
    # The lowest of 48 places of the true curve, if none is at the lowest: (2 pi/48)^2/8 of the radius, 1 mm.
    assert lowest == pytest.approx(1.7, rel=1e-3 if shape in {"circle", "oval"} else 1e-12, abs=0)
    assert centre[:2] == pytest.approx([0.0, 0.0], abs=1e-12)


@pytest.mark.parametrize("tilt_deg", [0.0, 20.0, 90.0])
@pytest.mark.parametrize("turns", [2, 3])
def test_lowest_point_of_a_coil_counts_its_turns_and_leads(turns, tilt_deg):
    design = built(
        ring={"turns": turns, "turn_spacing": 0.06, "tilt": np.radians(tilt_deg), "gap_angle": 0.0},
        coupling={"diameter": 0.1},
        site={"height": 2.5},
    )
    assert nodes_at(build_wires(design), Address.RING)[:, 2].min() == pytest.approx(2.5, rel=1e-3, abs=0)
    # And with the gap below it is the leads that hang lowest.
    hanging = built(
        ring={"turns": turns, "turn_spacing": 0.06, "gap_angle": np.pi, "turn_lead": 0.15},
        coupling={"diameter": 0.1},
        site={"height": 2.5},
    )
    wires = build_wires(hanging)
    # The solved polygon's corners stand out by 0.14 % of the radius.
    assert wires.graph.nodes[wires.gap, 2] == pytest.approx(2.5, rel=1e-3, abs=0)
    assert wires.centre[2] == pytest.approx(2.5 + 3.0 / (2.0 * np.pi) + 0.15, rel=1e-12, abs=0)


@pytest.mark.parametrize("shape", SHAPES)
def test_area_and_length_are_the_true_ones(shape):
    wires = build_wires(built(ring=SHAPES[shape], coupling={"diameter": 0.1}))
    ring = wires.graph.address == Address.RING
    true_length = float(np.sum((wires.graph.lengths * wires.graph.length_factor)[ring]))
    perimeter = SHAPES[shape].get("perimeter", 3.0)
    assert true_length == pytest.approx(perimeter, rel=1e-6, abs=0)
    corners = in_plane(wires, wires.graph.nodes[wires.graph.segments[ring, 0]])
    areas = {
        "circle": 9.0 / (4.0 * np.pi),
        "square": 9.0 / 16.0,
        "hexagon": 6.0 * 0.25 / (4.0 * np.tan(np.pi / 6.0)),
        "octagon": 8.0 * (3.0 / 8.0) ** 2 / (4.0 * np.tan(np.pi / 8.0)),
        "oval": np.pi * np.prod(ellipse_semi_axes(3.0, 1.6)),
        "polygon": polygon_area(np.array(FREE)),
    }
    assert polygon_area(corners) == pytest.approx(areas[shape], rel=1e-9, abs=0)


def test_vertical_ring_stands_in_the_x_z_plane_with_its_gap_on_top():
    wires = build_wires(built())
    ring = nodes_at(wires, Address.RING)
    assert np.all(abs(wires.graph.nodes[:, 1]) < 1e-12)
    assert abs(wires.axis @ [0.0, 1.0, 0.0]) == pytest.approx(1.0, rel=1e-12, abs=0)
    gap = wires.graph.nodes[wires.gap]
    assert gap[0] == pytest.approx(0.0, abs=1e-12)
    assert gap[2] == ring[:, 2].max()


@pytest.mark.parametrize("shape", ["square", "hexagon", "octagon"])
def test_gap_of_a_regular_polygon_is_in_the_middle_of_its_top_side(shape):
    wires = build_wires(built(ring=SHAPES[shape]))
    x, z = wires.graph.nodes[wires.gap, [0, 2]]
    top = nodes_at(wires, Address.RING)
    on_top = top[np.isclose(top[:, 2], z)]
    assert z == pytest.approx(top[:, 2].max(), rel=1e-12, abs=0)
    assert x == pytest.approx(0.0, abs=1e-12)
    assert on_top[:, 0].max() == pytest.approx(-on_top[:, 0].min(), rel=1e-9, abs=0)


@pytest.mark.parametrize(
    ("gap_deg", "expected"), [(0.0, (0, 1)), (90.0, (1, 0)), (180.0, (0, -1)), (270.0, (-1, 0))]
)
def test_gap_angles_count_from_the_top_towards_x(gap_deg, expected):
    wires = build_wires(built(ring={"gap_angle": np.radians(gap_deg)}))
    gap = in_plane(wires, wires.graph.nodes[[wires.gap]])[0]
    assert gap / np.linalg.norm(gap) == pytest.approx(expected, abs=1e-9)
    # The coupling loop is opposite.
    loop = in_plane(wires, nodes_at(wires, Address.COUPLING)).mean(axis=0)
    assert loop / np.linalg.norm(loop) == pytest.approx(-np.array(expected), abs=1e-6)


def test_top_of_a_horizontal_ring_is_towards_y():
    wires = build_wires(built(ring={"tilt": np.pi / 2.0}, site={"height": 3.0}))
    assert wires.graph.nodes[:, 2] == pytest.approx(np.full(len(wires.graph.nodes), 3.0), rel=1e-12, abs=0)
    gap = wires.graph.nodes[wires.gap]
    assert gap[1] == pytest.approx(nodes_at(wires, Address.RING)[:, 1].max(), rel=1e-12, abs=0)
    assert wires.across == pytest.approx([1.0, 0.0, 0.0], abs=1e-12)


@given(st.floats(-6.0, 6.0), st.floats(0.0, 1.57))
def test_turning_goes_from_x_towards_y_and_moves_nothing_else(turn, tilt):
    straight = build_wires(built(ring={"tilt": tilt}))
    turned = build_wires(built(ring={"tilt": tilt}, site={"turn": turn}))
    c, s = np.cos(turn), np.sin(turn)
    expected = straight.graph.nodes @ np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
    assert turned.graph.nodes == pytest.approx(expected, abs=1e-12)
    assert np.cross(turned.up, turned.across) == pytest.approx(turned.axis, abs=1e-12)


def fine(wires, address):
    """Close places on a conductor's solved polygon, in the ring's plane."""
    chosen = wires.graph.address == address
    return in_plane(wires, wires.graph.points(np.linspace(0.0, 1.0, 20))[chosen].reshape(-1, 3))


CLEARANCES = [
    ({}, {"clearance": 0.015}),
    ({}, {"clearance": 0.060, "diameter": 0.25}),
    (SHAPES["octagon"], {"clearance": 0.010}),
    (SHAPES["square"] | {"gap_angle": 0.5}, {"clearance": 0.020}),
    (SHAPES["square"] | {"gap_angle": np.pi / 4.0}, {"clearance": 0.020}),  # in a corner
    (SHAPES["octagon"] | {"gap_angle": np.pi / 8.0}, {"clearance": 0.020}),  # beside a corner
    (SHAPES["oval"] | {"gap_angle": np.pi / 2.0}, {"clearance": 0.020}),  # at the narrow end
    ({}, {"clearance": 0.015, "shape": CouplingShape.OVAL, "squash": 3.0, "diameter": 0.25}),
    ({}, {"clearance": 0.015, "shape": CouplingShape.OVAL, "squash": 0.5}),
]


@pytest.mark.parametrize(("ring", "coupling"), CLEARANCES)
def test_clearance_is_between_the_nearest_surfaces(ring, coupling):
    wires = build_wires(built(ring=ring, coupling=coupling))
    offset = fine(wires, Address.RING)[:, None] - fine(wires, Address.COUPLING)
    found = float(np.linalg.norm(offset, axis=2).min()) - TUBE_RADIUS - LOOP_RADIUS
    # The solved polygons keep the area: corners of the loop stand out by 0.7 % of its radius, sides of the ring cut in
    # by 0.1 % of its own, and the flat loop's 16 places miss its nearest one by a little.
    assert coupling["clearance"] - 2.6e-3 < found < coupling["clearance"] + 0.2e-3


def test_coupling_loop_is_in_the_plane_inside_and_of_its_size():
    for squash in (0.5, 1.0, 2.0):
        shape = CouplingShape.CIRCLE if squash == 1.0 else CouplingShape.OVAL
        wires = build_wires(built(coupling={"shape": shape, "squash": squash}, ring={"gap_angle": 0.5}))
        loop = wires.graph.address == Address.COUPLING
        factor = wires.graph.length_factor[loop]
        assert np.sum(wires.graph.lengths[loop] * factor) == pytest.approx(np.pi * 0.15, rel=1e-6, abs=0)
        points = in_plane(wires, nodes_at(wires, Address.COUPLING))
        # Along the ring's conductor over across it.
        along, away = np.array([np.cos(0.5), -np.sin(0.5)]), np.array([np.sin(0.5), np.cos(0.5)])
        extent = [np.ptp(points @ direction) for direction in (along, away)]
        assert extent[0] / extent[1] == pytest.approx(squash, rel=0.02, abs=0)  # corners of a 16-gon
        assert np.max(np.linalg.norm(points, axis=1)) < 3.0 / (2.0 * np.pi)


def test_centred_loop_is_centred():
    wires = build_wires(built(coupling={"place": CouplingPlace.CENTRE, "diameter": 0.2}))
    assert nodes_at(wires, Address.COUPLING).mean(axis=0) == pytest.approx(wires.centre, abs=1e-9)


@pytest.mark.parametrize(("side", "is_nearest"), [(FeedSide.NEAR, True), (FeedSide.FAR, False)])
def test_feed_is_at_the_loop_s_near_or_far_side(side, is_nearest):
    wires = build_wires(built(coupling={"feed_side": side}))
    loop = nodes_at(wires, Address.COUPLING)
    height = wires.graph.nodes[wires.feed, 2]
    assert height == pytest.approx(loop[:, 2].min() if is_nearest else loop[:, 2].max(), rel=1e-12, abs=0)


@pytest.mark.parametrize(
    ("ring", "coupling"),
    [
        ({}, {"diameter": 0.95}),  # reaches the gap's side
        ({}, {"diameter": 2.0}),  # surrounds the ring
        ({"shape": RingShape.OVAL, "aspect": 8.0}, {"diameter": 0.4}),
        (
            {"shape": RingShape.SQUARE, "gap_angle": 0.7},
            {"diameter": 0.15},
        ),  # astride the side round the corner
        ({}, {"diameter": 0.9, "place": CouplingPlace.CENTRE, "shape": CouplingShape.OVAL, "squash": 3.0}),
    ],
)
def test_coupling_loop_that_hits_the_ring_is_refused(ring, coupling):
    with pytest.raises(DesignError, match=r"coupling\.diameter"):
        build_wires(built(ring=ring, coupling=coupling))


@pytest.mark.parametrize(
    ("shape", "joints", "places"), [("circle", 5, 5), ("octagon", 8, 8), ("octagon", 3, 8), ("square", 4, 4)]
)
def test_joints_sit_at_corners_else_evenly(shape, joints, places):
    wires = build_wires(built(ring=SHAPES[shape] | {"joints": joints}))
    assert len(wires.joints) == places
    at = np.array([wires.graph.points(np.array([f]))[s, 0] for s, f in wires.joints])
    flat = in_plane(wires, at)
    if shape == "circle":
        angles = np.sort(np.arctan2(flat[:, 0], flat[:, 1]) % (2.0 * np.pi))
        assert np.diff(angles) == pytest.approx(np.full(joints - 1, 2.0 * np.pi / joints), rel=2e-3, abs=0)
    else:
        sides = {"octagon": 8, "square": 4}[shape]
        radius = 3.0 / sides / (2.0 * np.sin(np.pi / sides))
        assert np.linalg.norm(flat, axis=1) == pytest.approx(np.full(places, radius), rel=1e-9, abs=0)
    assert build_wires(built(ring=SHAPES[shape])).joints == ()


def test_helix_has_its_turns_spacing_and_leads():
    turns, spacing, lead = 3, 0.06, 0.1
    wires = build_wires(
        built(ring={"turns": turns, "turn_spacing": spacing, "turn_lead": lead}, coupling={"diameter": 0.1})
    )
    ring = wires.graph.address == Address.RING
    nodes = wires.graph.nodes[wires.graph.segments[ring, 0]]
    axial = (nodes - wires.centre) @ wires.axis
    flat = in_plane(wires, nodes)
    # Between leads: constant rise, one spacing a turn.
    helix = axial[3 : 3 + turns * 48 + 1]
    assert np.diff(helix) == pytest.approx(np.full(turns * 48, spacing / 48), rel=1e-9, abs=0)
    assert helix[0] == pytest.approx(-turns * spacing / 2.0, rel=1e-12, abs=0)
    radius = np.linalg.norm(flat, axis=1)
    assert radius[0] - radius[3] == pytest.approx(lead, rel=1e-9, abs=0)
    assert axial[0] == pytest.approx(0.0, abs=1e-12)  # joined across at the gap
    place = wires.graph.turn[ring]
    assert np.all(np.diff(place) >= 0)
    assert place[3:-3] == pytest.approx((np.arange(turns * 48) + 0.5) / 48, rel=1e-12, abs=0)


def metal(start, end, diameter=0.02):
    return SiteWire(kind="railing", start=start, end=end, diameter=diameter, conductivity=6e6, mu_r=100.0)


@pytest.mark.parametrize(
    ("start", "end"),
    [
        ((-1.0, -1.0, 2.2), (1.0, 1.0, 2.2)),
        ((-1.0, 0.02, 1.8), (1.0, 0.02, 1.8)),
        ((0.47, 0.0, 0.1), (0.47, 0.0, 3.0)),
    ],
)
def test_metal_that_touches_the_ring_is_refused(start, end):
    design = built(site={"metal": (metal(start, end),)})
    if start[1] == -1.0:
        build_wires(design)  # through the ring's opening, touching nothing
    else:
        with pytest.raises(DesignError, match=r"site\.metal\[1\]: the railing"):
            build_wires(design)


def test_every_segment_carries_its_address():
    design = built(site={"metal": (metal((-1.0, 1.0, 1.0), (1.0, 1.0, 1.0)),)})
    wires = build_wires(design)
    counts = [int(np.count_nonzero(wires.graph.address == address)) for address in Address]
    assert counts[: Address.METAL] == [48, 16]
    assert counts[Address.METAL] > 2
    assert counts[Address.FEEDLINE] == 0
    assert wires.metal_wire(int(wires.graph.wire[-1])) is design.site.metal[0]
    bare = alone(design)
    assert (bare.site.metal, bare.site.earth, bare.ring) == ((), None, design.ring)
