# SPDX-License-Identifier: BSD-3-Clause
"""The two-port of a band: interpolation, losses by address, and what first order in R/X costs."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.antenna.design import ConductorKind, FeedSide, RingShape, SiteWire
from ringwright.antenna.geometry import Address, build_wires
from ringwright.antenna.network import (
    FEED,
    GAP,
    RingNetwork,
    barycentric,
    chebyshev_nodes,
    internal_impedance,
    metal_impedance,
)
from ringwright.antenna.solution import SolutionMemory
from ringwright.physics.conductors import solid_wire_impedance, tube_impedance
from ringwright.physics.constants import C_0
from ringwright.physics.strip import strip_impedance
from ringwright.physics.thin_wire import PortSolution
from tests.antenna.builds import COPPER, band, built, solid, tube
from tests.published.ring_series import ring_coefficients

F = np.array([14.2e6])


def network_of(design, frequency):
    wires = build_wires(design)
    return RingNetwork.of(design, wires, SolutionMemory().solution(wires, frequency))


def test_chebyshev_nodes_reach_both_ends():
    nodes = chebyshev_nodes(3.0, 5.0, 5)
    assert nodes == pytest.approx(4.0 - np.cos(np.pi * np.arange(5) / 4.0), rel=1e-15, abs=0)


@given(st.integers(2, 8), st.floats(0.0, 1.0), st.integers(0, 1000))
def test_interpolation_is_exact_for_polynomials_and_on_its_nodes(count, share, seed):
    nodes = chebyshev_nodes(7e6, 7.2e6, count)
    polynomial = np.polynomial.Chebyshev(np.random.default_rng(seed).normal(size=count), domain=[7e6, 7.2e6])
    x = np.append(nodes, 7e6 + share * 0.2e6)
    assert barycentric(nodes, x) @ polynomial(nodes) == pytest.approx(polynomial(x), rel=1e-9, abs=1e-11)
    assert np.array_equal(barycentric(nodes, nodes), np.eye(count))
    assert barycentric(nodes, x).sum(axis=1) == pytest.approx(np.ones(count + 1), rel=1e-12, abs=0)


@pytest.mark.parametrize("name", ["80m", "20m", "10m"])
def test_five_frequencies_carry_a_band_with_its_margins(name):
    """Against solutions between the nodes; the widest bands, with 6 % beyond either edge."""
    target = band(name, region=2)
    design = built(target)
    nodes = chebyshev_nodes(0.94 * target.low, 1.06 * target.high)
    network = network_of(design, nodes)
    between = (nodes[1:] + nodes[:-1]) / 2.0
    interpolated, direct = network.impedance(between), network_of(design, between).total_at_nodes
    # Reactances to 1e-4 half a node off, a ten-thousandth of the SWR-2 width; resistance goes with f^4 and is harder.
    for i, j in ((FEED, FEED), (FEED, GAP), (GAP, GAP)):
        for part in (np.real, np.imag):
            if (i, j) == (FEED, GAP) and part is np.real:
                continue  # a thousandth of the mutual reactance, and of no sign of its own
            error = part(interpolated[:, i, j]) / part(direct[:, i, j]) - 1.0
            assert np.max(abs(error)) < (1e-4 if part is np.imag else 6e-4)


@pytest.mark.parametrize(
    ("perimeter", "edge", "centre"), [(1.5, 1e-5, 1e-6), (2.67, 2e-4, 2e-5), (3.0, 5e-4, 4e-5)]
)
def test_resistance_on_10_m_by_a_direct_solution(perimeter, edge, centre):
    """The hardest band: resistance goes faster than f^4 there, and on 3 m of ring its own resonance is 60 % away."""
    target = band("10m")
    design = built(target, ring={"perimeter": perimeter}, coupling={"diameter": perimeter / 20.0})
    network = network_of(design, chebyshev_nodes(0.94 * target.low, 1.06 * target.high))
    for f, tolerance in ((target.low, edge), (target.frequency, centre), (target.high, edge)):
        direct = network_of(design, np.array([f])).total_at_nodes[0, GAP, GAP].real
        found = network.impedance(np.array([f]))[0, GAP, GAP].real
        # What five Chebyshev points leave grows with the ring in wavelengths; Q at the target is good to 4e-5.
        assert found == pytest.approx(direct, rel=tolerance, abs=0)


def test_addresses_sum_to_the_network():
    design = built(band("20m"), ring={"joints": 4, "joint_resistance": 1e-3})
    network = network_of(design, chebyshev_nodes(13.5e6, 15e6))
    parts = network.parts(14.2e6)
    assert set(parts) == {"radiation", "ring", "coupling", "joints"}
    total = sum(parts.values())
    assert total == pytest.approx(network.impedance(F)[0], rel=1e-12, abs=0)
    # Each is passive by itself.
    for name, part in parts.items():
        assert np.min(np.linalg.eigvalsh((part + part.conj().T).real / 2.0)) > -1e-12 * abs(part).max(), name


@pytest.mark.parametrize("frequency", [3.6e6, 14.2e6, 28.5e6])
def test_loss_to_first_order_is_loss_in_the_solution(frequency):
    """Internal impedance inside the matrix against Z + z <J, J> outside: the error is the square of R/X."""
    design = built()
    wires = build_wires(design)
    f = np.array([frequency])
    solver = SolutionMemory().solver(wires)
    lossy = np.zeros((1, len(wires.graph.segments)), dtype=complex)
    for address, conductor in (
        (Address.RING, design.ring.conductor),
        (Address.COUPLING, design.coupling.conductor),
    ):
        assert conductor is not None
        lossy[:, wires.graph.address == address] = internal_impedance(conductor, f)
    inside = solver.solve(f, lossy=lossy).impedance[0]
    outside = RingNetwork.of(design, wires, solver.solve(f)).total_at_nodes[0]
    loss = outside - solver.solve(f).impedance[0]
    # Of the loss itself: its share of the reactance, some 1e-3, times how much the current redistributes: little on a
    # short ring, several times that at 0.28 wavelengths, where the internal reactance moves the ring's own resonance.
    share = 1e-2 if frequency > 28e6 else 1e-3
    assert abs(inside[GAP, GAP] - outside[GAP, GAP]) < share * abs(loss[GAP, GAP])
    assert inside[GAP, GAP].real == pytest.approx(outside[GAP, GAP].real, rel=3e-4, abs=0)
    assert inside[FEED, FEED].real == pytest.approx(outside[FEED, FEED].real, rel=1e-3, abs=0)


def test_ring_loss_of_an_even_current_is_resistance_times_length():
    # At 500 kHz (200 wavelengths round) the current is even to (C/lambda)^2.
    f = np.array([5e5])
    network = network_of(built(), f)
    per_metre = tube_impedance(f, radius=0.011, wall=0.001, conductivity=COPPER)[0]
    assert network.parts_at_nodes["ring"][0, GAP, GAP] == pytest.approx(3.0 * per_metre, rel=5e-4, abs=0)
    # The coupling loop's own loss belongs to the feed.
    loop = solid_wire_impedance(f, radius=0.003, conductivity=COPPER)[0]
    coupling = network.parts_at_nodes["coupling"][0, FEED, FEED]
    assert coupling == pytest.approx(np.pi * 0.15 * loop, rel=5e-4, abs=0)
    assert abs(network.parts_at_nodes["coupling"][0, GAP, GAP]) < 1e-6 * abs(coupling)


@pytest.mark.parametrize(("shape", "joints"), [("circle", 1), ("circle", 8), ("octagon", 8), ("octagon", 3)])
def test_joints_of_an_even_current_add_up(shape, joints):
    """Each joint counts once, wherever it sits; three joints of an octagon are shared by its eight corners."""
    design = built(ring={"shape": RingShape(shape), "joints": joints, "joint_resistance": 1e-3})
    part = network_of(design, np.array([5e5])).parts_at_nodes["joints"][0, GAP, GAP]
    assert part.real == pytest.approx(joints * 1e-3, rel=5e-4, abs=0)
    assert part.imag == 0.0


def test_joints_of_a_coil_are_counted_in_total():
    design = built(
        ring={"turns": 3, "turn_spacing": 0.06, "perimeter": 1.0, "joints": 6, "joint_resistance": 1e-3},
        coupling={"diameter": 0.08},
    )
    part = network_of(design, np.array([5e5])).parts_at_nodes["joints"][0, GAP, GAP]
    assert part.real == pytest.approx(6e-3, rel=5e-3, abs=0)


def test_joint_between_nodes_sees_the_current_there():
    """Five joints on 48 segments; a current that grows evenly from the gap to 48 A names the place it is taken at."""
    wires = build_wires(built(ring={"joints": 5}))
    current = np.zeros((1, len(wires.graph.segments), 2, 2), dtype=complex)
    current[0, :48, :, GAP] = np.arange(48)[:, None] + [0.0, 1.0]
    solution = PortSolution(frequency=F, impedance=np.zeros((1, 2, 2), dtype=complex), current=current)
    design = built(ring={"joints": 5, "joint_resistance": 1.0})
    part = RingNetwork.of(design, wires, solution).parts_at_nodes["joints"][0]
    places = (np.arange(5) + 0.5) * 48.0 / 5.0
    assert part[GAP, GAP] == pytest.approx(np.sum(places**2), rel=1e-12, abs=0)
    assert part[FEED, FEED] == 0.0


def test_joints_count_by_the_current_that_crosses_them():
    """A quarter of a wavelength round: the joint opposite the gap against two beside it, by the Fourier series."""
    f = C_0 / 4.0 / 3.0
    opposite, beside = (
        network_of(built(ring={"joints": joints, "joint_resistance": 1e-3}), np.array([f]))
        .parts_at_nodes["joints"][0, GAP, GAP]
        .real
        for joints in (1, 2)
    )
    a = ring_coefficients(kb=0.25, thinness=2.0 * np.pi * 0.011 / 3.0, terms=120)
    n = np.arange(1, 121)
    current = [abs(1.0 / a[0] + 2.0 * np.sum(np.cos(n * angle) / a[1:])) for angle in (np.pi, np.pi / 2.0)]
    # A polygon of 48 sides and (a/b)^2 of the thin wire, each some 5e-4, twice for the square.
    assert opposite / beside == pytest.approx(current[0] ** 2 / (2.0 * current[1] ** 2), rel=2e-3, abs=0)
    assert opposite / beside > 0.5


def test_each_kind_of_conductor_has_its_own_impedance():
    f = np.array([7.1e6, 14.2e6])
    assert internal_impedance(tube(), f) == pytest.approx(
        tube_impedance(f, radius=0.011, wall=0.001, conductivity=COPPER), rel=1e-14, abs=0
    )
    assert internal_impedance(solid(), f) == pytest.approx(
        solid_wire_impedance(f, radius=0.003, conductivity=COPPER), rel=1e-14, abs=0
    )
    strip = replace(solid(), kind=ConductorKind.STRIP, diameter=None, width=0.044, thickness=0.001)
    assert internal_impedance(strip, f) == pytest.approx(
        strip_impedance(f, width=0.044, thickness=0.001, conductivity=COPPER), rel=1e-14, abs=0
    )


def test_braid_multiplies_the_resistance_only():
    f = np.array([14.2e6])
    smooth = internal_impedance(solid(), f)
    braid = internal_impedance(replace(solid(), kind=ConductorKind.BRAID, roughness_factor=2.5), f)
    assert braid.real == pytest.approx(2.5 * smooth.real, rel=1e-14, abs=0)
    assert braid.imag == pytest.approx(smooth.imag, rel=1e-14, abs=0)


def test_warm_copper_loses_as_the_root_of_its_resistivity():
    # NBS Circular 31: 0.00393/K; at radio frequency the root of 1 + 40 x 0.00393, 1.0757.
    f = np.array([14.2e6])
    ratio = internal_impedance(replace(tube(), temperature_c=60.0), f) / internal_impedance(tube(), f)
    assert ratio[0].real == pytest.approx(1.075732, rel=2e-4, abs=0)  # of a tube of 57 skin depths


def test_metal_has_its_impedance_in_the_solution_and_ring_and_loop_have_not():
    railing = SiteWire(
        kind="railing",
        start=(-1.0, 1.0, 1.0),
        end=(1.0, 1.0, 1.0),
        diameter=0.04,
        conductivity=6e6,
        mu_r=100.0,
    )
    wires = build_wires(built(site={"metal": (railing,)}))
    found = metal_impedance(wires, F)
    assert found is not None
    on_metal = wires.graph.address == Address.METAL
    assert np.all(found[:, ~on_metal] == 0.0)
    expected = solid_wire_impedance(F, radius=0.02, conductivity=6e6, mu_r=100.0)[0]
    assert found[0, on_metal] == pytest.approx(
        np.full(np.count_nonzero(on_metal), expected), rel=1e-14, abs=0
    )
    assert metal_impedance(build_wires(built()), F) is None


def test_memory_tells_apart_where_a_loop_is_fed():
    """Near and far side of the same loop are one geometry, and two different ports of it."""
    memory = SolutionMemory()
    found = []
    for side in FeedSide:
        wires = build_wires(built(coupling={"feed_side": side}))
        found.append(memory.solution(wires, F).impedance[0, FEED, GAP])
    assert memory.solves == 2
    # From the other side the current through the loop counts the other way round, and meets the ring's elsewhere.
    assert abs(found[0] - found[1]) > 1e-3 * abs(found[0])
