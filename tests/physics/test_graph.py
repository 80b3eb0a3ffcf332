# SPDX-License-Identifier: BSD-3-Clause
"""Nodes, segments and the currents on them: Kirchhoff at every node, ports where a conductor can be opened."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import OutOfRangeError, RingwrightError
from ringwright.physics.graph import Rooftops, WireGraph, chain, join
from tests.physics.wires import dipole, ring


def graph_of(segments, *, nodes=None, radius=0.01):
    segments = np.asarray(segments, dtype=np.int64)
    count = len(segments)
    if nodes is None:
        nodes = np.random.default_rng(1).normal(size=(int(segments.max()) + 1, 3))
    return WireGraph(
        nodes=np.asarray(nodes, dtype=float),
        segments=segments,
        radius=np.full(count, radius),
        wire=np.zeros(count, dtype=np.int64),
        turn=np.zeros(count),
        address=np.zeros(count, dtype=np.int64),
        length_factor=np.ones(count),
    )


@st.composite
def random_segments(draw):
    """Simple graphs of up to 9 nodes: any set of joined pairs, each either way round."""
    pairs = draw(
        st.sets(st.tuples(st.integers(0, 8), st.integers(0, 8)).filter(lambda p: p[0] < p[1]), min_size=2)
    )
    return [pair[::-1] if draw(st.booleans()) else pair for pair in sorted(pairs)]


@given(random_segments(), st.integers(0, 1000))
def test_kirchhoff_holds_at_every_node_for_any_currents(segments, seed):
    graph = graph_of(segments)
    rooftops = Rooftops.on(graph)
    rng = np.random.default_rng(seed)
    currents = rng.normal(size=(1, len(rooftops.node), 1)).astype(complex)
    at_ends = rooftops.on_shapes(currents, len(graph.segments))[0, :, :, 0]
    for node in np.unique(graph.segments):
        leaves = (
            at_ends[graph.segments[:, 0] == node, 0].sum() - at_ends[graph.segments[:, 1] == node, 1].sum()
        )
        assert abs(leaves) < 1e-13
        # And nothing flows at a free end.
        if np.count_nonzero(graph.segments == node) == 1:
            assert np.all(at_ends[graph.segments == node] == 0.0)


@given(random_segments())
def test_as_many_functions_as_free_currents(segments):
    """n - 1 where n segments meet, and they are independent."""
    graph = graph_of(segments)
    rooftops = Rooftops.on(graph)
    _, meeting = np.unique(graph.segments, return_counts=True)
    assert len(rooftops.node) == int(np.sum(meeting - 1))
    mean, rise = rooftops.on_segments(len(graph.segments))
    unit = rooftops.on_shapes(np.eye(len(rooftops.node))[None].astype(complex), len(graph.segments))[0].real
    assert np.linalg.matrix_rank(unit.reshape(2 * len(graph.segments), -1)) == len(rooftops.node)
    # Mean current and rise of the charge are those of the ends' currents: halves and ones, without rounding.
    assert np.array_equal(mean.T, unit.mean(axis=1))
    assert np.array_equal(rise.T, unit[:, 1] - unit[:, 0])


@given(random_segments())
def test_gather_is_the_quadratic_form_of_the_functions(segments):
    graph = graph_of(segments)
    rooftops = Rooftops.on(graph)
    n = 2 * len(graph.segments)
    matrix = np.random.default_rng(5).normal(size=(n, n))
    columns = rooftops.on_shapes(np.eye(len(rooftops.node))[None].astype(complex), n // 2)[0]
    columns = columns.reshape(n, -1).real
    assert rooftops.gather(matrix) == pytest.approx(columns.T @ matrix @ columns, rel=1e-12, abs=1e-12)


def test_current_counts_along_a_ring_at_its_closing_node_too():
    graph = ring(3.0, 0.01, 12)
    rooftops = Rooftops.on(graph)
    steady = rooftops.on_shapes(np.ones((1, 12, 1), dtype=complex), 12)
    assert np.all(steady == 1.0)


def test_a_port_opens_one_conductor():
    graph = join([ring(3.0, 0.01, 12), dipole(1.0, 0.01, 4)])
    rooftops = Rooftops.on(graph)
    assert rooftops.node[rooftops.at_node(14, graph.wire)] == 14
    for node in (12, 16):  # the dipole's free ends
        with pytest.raises(OutOfRangeError, match="0 conductors pass"):
            rooftops.at_node(node, graph.wire)
    star = Rooftops.on(graph_of([(0, 1), (0, 2), (0, 3)]))
    with pytest.raises(OutOfRangeError, match="2 conductors pass"):
        star.at_node(0, np.zeros(3, dtype=np.int64))


def test_a_port_follows_its_conductor_past_what_is_joined_there():
    """A foreign wire at the node leaves the port on the conductor that passes through."""
    segments = [(0, 1), (1, 2), (1, 3)]
    rooftops = Rooftops.on(graph_of(segments))
    port = rooftops.at_node(1, np.array([0, 0, 1]))
    assert {int(rooftops.shape_in[port]) // 2, int(rooftops.shape_out[port]) // 2} == {0, 1}


def test_joined_graphs_keep_to_themselves():
    one, two = ring(3.0, 0.01, 12), dipole(1.0, 0.004, 4)
    both = join([one, two, two])
    assert np.array_equal(np.bincount(both.wire), [12, 4, 4])
    assert np.array_equal(both.nodes[both.segments[12:16]], two.nodes[two.segments])
    assert np.array_equal(both.nodes[both.segments[16:]], two.nodes[two.segments])
    assert both.radius[0] == 0.01
    assert both.radius[-1] == 0.004


def test_points_tangents_and_centres_agree():
    graph = ring(3.0, 0.01, 7)
    ends = graph.points(np.array([0.0, 0.5, 1.0]))
    assert ends[:, 1] == pytest.approx(graph.centres, rel=1e-12, abs=1e-15)
    assert ends[:, 2] - ends[:, 0] == pytest.approx(graph.tangents * graph.lengths[:, None], abs=1e-15)
    assert np.linalg.norm(graph.tangents, axis=1) == pytest.approx(np.ones(7), rel=1e-14, abs=0)


@pytest.mark.parametrize("radius", [0.0, -1e-3, np.nan, np.inf])
def test_a_conductor_has_a_radius(radius):
    with pytest.raises(RingwrightError, match="radii"):
        chain(np.array([[0.0, 0, 0], [1, 0, 0], [1, 1, 0]]), radius=radius, closed=False)


@pytest.mark.parametrize("last", [[1.0, 0.0, 0.0], [np.nan, 0.0, 0.0]])
def test_a_segment_has_a_length(last):
    with pytest.raises(RingwrightError, match="length"):
        chain(np.array([[0.0, 0, 0], [1.0, 0, 0], last]), radius=0.01, closed=False)
