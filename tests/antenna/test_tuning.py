# SPDX-License-Identifier: BSD-3-Clause
"""Best capacitance, dip, edges and Q of a ring as coupled circuits built by hand: the textbook's truth."""

from dataclasses import replace

import numpy as np
import pytest
import skrf
from hypothesis import given
from hypothesis import strategies as st

from ringwright.antenna.network import RingNetwork, chebyshev_nodes
from ringwright.antenna.tuning import Match, TunedRing, best_capacitance, find_match
from ringwright.errors import OutOfRangeError
from tests.antenna.builds import CAPACITOR

# The worked ring: 3 m of 22 mm tube on 14.2 MHz as L, R, C, and a coupling loop of its own inductance; from first
# principles, by another program.
L_RING, R_RING, L_LOOP, C_RING, TARGET = 2310.022e-9, 0.123153, 424.826e-9, 54.3810e-12, 14.2e6
LOSSLESS = replace(CAPACITOR, esr=0.0)


def coupled(mutual, *, resistance=R_RING, loop_resistance=0.0):
    """The two-port of coupled inductors; linear in frequency, so that its nodes interpolate it exactly."""
    nodes = chebyshev_nodes(0.94 * TARGET, 1.06 * TARGET)
    z = np.zeros((len(nodes), 2, 2), dtype=complex)
    w = 2.0 * np.pi * nodes
    z[:, 0, 0] = loop_resistance + 1j * w * L_LOOP
    z[:, 0, 1] = z[:, 1, 0] = 1j * w * mutual
    z[:, 1, 1] = resistance + 1j * w * L_RING
    return RingNetwork(nodes=nodes, parts_at_nodes={"radiation": z}, total_at_nodes=z)


def tuned(mutual, *, capacitance=C_RING, capacitor=LOSSLESS, **network):
    return TunedRing(
        network=coupled(mutual, **network),
        capacitor=capacitor,
        frequency=TARGET,
        capacitance=capacitance,
        reference=50.0,
    )


def width(resistance=R_RING):
    return resistance / (2.0 * np.pi * L_RING)


@pytest.mark.parametrize(
    ("mutual", "swr", "shift"),
    [(27.818e-9, 1.574, 2.04e3), (34.901e-9, 1.000, 3.22e3), (38.279e-9, 1.203, None), (45e-9, 1.663, None)],
)
def test_coupled_circuit_truth(mutual, swr, shift):
    """(w M)^2/R = 50 ohm at 27.818 nH is *not* the match; (w M)^2 = 50 R (1 + (w Lf/50)^2) is."""
    match = find_match(tuned(mutual), width())
    assert match.swr_min == pytest.approx(swr, rel=5e-4, abs=0)  # printed to three decimals
    if shift is not None:
        # Above 14.2 MHz; printed to 10 Hz, and 54.3810 pF resonates at 14.2 MHz to 6 digits: 5 Hz.
        assert match.frequency - TARGET == pytest.approx(shift, rel=10.0 / shift, abs=0)


@pytest.mark.parametrize(
    ("mutual", "is_over"), [(27.818e-9, False), (33e-9, False), (38.279e-9, True), (45e-9, True)]
)
def test_over_coupled_beyond_the_match_of_the_worked_ring(mutual, is_over):
    """The match lies at 34.901 nH, in the closed form too."""
    ring = tuned(mutual)
    dip = find_match(ring, width()).frequency
    assert ring.is_over_coupled(dip) is is_over


def test_exact_match_follows_its_formula():
    reactance = 2.0 * np.pi * TARGET * L_LOOP
    mutual = np.sqrt(50.0 * R_RING * (1.0 + (reactance / 50.0) ** 2)) / (2.0 * np.pi * TARGET)
    assert mutual == pytest.approx(34.901e-9, rel=2e-5, abs=0)
    # The formula holds at 14.2 MHz, the dip lies 0.02 % above.
    assert find_match(tuned(mutual), width()).swr_min == pytest.approx(1.0, rel=1e-3, abs=0)


@pytest.mark.parametrize("mutual", [27.818e-9, 34.901e-9, 45e-9])
def test_tuned_to_the_target_it_dips_there(mutual):
    """Capacitance of lowest SWR at 14.2 MHz: the same dip, moved back onto the target."""
    ring = TunedRing.at(coupled(mutual), LOSSLESS, frequency=TARGET, reference=50.0)
    match = find_match(ring, width())
    assert match.swr_min == pytest.approx(find_match(tuned(mutual), width()).swr_min, rel=5e-4, abs=0)
    # The least over frequency at that capacitance is not exactly at the target: w M and w Lf move as well, which is a
    # fraction of the width of 8.5 kHz.
    assert abs(match.frequency - TARGET) < 0.02 * width()
    assert ring.swr(np.array([TARGET]))[0] == pytest.approx(match.swr_min, rel=1e-4, abs=0)


def test_best_capacitance_by_trying_all_around():
    network = coupled(30e-9)
    lossy = replace(CAPACITOR, esr=None, q=2000.0)
    found = float(best_capacitance(network, lossy, np.array([TARGET]), reference=50.0)[0])
    farads = found * (1.0 + np.linspace(-2e-3, 2e-3, 4001))
    z = network.impedance(np.array([TARGET]))[0]
    reactance = 1.0 / (2.0 * np.pi * TARGET * farads)
    z_in = z[0, 0] - z[0, 1] ** 2 / (z[1, 1] + reactance * (1.0 / 2000.0 - 1j))
    best = farads[np.argmin(abs((z_in - 50.0) / (z_in + 50.0)))]
    assert found == pytest.approx(best, rel=1e-6, abs=0)  # one step of the trial


@given(st.floats(20e-9, 60e-9), st.floats(0.05, 0.5))
def test_edges_are_where_swr_is_two(mutual, resistance):
    ring = tuned(mutual, resistance=resistance)
    match = find_match(ring, width(resistance))
    if match.swr_min >= 2.0:
        assert match.bandwidth_swr2 is None
        return
    assert match.swr2_low is not None
    assert match.swr2_high is not None
    assert match.swr2_low < match.frequency < match.swr2_high
    assert ring.swr(np.array([match.swr2_low, match.swr2_high])) == pytest.approx([2.0, 2.0], rel=1e-5, abs=0)
    inside = np.linspace(match.swr2_low, match.swr2_high, 101)[1:-1]
    assert np.all(ring.swr(inside) < 2.0)
    assert match.bandwidth_swr2 == match.swr2_high - match.swr2_low


@pytest.mark.parametrize("resistance", [0.03, R_RING, 0.4])
def test_matched_width_is_root_half_of_f_over_q(resistance):
    # A. D. Yaghjian and S. R. Best, 2005: (s - 1)/(sqrt(s) Q); s = 2.
    reactance = 2.0 * np.pi * TARGET * L_LOOP
    mutual = np.sqrt(50.0 * resistance * (1.0 + (reactance / 50.0) ** 2)) / (2.0 * np.pi * TARGET)
    ring = TunedRing.at(coupled(mutual, resistance=resistance), LOSSLESS, frequency=TARGET, reference=50.0)
    match = find_match(ring, width(resistance))
    f0, q = ring.resonance()
    # The loop's reactance is not constant over the width: some 1/Q.
    assert match.bandwidth_swr2 == pytest.approx(f0 / q / np.sqrt(2.0), rel=5e-3, abs=0)


def test_resonance_and_q_of_the_series_circuit():
    f0, q = tuned(30e-9).resonance()
    assert f0 == pytest.approx(1.0 / (2.0 * np.pi * np.sqrt(L_RING * C_RING)), rel=1e-9, abs=0)
    assert q == pytest.approx(np.sqrt(L_RING / C_RING) / R_RING, rel=1e-6, abs=0)
    # The coupling does not count: the loop is open.
    assert tuned(45e-9).resonance() == pytest.approx((f0, q), rel=1e-12, abs=0)


def test_q_counts_the_capacitor_s_loss():
    bare, lossy = tuned(30e-9), tuned(30e-9, capacitor=replace(CAPACITOR, esr=0.05))
    assert bare.resonance()[1] / lossy.resonance()[1] == pytest.approx(1.0 + 0.05 / R_RING, rel=1e-9, abs=0)
    assert lossy.ring_resistance(TARGET) == pytest.approx(R_RING + 0.05, rel=1e-9, abs=0)
    q_lossy = tuned(30e-9, capacitor=replace(CAPACITOR, esr=None, q=1500.0)).resonance()[1]
    assert 1.0 / q_lossy == pytest.approx(1.0 / bare.resonance()[1] + 1.0 / 1500.0, rel=1e-6, abs=0)


def test_reflection_and_swr_by_the_network_library():
    ring = tuned(30e-9, capacitor=replace(CAPACITOR, esr=0.02))
    f = skrf.Frequency(14.19, 14.21, 41, unit="MHz")
    media = skrf.media.DefinedGammaZ0(frequency=f, z0=50.0, gamma=1j)
    two_port = skrf.Network(frequency=f, z=ring.network.impedance(f.f), z0=50.0)
    gap = media.resistor(0.02) ** media.capacitor(C_RING) ** media.short()
    one_port = two_port**gap
    assert ring.reflection(f.f) == pytest.approx(one_port.s[:, 0, 0], rel=1e-6, abs=0)
    assert ring.swr(f.f) == pytest.approx(one_port.s_vswr[:, 0, 0], rel=1e-6, abs=0)
    assert ring.input_impedance(f.f) == pytest.approx(one_port.z[:, 0, 0], rel=1e-6, abs=0)


def test_port_currents_solve_the_gap_s_mesh():
    ring = tuned(30e-9)
    z = ring.network.impedance(np.array([TARGET]))[0]
    currents = ring.port_currents()
    around = z[1] @ currents + currents[1] * ring.capacitor_impedance(np.array([TARGET]))[0]
    assert abs(around) < 1e-12 * abs(z[1, 0])
    assert currents[0] == 1.0


def test_a_ring_past_its_own_resonance_is_refused():
    network = coupled(30e-9)
    network.total_at_nodes[:, 1, 1] -= 1000.0j
    with pytest.raises(OutOfRangeError, match=r"past its own resonance at 14\.200 MHz"):
        TunedRing.at(network, LOSSLESS, frequency=TARGET, reference=50.0)


def test_a_ring_that_would_give_power_is_refused():
    # Read between solved frequencies beside the ring's own resonance, its network can seem to.
    network = coupled(30e-9)
    network.total_at_nodes[:, 1, 1] -= 1000.0
    with pytest.raises(OutOfRangeError, match=r"past its own resonance at 14\.200 MHz"):
        TunedRing.at(network, LOSSLESS, frequency=TARGET, reference=50.0)


def test_no_width_without_edges():
    assert Match(swr_min=2.4, frequency=TARGET, swr2_low=None, swr2_high=None).bandwidth_swr2 is None
