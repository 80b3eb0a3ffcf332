# SPDX-License-Identifier: BSD-3-Clause
"""The transformer coupling: the solved ring behind its windings, and where the core's watts go."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ringwright.antenna.design import Core, CouplingKind, Feedline, RingShape
from ringwright.antenna.geometry import Address, build_wires
from ringwright.antenna.network import FEED, GAP, RingNetwork
from ringwright.antenna.predict import operating_points
from ringwright.antenna.solution import SolutionMemory
from ringwright.antenna.tuning import TunedRing
from tests.antenna.builds import AVERAGE, at, built

CORE = Core(inductance_factor=1.1e-6, q=8.0, primary_turns=10, coupling_factor=0.97)
IDEAL = Core(inductance_factor=1e-2, q=1e9, primary_turns=12, coupling_factor=1.0)
ANY = {"minimum": 1e-12, "maximum": 1e-8}


def transformed(*targets, core=CORE, **changes):
    coupling = {"kind": CouplingKind.TRANSFORMER, "diameter": None, "conductor": None, "core": core}
    return built(*targets, coupling=coupling, capacitor=ANY, **changes)


def network_of(design, frequency, memory=None):
    wires = build_wires(design)
    solution = (memory or SolutionMemory()).solution(wires, np.atleast_1d(frequency), design.site.earth)
    return RingNetwork.of(design, wires, solution)


def point_of(design):
    return operating_points(design, build_wires(design), SolutionMemory())[0]


def crowding(design):
    """Square of the current at the core over that at the gap, some 1.06 at 7 MHz and 1.28 at 14 MHz on 3 m."""
    point = point_of(design)
    found = (abs(point.current[point.wires.feed, 0]) / point.gap_current) ** 2
    assert 1.0 < found < 1.3
    return found


# Where it sits


@pytest.mark.parametrize("shape", [RingShape.CIRCLE, RingShape.OCTAGON])
@pytest.mark.parametrize("gap_deg", [0.0, 77.0])
def test_core_is_half_way_round_and_no_other_conductor_is_there(shape, gap_deg):
    wires = build_wires(transformed(ring={"shape": shape, "gap_angle": np.radians(gap_deg)}))
    assert set(wires.graph.address) == {Address.RING}
    before = np.arange(len(wires.graph.lengths)) < wires.feed
    assert wires.graph.lengths[before].sum() == pytest.approx(wires.ring_length / 2.0, rel=1e-9, abs=0)
    assert wires.own == 1


def test_cable_ends_beside_the_core_and_touches_nothing():
    design = transformed(site={"height": 2.0, "earth": AVERAGE}, feedline=Feedline(runs_down=True, choke=2e3))
    wires = build_wires(design)
    outside = wires.graph.address == Address.FEEDLINE
    shared = set(wires.graph.segments[outside].ravel()) & set(wires.graph.segments[~outside].ravel())
    assert not shared
    first = wires.graph.nodes[wires.graph.segments[outside][0, 0]]
    assert np.linalg.norm(first - wires.graph.nodes[wires.feed]) == pytest.approx(0.0235, rel=1e-9, abs=0)
    assert wires.choke is not None
    assert wires.graph.segments[outside][0, 1] == wires.choke[0]
    assert wires.metal_wire(int(wires.graph.wire[-1])).kind == "coax outside"


# What it does


@pytest.mark.parametrize(("turns", "passes"), [(12, 1), (12, 2), (30, 3)])
@pytest.mark.parametrize("frequency", [3.6e6, 14.2e6])
def test_ideal_core_shows_the_ring_times_the_square_of_the_turns(turns, passes, frequency):
    """k = 1 and much inductance: at resonance (N/n)^2 R, R that of the same ring under its own loop, with no core."""
    core = replace(IDEAL, primary_turns=turns, passes=passes)
    ratio = (turns / passes) ** 2
    bare = built(at(frequency), capacitor=ANY)
    alone = TunedRing.at(network_of(bare, frequency), bare.capacitor, frequency=frequency, reference=50.0)
    design = transformed(at(frequency), core=core)
    tuned = TunedRing.at(
        network_of(design, frequency), design.capacitor, frequency=frequency, reference=ratio * 0.08
    )
    entering = tuned.input_impedance(np.array([frequency]))[0]
    expected = ratio * alone.ring_resistance(frequency) / crowding(design)
    # The coupling loop beside it changes the ring by 1e-3; what the ring radiates at this place too.
    assert entering.real == pytest.approx(expected, rel=3e-3, abs=0)


def test_open_primary_leaves_the_core_in_series_with_the_ring():
    """Z_gap grows by n^2 j omega A_L (1 - j/Q), leakage without loss; 1.8 MHz, where the ring is one inductance."""
    f = 1.8e6
    core = Core(inductance_factor=0.2e-6, q=8.0, primary_turns=10, passes=2, coupling_factor=0.9)
    with_core = network_of(transformed(core=core), f).total_at_nodes[0]
    bare = network_of(built(), f).total_at_nodes[0]
    added = with_core[GAP, GAP] - bare[GAP, GAP]
    omega = 2.0 * np.pi * f
    expected = 4.0 * 0.2e-6 * omega * (1j + 0.9 / 8.0)
    # Of the second order in the ring's own capacitance: (f/30 MHz)^2, twice for the current at the core.
    assert added == pytest.approx(expected, rel=0.012, abs=0)


def test_shorted_primary_leaves_the_ring_alone():
    """Unloaded, the core's windings cancel but for their leakage, (1 - k^2) n^2 A_L."""
    design = transformed(at(7.1e6), core=replace(CORE, coupling_factor=1.0))
    bare = built(at(7.1e6), capacitor=ANY)
    found, plain = (network_of(d, 7.1e6).gap_impedance(np.array([7.1e6]))[0] for d in (design, bare))
    assert found == pytest.approx(plain, rel=2e-3, abs=0)  # the loop beside the bare one
    leaky = network_of(transformed(at(7.1e6)), 7.1e6).gap_impedance(np.array([7.1e6]))[0]
    leak = (1.0 - 0.97**2) * 1.1e-6 * 2.0 * np.pi * 7.1e6
    assert (leaky - found).imag == pytest.approx(leak * crowding(design), rel=2e-3, abs=0)


def test_watts_of_the_core_are_those_of_its_parallel_resistance():
    """Without leakage the primary's own inductance lies across the feed: |V|^2 Re(1/(j omega N^2 A_L (1 - j/Q)))."""
    core = replace(CORE, coupling_factor=1.0)
    point = point_of(transformed(at(7.1e6), core=core))
    z = point.tuned.input_impedance(np.array([7.1e6]))[0]
    volts = abs(point.ports[FEED] * z)
    own = 2j * np.pi * 7.1e6 * 100.0 * core.inductance_factor * (1.0 - 1j / core.q)
    assert point.heat()["coupling"] == pytest.approx(volts**2 * (1.0 / own).real, rel=1e-9, abs=0)
    assert point.heat()["coupling"] > 1e-4 * point.power


def test_it_is_the_ring_s_two_port_behind_a_transformer_for_scikit_rf():
    """The library closes the gap with the capacitor and joins nothing else: its reflection is ours."""
    import skrf

    design = transformed(at(7.1e6))
    tuned = TunedRing.at(network_of(design, 7.1e6), design.capacitor, frequency=7.1e6, reference=50.0)
    f = np.array([7.1e6])
    frequency = skrf.Frequency.from_f(f, unit="Hz")
    two_port = skrf.Network(frequency=frequency, z=tuned.network.impedance(f), z0=50.0)
    load = skrf.Network(frequency=frequency, z=tuned.capacitor_impedance(f)[:, None, None], z0=50.0)
    # Some 1e4 ohm on the port of the gap take that many digits.
    assert (two_port**load).s[0, 0, 0] == pytest.approx(tuned.reflection(f)[0], rel=1e-8, abs=0)


def test_feed_and_gap_are_smooth_over_a_band():
    """Five Chebyshev frequencies interpolate what a solution in between finds."""
    from ringwright.antenna.network import chebyshev_nodes

    design = transformed(at(7.1e6))
    over_band = network_of(design, chebyshev_nodes(6.6e6, 7.6e6))
    between = np.array([6.83e6, 7.21e6])
    direct = network_of(design, between).total_at_nodes
    assert over_band.impedance(between) == pytest.approx(direct, rel=1e-6, abs=0)


# What it must keep


@settings(max_examples=30)
@given(
    st.integers(1, 40), st.integers(1, 3), st.floats(2e-8, 1e-4), st.floats(0.3, 300.0), st.floats(0.5, 1.0)
)
def test_every_part_takes_power_and_the_parts_are_the_whole(primary, passes, factor, q, share):
    core = Core(inductance_factor=factor, q=q, primary_turns=primary, passes=passes, coupling_factor=share)
    network = network_of(transformed(core=core), 7.1e6, MEMORY)
    z = network.total_at_nodes[0]
    assert z[FEED, GAP] == pytest.approx(z[GAP, FEED], rel=1e-9, abs=0)
    assert sum(network.parts_at_nodes.values())[0] == pytest.approx(z, rel=1e-12, abs=0)
    for form in network.power_at_nodes.values():
        own = form[0]
        assert own == pytest.approx(own.conj().T, rel=1e-9, abs=1e-15)
        assert np.linalg.eigvalsh(own).min() >= -1e-12 * abs(own).max()
    assert np.linalg.eigvalsh((z + z.conj().T) / 2.0).min() > -1e-11 * abs(z).max()


MEMORY = SolutionMemory()


def test_turns_and_core_cost_no_solution():
    memory = SolutionMemory()
    design = transformed(at(7.1e6))
    first = network_of(design, 7.1e6, memory).total_at_nodes
    assert memory.solves == 1
    other = network_of(transformed(at(7.1e6), core=replace(CORE, primary_turns=5, q=50.0)), 7.1e6, memory)
    assert memory.solves == 1
    assert other.total_at_nodes[0, FEED, FEED] != first[0, FEED, FEED]


def test_more_turns_raise_what_the_feedline_sees_and_so_say_the_words():
    """With N^2 R below the line's impedance the transformer over-couples and wants more turns."""
    for turns, over in ((4, True), (60, False)):
        core = replace(IDEAL, primary_turns=turns)
        point = point_of(transformed(at(7.1e6), core=core))
        assert point.tuned.is_over_coupled(7.1e6) is over
