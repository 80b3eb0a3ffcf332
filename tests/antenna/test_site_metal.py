# SPDX-License-Identifier: BSD-3-Clause
"""Metal nearby: what joins and what does not, how finely it is cut, and meshes."""

import numpy as np
import pytest

from ringwright.antenna.design import SiteMesh, SiteWire
from ringwright.antenna.geometry import Address
from ringwright.antenna.site_metal import MOST_SEGMENTS, metal_graph
from ringwright.errors import DesignError
from ringwright.physics.graph import Rooftops, chain

RING = chain(
    np.array([[0.0, 0.0, 2.0], [0.5, 0.0, 2.5], [0.0, 0.0, 3.0], [-0.5, 0.0, 2.5]]), radius=0.011, closed=True
)


def wire(start, end, *, kind="railing", diameter=0.02):
    return SiteWire(kind=kind, start=start, end=end, diameter=diameter, conductivity=6e6, mu_r=100.0)


def graph_of(*pieces, wavelength=20.0):
    return metal_graph(pieces, ring=RING, shortest_wavelength=wavelength, address=Address.METAL)


def pieces_of(graph):
    """Number of conductors that hang together."""
    group = np.arange(len(graph.nodes))
    for _ in group:
        for a, b in graph.segments:
            group[[a, b]] = min(group[a], group[b])
    return len(np.unique(group))


@pytest.mark.parametrize(("apart", "joined"), [(0.0, True), (0.9e-3, True), (1.2e-3, False), (0.05, False)])
def test_ends_join_within_a_millimetre(apart, joined):
    graph = graph_of(wire((-2.0, 2.0, 1.0), (0.0, 2.0, 1.0)), wire((0.0, 2.0, 1.0 + apart), (0.0, 2.0, 2.0)))
    assert pieces_of(graph) == (1 if joined else 2)


@pytest.mark.parametrize(("apart", "joined"), [(0.0, True), (0.9e-3, True), (1.2e-3, False)])
@pytest.mark.parametrize("place", [-1.37, 0.0, 0.5])
def test_an_end_on_another_wire_joins_within_a_millimetre(apart, joined, place):
    graph = graph_of(
        wire((-2.0, 2.0, 1.0), (2.0, 2.0, 1.0)), wire((place, 2.0, 1.0 - apart), (place, 2.0, 0.1))
    )
    assert pieces_of(graph) == (1 if joined else 2)
    meeting = np.bincount(graph.segments.ravel())
    assert np.count_nonzero(meeting == 3) == (1 if joined else 0)
    if joined:
        at = graph.nodes[int(np.flatnonzero(meeting == 3)[0])]
        assert np.linalg.norm(at - [place, 2.0, 1.0]) < 1e-3


@pytest.mark.parametrize("x", [0.0, 0.3, 1.0])
def test_wires_that_cross_without_an_end_stay_apart(x):
    """Also where a place at which one is cut lies on the other, as in the middle of both."""
    graph = graph_of(wire((-2.0, 2.0, 1.0), (2.0, 2.0, 1.0)), wire((x, 2.0, 0.5), (x, 2.0, 1.5)))
    assert pieces_of(graph) == 2


def test_railing_of_bars_between_two_rails():
    rails = [wire((-1.0, 2.0, z), (1.0, 2.0, z)) for z in (0.2, 1.0)]
    bars = [wire((x, 2.0, 0.2), (x, 2.0, 1.0), diameter=0.012) for x in np.linspace(-1.0, 1.0, 6)]
    graph = graph_of(*rails, *bars)
    assert pieces_of(graph) == 1
    meeting = np.bincount(graph.segments.ravel())
    assert np.count_nonzero(meeting == 3) == 8  # four inner bars, two feet each; the outer ones make corners
    assert meeting.min() == 2
    # n - 1 functions at each node: every loop of the grid can carry current.
    assert len(Rooftops.on(graph).node) == int(np.sum(meeting - 1))


def test_lone_wire_can_carry_current():
    """However short: current needs a node between two segments."""
    lone = graph_of(wire((5.0, 5.0, 0.1), (5.0, 5.0, 0.2)))
    assert len(lone.segments) >= 2
    assert len(Rooftops.on(lone).node) >= 1


def test_segments_are_short_near_the_ring_and_a_twentieth_of_a_wavelength_far_away():
    near = graph_of(wire((-1.0, 0.4, 2.5), (1.0, 0.4, 2.5)))
    far = graph_of(wire((-10.0, 60.0, 2.5), (10.0, 60.0, 2.5)))
    assert 0.05 <= near.lengths.max() <= 0.5 * 0.4 + 0.02  # half of its distance to the ring
    assert 0.9 <= far.lengths.max() <= 20.0 / 20.0 * (1 + 1e-9)


def test_wire_numbers_addresses_and_radii_follow_the_pieces():
    graph = graph_of(
        wire((-1.0, 2.0, 1.0), (1.0, 2.0, 1.0), diameter=0.04), wire((0.0, 2.0, 1.0), (0.0, 2.0, 0.1))
    )
    for number, (start, radius) in enumerate([((-1.0, 2.0, 1.0), 0.02), ((0.0, 2.0, 1.0), 0.01)]):
        own = np.flatnonzero(graph.wire == number)
        assert graph.nodes[graph.segments[own[0], 0]] == pytest.approx(start, rel=1e-12, abs=1e-12)
        assert np.all(graph.radius[own] == radius)
        assert np.all(graph.address[own] == Address.METAL)
        # In order along the wire, each from where the one before it ended.
        assert np.array_equal(graph.segments[own[1:], 0], graph.segments[own[:-1], 1])


def mesh(*, spacing, along=(0.0, 2.0, 0.0), across=(1.0, 0.0, 0.0)):
    return SiteMesh(
        corner=(3.0, 0.0, 0.5), along=along, across=across, spacing=spacing, diameter=0.005, conductivity=6e6
    )


def test_mesh_is_joined_at_its_crossings():
    graph = graph_of(mesh(spacing=0.5))
    assert pieces_of(graph) == 1
    meeting = np.bincount(graph.segments.ravel())
    inner = np.count_nonzero(meeting == 4)
    crossings = np.unique(np.round(graph.nodes[meeting > 2], 6), axis=0)
    # 4 by 2 cells: 5 x 3 crossings, of which 3 x 1 are inside, 4 are corners, the rest are tees on the rim.
    assert inner == 3
    assert len(crossings) == 3 + 8
    assert graph.lengths.sum() == pytest.approx(3 * 2.0 + 5 * 1.0, rel=1e-9, abs=0)


def test_mesh_of_uneven_size_keeps_its_edges():
    """Cells are as near to the stated spacing as whole numbers allow; the outline is exact."""
    graph = graph_of(mesh(spacing=0.3))
    assert np.ptp(graph.nodes, axis=0) == pytest.approx([1.0, 2.0, 0.0], abs=1e-12)
    on_edge = graph.nodes[np.isclose(graph.nodes[:, 0], 3.0)]
    assert len(np.unique(np.round(on_edge[:, 1], 9))) >= 8


def test_more_metal_than_a_live_answer_bears_is_refused():
    with pytest.raises(DesignError, match=rf"site\.metal: more than {MOST_SEGMENTS} pieces"):
        graph_of(mesh(spacing=0.02))


def test_too_much_metal_is_refused_before_it_is_joined(monkeypatch):
    def join(*_):
        raise AssertionError("this takes seconds")

    monkeypatch.setattr("ringwright.antenna.site_metal._breaks", join)
    with pytest.raises(DesignError, match=r"site\.metal\[2\], the mesh"):
        graph_of(wire((-1.0, 5.0, 2.0), (1.0, 5.0, 2.0)), mesh(spacing=0.02))


def test_metal_that_touches_the_ring_is_named():
    with pytest.raises(DesignError, match=r"site\.metal\[2\]: the gutter touches the ring"):
        graph_of(
            wire((-1.0, 5.0, 2.0), (1.0, 5.0, 2.0)), wire((-1.0, 0.02, 2.0), (1.0, 0.02, 2.0), kind="gutter")
        )


@pytest.mark.parametrize("place", [0.3335, -0.12345, 1.0004])
@pytest.mark.parametrize("side", [(0.0, 1.0), (0.7, 0.7)])
def test_ends_join_wherever_on_the_wire_they_lie(place, side):
    off = 0.95e-3 * np.array([0.0, *side]) / np.linalg.norm(side)
    end = np.array([place, 2.0, 1.0]) + off
    graph = graph_of(wire((-2.0, 2.0, 1.0), (2.0, 2.0, 1.0)), wire(tuple(end), (place, 3.0, 0.3)))
    assert pieces_of(graph) == 1


def test_pieces_get_shorter_towards_a_free_end_only():
    post = wire((2.0, 2.0, 1.0), (2.0, 2.0, 0.1), diameter=0.01)
    graph = graph_of(wire((-2.0, 2.0, 1.0), (2.0, 2.0, 1.0), diameter=0.01), post)
    lengths = graph.lengths[graph.wire == 0]
    assert lengths[0] < 0.5 * lengths[2]
    assert lengths[-1] == pytest.approx(lengths[-2], rel=1e-9, abs=0)
    assert graph.lengths[graph.wire == 1][-1] < 0.5 * graph.lengths[graph.wire == 1][0]


def test_a_wire_of_a_centimetre_is_cut_once():
    graph = graph_of(wire((2.0, 2.0, 1.0), (2.01, 2.0, 1.0), diameter=0.002))
    assert graph.lengths == pytest.approx([0.005, 0.005], rel=1e-9, abs=0)
