# SPDX-License-Identifier: BSD-3-Clause
"""Where more than two segments meet: T-joints, meshes and wires at a port are solved like any other node."""

from itertools import pairwise

import numpy as np
import pytest
import skrf

from ringwright.physics.constants import C_0
from ringwright.physics.graph import WireGraph, join
from ringwright.physics.thin_wire import ThinWire
from tests.physics.wires import Array, dipole, ring, solve


def wired(nodes: Array, segments: list[tuple[int, int]], *, wire: list[int] | None = None) -> WireGraph:
    count = len(segments)
    return WireGraph(
        nodes=np.asarray(nodes, dtype=float),
        segments=np.array(segments, dtype=np.int64),
        radius=np.full(count, 2e-3),
        wire=np.array(wire or [0] * count, dtype=np.int64),
        turn=np.zeros(count),
        address=np.zeros(count, dtype=np.int64),
        length_factor=np.ones(count),
    )


def tee(branch: float, *, pieces: int = 8) -> tuple[WireGraph, int]:
    """A horizontal wire of 1 m, fed a quarter along, with a branch down from its middle; and the middle's number."""
    x = np.linspace(-0.5, 0.5, pieces + 1)
    across = np.stack([x, 0 * x, 0 * x], axis=1)
    down = -np.linspace(0.0, branch, pieces // 2 + 1)[1:]
    nodes = np.concatenate([across, np.stack([0 * down, 0 * down, down], axis=1)])
    middle = pieces // 2
    chain_down = [middle, *range(pieces + 1, pieces + 1 + pieces // 2)]
    segments = [(i, i + 1) for i in range(pieces)] + list(pairwise(chain_down))
    return wired(nodes, segments, wire=[0] * pieces + [1] * (pieces // 2)), middle


def test_kirchhoff_holds_at_a_t_joint():
    graph, middle = tee(0.4)
    current = solve(graph, [2], 1.5e8).current[0, :, :, 0]
    into = current[graph.segments[:, 1] == middle, 1].sum()
    out = current[graph.segments[:, 0] == middle, 0].sum()
    assert abs(into - out) < 1e-12 * abs(into)
    # All three carry current: the joint is not a clean pass.
    assert np.all(abs(current[graph.segments[:, 0] == middle, 0]) > 0.05 * abs(into))


@pytest.mark.parametrize("order", [(0, 1, 2), (2, 0, 1), (1, 2, 0)])
def test_order_of_segments_at_a_joint_does_not_count(order):
    """Which segment the joint's functions start from is a choice of basis, not of physics."""
    graph, _ = tee(0.4, pieces=4)
    blocks = [np.arange(2), np.arange(2, 4), np.arange(4, 6)]
    shuffled = np.concatenate([blocks[i] for i in order])
    other = wired(
        graph.nodes, [tuple(graph.segments[i]) for i in shuffled], wire=[int(graph.wire[i]) for i in shuffled]
    )
    one, two = (solve(each, [1], 1.5e8).impedance[0, 0, 0] for each in (graph, other))
    assert abs(two / one - 1) < 1e-9  # rounding only


def test_a_short_stub_vanishes_with_its_length():
    bare = solve(dipole(1.0, 2e-3, 8), [2], 1.2e8).impedance[0, 0, 0]
    changes = [
        abs(solve(tee(branch)[0], [2], 1.2e8).impedance[0, 0, 0] / bare - 1) for branch in (0.08, 0.02)
    ]
    # A stub at the middle is a small capacitor there, in proportion to its length.
    assert changes[1] < 0.02
    assert 2.5 < changes[0] / changes[1] < 8.0


def test_two_loops_that_share_a_wire_add_up_to_the_loop_round_both():
    """Opposite currents in both leave the shared wire idle: L1 + L2 - 2 M is that of the rectangle round it."""
    side, n = 1.0, 8
    u = np.linspace(0.0, side, n + 1)

    def u_shape(x):
        """From the middle's foot out to x, up, and back to the middle's head."""
        out = np.stack([u * x, 0 * u, 0 * u], axis=1)
        up = np.stack([0 * u + x, 0 * u, u], axis=1)
        back = np.stack([x - u * x, 0 * u, 0 * u + side], axis=1)
        return np.concatenate([out[1:], up[1:], back[1:-1]])

    shared = np.stack([0 * u, 0 * u, u], axis=1)
    left, right = (u_shape(x) for x in (-side, side))
    nodes = np.concatenate([shared, left, right])
    k = len(left)

    def path(first):
        through = [0, *range(first, first + k), n]
        return list(pairwise(through))

    middle = [(i, i + 1) for i in range(n)]
    segments = middle + path(n + 1) + path(n + 1 + k)
    ports = [n + 1 + k // 2, n + 1 + k + k // 2]
    wire = [0] * n + [1] * (k + 1) + [2] * (k + 1)
    f = 1e4
    two_loops = solve(wired(nodes, segments, wire=wire), ports, f).impedance[0].imag
    outer = path(n + 1)[:-1] + [(n + k, n)] + [(b, a) for a, b in path(n + 1 + k)[::-1]]
    rectangle = wired(nodes, outer, wire=[1] * (k + 1) + [2] * (k + 1))
    alone = solve(_without_unused(rectangle), [k // 2], f).impedance[0, 0, 0].imag
    across = two_loops[0, 0] + two_loops[1, 1] - 2.0 * two_loops[0, 1]
    # The loops' own capacitance: the square of frequency over some 25 MHz of resonance.
    assert across == pytest.approx(alone, rel=1e-6, abs=0)


def _without_unused(graph: WireGraph) -> WireGraph:
    used, renumbered = np.unique(graph.segments, return_inverse=True)
    return WireGraph(
        nodes=graph.nodes[used],
        segments=renumbered.reshape(-1, 2),
        radius=graph.radius,
        wire=graph.wire,
        turn=graph.turn,
        address=graph.address,
        length_factor=graph.length_factor,
    )


def test_port_definition_is_the_network_library_s():
    """One of two ports short-circuited by scikit-rf leaves the ring with one gap."""
    graph = ring(3.0, 0.011, 24)
    z = solve(graph, [0, 12], 14.2e6).impedance[0]
    alone = solve(graph, [0], 14.2e6).impedance[0, 0, 0]
    short = skrf.Network(
        frequency=skrf.Frequency(14.2, 14.2, 1, unit="MHz"), s=np.full((1, 1, 1), -1.0), z0=50.0
    )
    two_port = skrf.Network(frequency=short.frequency, z=z[None], z0=50.0)
    assert (two_port**short).z[0, 0, 0] == pytest.approx(alone, rel=1e-8, abs=0)


def test_current_is_one_in_its_port_and_none_in_the_open_one():
    graph = ring(3.0, 0.011, 24)
    current = ThinWire(graph, [0, 7]).solve(np.array([14.2e6])).current[0, :, 0, :]
    assert current[[0, 7]] == pytest.approx(np.eye(2), abs=1e-9)  # rounding through the high impedance


@pytest.mark.parametrize("frequency", [np.nan, 0.0, -1e6, np.inf])
def test_frequency_must_be_a_frequency(frequency):
    with pytest.raises(ValueError, match="frequency must be finite and > 0"):
        solve(ring(3.0, 0.011, 8), [0], frequency)


def test_mesh_is_solved_and_shades_the_ring_as_a_sheet_does():
    """A ring close above a mesh of wires: the image current takes inductance, as Lenz has it, and more when nearer."""

    def mesh(height: float, cells: int = 6, size: float = 2.4) -> WireGraph:
        grid = np.linspace(-size / 2, size / 2, cells + 1)
        x, y = np.meshgrid(grid, grid, indexing="ij")
        index = np.arange((cells + 1) ** 2).reshape(cells + 1, cells + 1)
        segments = [*zip(index[:-1].ravel(), index[1:].ravel(), strict=True)]
        segments += [*zip(index[:, :-1].ravel(), index[:, 1:].ravel(), strict=True)]
        nodes = np.stack([x.ravel(), y.ravel(), np.full(x.size, -height)], axis=1)
        return wired(nodes, [(int(a), int(b)) for a, b in segments], wire=list(range(len(segments))))

    bare = solve(ring(3.0, 0.011, 24), [0], 5e6).impedance[0, 0, 0].imag
    over = [
        solve(join([ring(3.0, 0.011, 24), mesh(h)]), [0], 5e6).impedance[0, 0, 0].imag
        for h in (0.8, 0.4, 0.2)
    ]
    assert bare > over[0] > over[1] > over[2] > 0.3 * bare


def test_wavelength_beyond_the_series_is_solved_directly():
    """A 20 m railing at 30 MHz is two wavelengths: k size is 12.6, and the direct sum takes over without a step."""
    graph = dipole(20.0, 0.02, 80)
    wires = ThinWire(graph, [40])
    limit = 4.0 * C_0 / (2.0 * np.pi * 20.0)
    below, above = (wires.solve(np.array([limit * x])).impedance[0, 0, 0] for x in (1.0 - 1e-6, 1.0 + 1e-6))
    # The impedance itself moves by 2e-6 times its slope, some tens of units of f dZ/df.
    assert abs(above / below - 1) < 1e-4
