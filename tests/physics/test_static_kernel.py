# SPDX-License-Identifier: BSD-3-Clause
"""Static integrals of segment pairs, each kind of neighbourhood, against adaptive quadrature and closed forms."""

from functools import partial

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.physics.graph import Rooftops, WireGraph, chain, join
from ringwright.physics.static_kernel import static_integrals, tube_average
from ringwright.physics.wave_kernel import ShapeProducts
from tests.physics.segment_pairs import pair_integrals, tube_mean
from tests.physics.wires import ring

H = 0.06
"""Length of the segments: that of a 3 m ring. [m]"""


def filament(distance: float) -> float:
    return 1.0 / distance


def arc(count: int, *, step_deg: float, radius: float) -> WireGraph:
    heading = np.radians(step_deg) * np.arange(count)
    steps = H * np.stack([np.cos(heading), np.sin(heading), 0.0 * heading], axis=1)
    return chain(np.concatenate([np.zeros((1, 3)), np.cumsum(steps, axis=0)]), radius=radius, closed=False)


def apart(first, second, *, radius=0.01):
    """Two conductors of one segment each."""
    return join(
        [chain(np.asarray(ends, dtype=float), radius=radius, closed=False) for ends in (first, second)]
    )


def ends_of(graph, segment):
    return graph.nodes[graph.segments[segment]]


@given(st.floats(1e-6, 1e6))
def test_tube_average_is_the_complete_elliptic_integral(ratio):
    # DLMF 19.8.5: K = pi/(2 AGM). Rounding only.
    found = tube_average(np.array([ratio**2]), np.array([1.0]))[0]
    assert found == pytest.approx(tube_mean(ratio, 1.0), rel=2e-14, abs=0)


def test_tube_average_in_one_call_spans_all_ratios():
    d = np.geomspace(1e-7, 1e3, 40)
    expected = [tube_mean(float(each), 0.01) for each in d]
    assert tube_average(d**2, 1e-4 + 0.0 * d) == pytest.approx(expected, rel=1e-12, abs=0)


def test_tube_average_without_radius_is_a_filament():
    assert tube_average(np.array([4.0]), np.array([0.0]))[0] == pytest.approx(0.5, rel=1e-15, abs=0)


@pytest.mark.parametrize("slenderness", [1, 3, 10, 100, 1000])
def test_segment_with_itself(slenderness):
    radius = H / slenderness
    graph = arc(1, step_deg=0.0, radius=radius)
    expected = pair_integrals(ends_of(graph, 0), ends_of(graph, 0), partial(tube_mean, radius=radius))
    # 1e-6 is what the module promises; 24 points give 1e-8, where the quadrature of the oracle ends.
    assert static_integrals(graph)[0, :, 0, :] == pytest.approx(expected, rel=3e-8, abs=0)


@pytest.mark.parametrize("slenderness", [50.0, 500.0])
def test_segment_with_itself_rosa_1908_tube(slenderness):
    """Sum over shapes: 2 h (ln(2h/a) - 1) + 8 a/pi, Neumann's parallel filaments averaged over the tube's chords."""
    radius = H / slenderness
    whole = static_integrals(arc(1, step_deg=0.0, radius=radius))[0, :, 0, :].sum()
    closed = 2.0 * H * (np.log(2.0 * H / radius) - 1.0) + 8.0 * radius / np.pi
    # Left out: -h <r^2>/(2 h^2) = -a^2/h, of a total of some 10 h.
    assert whole == pytest.approx(closed, rel=0.2 / slenderness**2, abs=0)


@pytest.mark.parametrize("slenderness", [1, 5, 100])
@pytest.mark.parametrize(("turn_deg", "stretch"), [(0.0, 1.0), (7.5, 1.0), (90.0, 2.5), (160.0, 1.0)])
def test_touching_segments(slenderness, turn_deg, stretch):
    radius = H / slenderness
    graph = arc(2, step_deg=turn_deg, radius=radius)
    graph.nodes[2] = graph.nodes[1] + stretch * (graph.nodes[2] - graph.nodes[1])
    expected = pair_integrals(ends_of(graph, 0), ends_of(graph, 1), partial(tube_mean, radius=radius))
    assert static_integrals(graph)[0, :, 1, :] == pytest.approx(expected, rel=1e-7, abs=0)


@pytest.mark.parametrize("flips", [(False, True), (True, False), (True, True)])
def test_touching_segments_may_point_either_way(flips):
    """A reversed segment has its two shapes exchanged, nothing else."""
    graph = arc(2, step_deg=40.0, radius=0.008)
    graph.nodes[2] *= 1.4
    straight = static_integrals(graph)[0, :, 1, :]
    turned = WireGraph(
        nodes=graph.nodes,
        segments=np.array(
            [row[::-1] if flip else row for row, flip in zip(graph.segments, flips, strict=True)]
        ),
        radius=graph.radius,
        wire=graph.wire,
        turn=graph.turn,
        address=graph.address,
        length_factor=graph.length_factor,
    )
    expected = straight[:: -1 if flips[0] else 1, :: -1 if flips[1] else 1]
    assert static_integrals(turned)[0, :, 1, :] == pytest.approx(expected, rel=1e-14, abs=0)


@pytest.mark.parametrize(("slenderness", "promised"), [(1, 4e-4), (2, 2e-5), (4, 2e-5), (30, 2e-5)])
@pytest.mark.parametrize("step_deg", [0.0, 7.5])
def test_neighbours_further_along_one_tube(slenderness, promised, step_deg):
    """Near (second neighbour) and far (third and beyond), where three points and an expansion of the tube serve."""
    radius = H / slenderness
    graph = arc(6, step_deg=step_deg, radius=radius)
    found = static_integrals(graph)
    for other, tolerance in ((2, 1e-7), (3, promised), (5, promised)):
        expected = pair_integrals(ends_of(graph, 0), ends_of(graph, other), partial(tube_mean, radius=radius))
        # Near: six points. Far: three points on collinear segments three lengths apart leave 1.2e-5; the expansion of
        # the tube in (a/d)^2 leaves its fourth power, 3e-4 for segments as short as the radius.
        assert found[0, :, other, :] == pytest.approx(expected, rel=tolerance, abs=0)


def parallel_filaments(length, distance):
    """F. E. Neumann's integral of two equal, facing, parallel filaments [m] (Rosa 1908, from memory)."""
    return 2.0 * (length * np.arcsinh(length / distance) - np.hypot(length, distance) + distance)


def collinear_filaments(first: float, second: float, gap: float) -> float:
    """The same of two filaments on one line [m] (Rosa 1908, from memory)."""
    ends = np.array([first + second + gap, gap, first + gap, second + gap])
    return float(np.sum(np.array([1.0, 1.0, -1.0, -1.0]) * ends * np.log(ends)))


@pytest.mark.parametrize("distance", [0.01, 0.03, 0.1, 0.2, 1.0])
def test_parallel_conductors_neumann(distance):
    graph = apart([[0, 0, 0], [H, 0, 0]], [[0, distance, 0], [H, distance, 0]])
    # Exact along one, ten points along the other; beyond 2.5 lengths three points on each: 2e-6.
    expected = parallel_filaments(H, distance)
    assert static_integrals(graph)[0, :, 1, :].sum() == pytest.approx(expected, rel=3e-6, abs=0)


@pytest.mark.parametrize(("second", "gap"), [(0.06, 0.02), (0.2, 0.05), (0.06, 0.13), (0.06, 0.6)])
def test_collinear_conductors_neumann(second, gap):
    graph = apart([[0, 0, 0], [H, 0, 0]], [[H + gap, 0, 0], [H + gap + second, 0, 0]])
    # Worst just beyond 2.5 lengths, as along one tube.
    expected = collinear_filaments(H, second, gap)
    assert static_integrals(graph)[0, :, 1, :].sum() == pytest.approx(expected, rel=1.5e-5, abs=0)


@pytest.mark.parametrize(
    "second",
    [
        [[0.03, 0.02, -0.03], [0.04, 0.02, 0.03]],  # crossing at 20 mm, as a railing crosses a stay
        [[0.08, 0.01, 0.0], [0.25, 0.03, 0.02]],  # beside, three times as long
        [[0.25, 0.03, 0.02], [0.08, 0.01, 0.0]],  # the same, reversed
        [[0.02, 0.015, 0.0], [0.03, 0.016, 0.0]],  # a short one beside a long one
    ],
)
def test_near_conductors_by_quadrature(second):
    graph = apart([[0, 0, 0], [H, 0, 0]], second)
    expected = pair_integrals(ends_of(graph, 0), ends_of(graph, 1), filament)
    assert static_integrals(graph)[0, :, 1, :] == pytest.approx(expected, rel=1e-6, abs=0)


def test_no_radius_between_conductors_nor_between_turns():
    """A radius under the root would weaken the coupling by a^2/d^2."""
    near = [[0, 0.03, 0], [H, 0.03, 0]]
    thin, thick = (static_integrals(apart([[0, 0, 0], [H, 0, 0]], near, radius=r)) for r in (1e-4, 0.014))
    assert thick[0, :, 1, :] == pytest.approx(thin[0, :, 1, :], rel=1e-14, abs=0)
    coil = arc(9, step_deg=0.0, radius=0.014)
    turns = chain(coil.nodes, radius=0.014, closed=False, turn=np.arange(9) / 4.0)
    as_tube, as_turns = static_integrals(coil), static_integrals(turns)
    assert as_turns[0, :, 2, :] == pytest.approx(as_tube[0, :, 2, :], rel=1e-14, abs=0)
    expected = pair_integrals(ends_of(coil, 0), ends_of(coil, 3), filament)
    assert as_turns[0, :, 3, :] == pytest.approx(expected, rel=1.5e-5, abs=0)


def random_wires(rng: np.random.Generator) -> WireGraph:
    walk = np.cumsum(rng.normal(scale=0.1, size=(7, 3)), axis=0)
    return join(
        [
            ring(3.0, rng.uniform(1e-3, 2e-2), 16),
            chain(walk + np.array([0.0, 0.0, 1.0]), radius=2e-3, closed=False),
        ]
    )


@given(st.integers(0, 10**6))
def test_energy_of_any_current_and_charge_is_positive(seed):
    """The gathered matrices are an inductance and an elastance: symmetric, positive (charges: but for the neutral)."""
    graph = random_wires(np.random.default_rng(seed))
    static = static_integrals(graph)
    assert np.max(np.abs(static - static.transpose(2, 3, 0, 1))) <= 1e-15 * np.max(np.abs(static))
    rooftops = Rooftops.on(graph)
    for matrix in map(rooftops.gather, ShapeProducts(graph).apply_true(static)):
        values = np.linalg.eigvalsh(matrix)
        assert values[0] > -1e-12 * values[-1]
    currents = rooftops.gather(ShapeProducts(graph).apply_true(static)[0])
    assert np.linalg.eigvalsh(currents)[0] > 0


@given(st.integers(0, 10**6), st.floats(0.01, 100.0))
def test_integrals_grow_with_the_size(seed, scale):
    graph = random_wires(np.random.default_rng(seed))
    larger = WireGraph(
        nodes=graph.nodes * scale,
        segments=graph.segments,
        radius=graph.radius * scale,
        wire=graph.wire,
        turn=graph.turn,
        address=graph.address,
        length_factor=graph.length_factor,
    )
    # Pairs on the border between near and far may change sides: 1.5e-5, as above.
    assert static_integrals(larger) == pytest.approx(scale * static_integrals(graph), rel=1.5e-5, abs=0)
