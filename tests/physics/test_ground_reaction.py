# SPDX-License-Identifier: BSD-3-Clause
"""Wires over earth: image theory with the image as real wires, reciprocity, and what a point a segment costs."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ringwright.physics import ground_reaction
from ringwright.physics.graph import WireGraph, chain, join
from ringwright.physics.ground_reaction import GroundReaction
from ringwright.physics.half_space import (
    PERFECT_EARTH,
    GroundOperator,
    PerfectEarth,
    complex_permittivity,
    wavenumber,
)
from ringwright.physics.thin_wire import PortSolution, ThinWire
from tests.physics.wires import Array, dipole, ring

F = np.array([14.2e6])


def moved(graph: WireGraph, nodes: Array) -> WireGraph:
    return WireGraph(
        nodes=nodes,
        segments=graph.segments,
        radius=graph.radius,
        wire=graph.wire,
        turn=graph.turn,
        address=graph.address,
        length_factor=graph.length_factor,
    )


def ring_at(height: float, tilt: float, *, segments: int = 48) -> WireGraph:
    """A 3 m ring whose lowest point is at a height, its plane `tilt` from horizontal."""
    flat = ring(3.0, 0.011, segments)
    c, s = np.cos(tilt), np.sin(tilt)
    nodes = flat.nodes @ np.array([[1.0, 0.0, 0.0], [0.0, c, s], [0.0, -s, c]])
    return moved(flat, nodes + np.array([0.0, 0.0, height - nodes[:, 2].min()]))


def over_perfect_earth(graph: WireGraph, ports: list[int], frequency: Array = F) -> PortSolution:
    wires = ThinWire(graph, ports)
    reaction = GroundReaction(graph, wires.rooftops, PerfectEarth)
    reflected = np.stack([reaction.reflected(float(f), PERFECT_EARTH) for f in frequency])
    return wires.solve(frequency, reflected=reflected)


def with_its_image(graph: WireGraph, ports: list[int]) -> PortSolution:
    image = moved(graph, graph.nodes * [1.0, 1.0, -1.0])
    both = ThinWire(join([graph, image]), [*ports, *(len(graph.nodes) + port for port in ports)])
    return both.solve(F)


@pytest.mark.parametrize("tilt_deg", [0.0, 30.0, 90.0])
@pytest.mark.parametrize("height", [0.3, 1.0, 4.0])
def test_perfect_earth_is_the_image_as_real_wires(height, tilt_deg):
    """Horizontal current and charge reverse, vertical current does not: each port's image carries minus its current."""
    graph = ring_at(height, np.radians(tilt_deg))
    z = over_perfect_earth(graph, [0]).impedance[0, 0, 0]
    mirrored = with_its_image(graph, [0]).impedance[0]
    expected, alone = mirrored[0, 0] - mirrored[0, 1], ThinWire(graph, [0]).solve(F).impedance[0, 0, 0]
    # Of what the earth adds: a point a segment (two when the ring is low), against the wires' own integrals.
    assert abs(z - expected) < 2e-3 * abs(expected - alone)
    # The resistance that is left over the image is a small difference where the ring lies low and flat.
    assert z.real == pytest.approx(expected.real, rel=1e-3, abs=0)


def test_two_ports_over_perfect_earth():
    graph = join([ring_at(0.8, np.pi / 2), dipole(1.0, 0.004, 10, at=(1.0, 0.3, 1.4))])
    ports = [5, 53]
    found = over_perfect_earth(graph, ports).impedance[0]
    z = with_its_image(graph, ports).impedance[0]
    expected = z[:2, :2] - z[:2, 2:]
    assert np.max(abs(found / expected - 1.0)) < 1e-3


@given(st.integers(0, 10**6))
@settings(max_examples=10)
def test_earth_s_reaction_is_symmetric_and_takes_power(seed):
    rng = np.random.default_rng(seed)
    walk = np.cumsum(rng.normal(scale=0.1, size=(9, 3)), axis=0)
    walk[:, 2] += 0.6 - walk[:, 2].min()
    graph = join(
        [ring_at(0.7, float(rng.uniform(0.0, 1.5)), segments=16), chain(walk, radius=2e-3, closed=False)]
    )
    wires = ThinWire(graph, [0])

    def prepare(rho, h):
        return GroundOperator.build(rho, h, k_max=wavenumber(14.2e6))

    reaction = GroundReaction(graph, wires.rooftops, prepare)
    reflected = reaction.reflected(
        14.2e6, complex_permittivity(14.2e6, permittivity=13.0, conductivity=0.005)
    )
    # Reciprocity term by term: the tables hold one kernel a pair.
    assert np.max(abs(reflected - reflected.T)) < 1e-12 * np.max(abs(reflected))
    # No current gets power out of it; the tables' 1e-6 of the charges' reactance is what the sign may hang on.
    whole = reflected + wires._interaction(F)[0]
    assert np.linalg.eigvalsh(whole.real)[0] > -1e-6 * np.max(abs(reflected))


def test_earth_far_below_does_not_count():
    graph = ring_at(60.0, np.pi / 2)
    z = over_perfect_earth(graph, [0]).impedance[0, 0, 0]
    alone = ThinWire(graph, [0]).solve(F).impedance[0, 0, 0]
    # Dipole image at 2 h: 1.5/(2 k h) of the resistance, k h = 18.
    assert abs(z - alone) < 0.1 * alone.real


def finer(graph: WireGraph, parts: int) -> WireGraph:
    """The same closed polygon with every side in parts."""
    steps = np.arange(parts)[:, None] / parts
    sides = np.concatenate([a + b * steps for a, b in zip(graph.nodes, graph.vectors, strict=True)])
    return chain(sides, radius=float(graph.radius[0]), closed=True)


@pytest.mark.parametrize("tilt_deg", [0.0, 90.0])
@pytest.mark.parametrize(
    ("height", "tolerance"),
    [(0.1, 2e-4), (0.3, 2e-5), (0.6, 2e-3), (1.5, 5e-4)],
    ids=lambda value: f"{value:g}",
)
@pytest.mark.parametrize(("permittivity", "conductivity"), [(70.0, 5.0), (13.0, 5e-3)])
def test_a_point_or_two_stand_for_a_segment(
    permittivity, conductivity, height, tolerance, tilt_deg, monkeypatch
):
    """Against the same current on the same ring cut four times finer, two points each: below half a metre a segment
    has two points, above one."""
    coarse = ring_at(height, np.radians(tilt_deg))
    eps_c = complex_permittivity(14.2e6, permittivity=permittivity, conductivity=conductivity)
    round_it = np.cos(2.0 * np.pi * np.arange(len(coarse.nodes) + 1) / len(coarse.nodes)) + 2.0

    def felt(graph: WireGraph, current: Array) -> complex:
        rooftops = ThinWire(graph, [0]).rooftops
        reaction = GroundReaction(
            graph, rooftops, lambda rho, h: GroundOperator.build(rho, h, k_max=wavenumber(14.2e6))
        )
        return complex(current[rooftops.node] @ reaction.reflected(14.2e6, eps_c) @ current[rooftops.node])

    places = np.arange(4 * len(coarse.nodes)) / 4.0
    along = np.interp(places, np.arange(len(round_it)), round_it)
    found = felt(coarse, round_it[:-1])
    monkeypatch.setattr(ground_reaction, "SHORT", 0.0)
    expected = felt(finer(coarse, 4), along)
    # A point leaves (segment/distance)^2/6 of the nearest image, two leave the fourth power.
    assert abs(found - expected) < tolerance * abs(expected)


def test_a_conductor_near_perfect_is_the_mirror():
    graph = ring_at(0.5, np.pi / 2)
    rooftops = ThinWire(graph, [0]).rooftops

    def build(rho, h):
        return GroundOperator.build(rho, h, k_max=wavenumber(14.2e6))

    eps_c = complex_permittivity(14.2e6, permittivity=1.0, conductivity=1e12)
    found = GroundReaction(graph, rooftops, build).reflected(14.2e6, eps_c)
    mirror = GroundReaction(graph, rooftops, PerfectEarth).reflected(14.2e6, PERFECT_EARTH)
    # The tables' 1e-6 of the nearest image, ten times over; the two charges of a function leave a third of theirs.
    assert np.max(abs(found - mirror)) < 3e-5 * np.max(abs(mirror))


EARTHS = [(70.0, 5.0), (80.0, 3e-3), (30.0, 1e-2), (13.0, 5e-3), (3.0, 1e-4)]
"""Relative permittivity and conductivity [S/m]: sea, fresh water, wet, average and very dry ground."""


def solved_over(graph: WireGraph, ports: list[int], eps_c: complex) -> tuple[PortSolution, GroundReaction]:
    wires = ThinWire(graph, ports)
    k = wavenumber(F[0])
    reaction = GroundReaction(
        graph, wires.rooftops, lambda rho, h: GroundOperator.build(rho, h, k_max=k, index_max=9.0)
    )
    return wires.solve(F, reflected=reaction.reflected(float(F[0]), eps_c)[None]), reaction


@pytest.mark.parametrize(("permittivity", "conductivity"), EARTHS)
@pytest.mark.parametrize("height", [0.5, 1.5, 6.0])
def test_currents_of_one_earth_give_the_impedance_over_another(height, permittivity, conductivity):
    """Against a solution over the other earth, both constants a factor e off: two standard deviations of 0.5."""
    graph = ring_at(height, np.pi / 2.0)
    ports = [0, 24]
    known, reaction = solved_over(graph, ports, complex_permittivity(F[0], permittivity, conductivity))
    for sign in (-1.0, 1.0):
        there = complex_permittivity(
            F[0],
            float(np.clip(permittivity * np.exp(sign), 1.0, 81.0)),
            conductivity * float(np.exp(sign)),
        )
        both = np.array([complex_permittivity(F[0], permittivity, conductivity), there])
        here_and_there = reaction.between(known.current[0], float(F[0]), eps_c=both)
        change = solved_over(graph, ports, there)[0].impedance[0] - known.impedance[0]
        # The error is the square of a change of current of a few per cent at the worst.
        error = abs(here_and_there[1] - here_and_there[0] - change).max()
        assert error < 5e-3 * abs(change).max()


def test_many_earths_at_once_are_each_by_itself():
    graph = ring_at(1.5, np.pi / 2.0)
    earths = np.array([complex_permittivity(F[0], *each) for each in EARTHS])
    known, reaction = solved_over(graph, [0, 24], complex(earths[3]))
    together = reaction.between(known.current[0], float(F[0]), eps_c=earths)
    wires = ThinWire(graph, [0, 24])
    functions = known.current[0][
        wires.graph.segments[:, 0].argsort()
    ]  # start of each segment is its node's function
    for number, eps_c in enumerate(earths):
        alone = reaction.between(known.current[0], float(F[0]), eps_c=earths[number : number + 1])[0]
        # The same sums in another order.
        assert np.allclose(together[number], alone, rtol=1e-9, atol=0)
        matrix = reaction.reflected(float(F[0]), complex(eps_c))
        at_nodes = functions[wires.rooftops.node, 0]
        assert np.allclose(at_nodes.T @ matrix @ at_nodes, alone, rtol=1e-9, atol=0)


def test_a_perfect_earth_s_impedance_between_currents_is_its_matrix_s():
    graph = ring_at(1.5, np.pi / 2.0)
    wires = ThinWire(graph, [0, 24])
    reaction = GroundReaction(graph, wires.rooftops, PerfectEarth)
    matrix = reaction.reflected(float(F[0]), PERFECT_EARTH)
    current = wires.solve(F, reflected=matrix[None]).current[0]
    at_nodes = current[graph.segments[:, 0].argsort()][wires.rooftops.node, 0]
    found = reaction.between(current, float(F[0]), eps_c=np.array([PERFECT_EARTH]))[0]
    assert np.allclose(at_nodes.T @ matrix @ at_nodes, found, rtol=1e-9, atol=0)
