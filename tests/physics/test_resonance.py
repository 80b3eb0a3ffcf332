# SPDX-License-Identifier: BSD-3-Clause
"""The reactance of best match against a brute search and a general-purpose network library; searches that end right."""

import numpy as np
import pytest
import skrf
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from ringwright.physics.resonance import best_reactance, crossing, lowest_point


def coupled(*, resistance, reactance, q, loop_reactance, coupling):
    """Impedance matrix (1, 2, 2) of a coupling loop beside a ring, as coupled inductors [ohm]."""
    mutual = coupling * np.sqrt(loop_reactance * reactance)
    return np.array(
        [
            [
                [resistance + 1j * loop_reactance, 1j * mutual],
                [1j * mutual, reactance / q + 1j * reactance],
            ]
        ]
    )


def reflection(z, x, *, reference, resistance, loss_tangent):
    load = resistance + x * (loss_tangent - 1j)
    z_in = z[0, 0, 0] - z[0, 0, 1] ** 2 / (z[0, 1, 1] + load)
    return abs((z_in - reference) / (z_in + reference))


NETWORKS = {
    "resistance": st.floats(1e-4, 0.1),
    "reactance": st.floats(20.0, 600.0),
    "q": st.floats(50.0, 5e3),
    "loop_reactance": st.floats(2.0, 80.0),
    "coupling": st.floats(0.005, 0.3),
}


@given(**NETWORKS, own=st.floats(0.0, 0.1), loss_tangent=st.floats(0.0, 2e-3))
def test_best_reactance_is_where_a_search_ends(own, loss_tangent, **ring):
    z = coupled(**ring)
    load = {"resistance": own, "loss_tangent": loss_tangent}
    found = float(best_reactance(z, reference=50.0, **{k: np.array([v]) for k, v in load.items()})[0])

    def size(x):
        return reflection(z, x, reference=50.0, **load)

    # The dip lies within a few bandwidths of the ring's own reactance; a detuning coupling shifts it by its share.
    width = ring["reactance"] / ring["q"] + own + loss_tangent * ring["reactance"]
    span = 5.0 * width + 3.0 * ring["coupling"] ** 2 * ring["reactance"]
    x = np.linspace(ring["reactance"] - span, ring["reactance"] + span, 2001)
    near = int(np.argmin(size(x)))
    assume(0 < near < 2000)
    search = minimize_scalar(
        size, bounds=(x[near - 1], x[near + 1]), method="bounded", options={"xatol": 1e-12}
    )
    # A search finds the place to the root of rounding and the value to rounding: it may not do better than that.
    assert size(found) <= search.fun + 1e-12


@given(**NETWORKS)
def test_it_is_the_minimum_not_the_other_root(**ring):
    z = coupled(**ring)
    zero = np.zeros(1)
    found = float(best_reactance(z, reference=50.0, resistance=zero, loss_tangent=zero)[0])
    width = ring["reactance"] / ring["q"]
    around = found + width * np.array([-100.0, -1.0, -0.1, 0.1, 1.0, 100.0])
    here = reflection(z, found, reference=50.0, resistance=0.0, loss_tangent=0.0)
    assert np.all(reflection(z, around, reference=50.0, resistance=0.0, loss_tangent=0.0) >= here - 1e-12)


@pytest.mark.parametrize("offset", [-2.0, -0.3, 0.0, 0.4, 1.7])
def test_best_reactance_by_the_network_library(offset):
    """The loaded two-port by scikit-rf: least |s11| on a comb of reactances, one parabola, is at the same place."""
    z = coupled(resistance=0.02, reactance=200.0, q=1500.0, loop_reactance=30.0, coupling=0.02)
    z = z + np.diag([0.0, 1j * offset])
    zero = np.zeros(1)
    found = float(best_reactance(z, reference=50.0, resistance=zero + 0.03, loss_tangent=zero + 1e-4)[0])
    x = found + np.linspace(-0.05, 0.05, 101)
    line = skrf.media.DefinedGammaZ0(frequency=skrf.Frequency(14.2, 14.2, 1, unit="MHz"), z0=50.0, gamma=1j)
    two_port = skrf.Network(frequency=line.frequency, z=z, z0=50.0)
    size = []
    for each in x:
        load = 0.03 + each * (1e-4 - 1j)
        one_port = skrf.Network(
            frequency=line.frequency, s=np.array([[[(load - 50.0) / (load + 50.0)]]]), z0=50.0
        )
        size.append(abs((two_port**one_port).s[0, 0, 0]) ** 2)
    a, b, _ = np.polyfit(x - found, size, 2)
    # The parabola's own error: the curve's third power over a comb of a third of a bandwidth (0.25 ohm).
    assert abs(-b / (2.0 * a)) < 3e-3


def test_many_frequencies_at_once():
    z = np.concatenate(
        [
            coupled(resistance=0.02, reactance=x, q=1000.0, loop_reactance=x / 7.0, coupling=0.03)
            for x in (50.0, 200.0, 500.0)
        ]
    )
    one = np.ones(3)
    together = best_reactance(z, reference=50.0, resistance=0.01 * one, loss_tangent=1e-4 * one)
    for i in range(3):
        alone = best_reactance(
            z[i : i + 1], reference=50.0, resistance=0.01 * one[:1], loss_tangent=1e-4 * one[:1]
        )
        assert together[i] == pytest.approx(alone[0], rel=1e-14, abs=0)


def test_past_its_own_resonance_a_ring_wants_no_capacitor():
    z = coupled(resistance=0.02, reactance=200.0, q=1000.0, loop_reactance=30.0, coupling=0.03)
    z[0, 1, 1] -= 500.0j
    found = best_reactance(z, reference=50.0, resistance=np.zeros(1), loss_tangent=np.zeros(1))
    assert found[0] == pytest.approx(-300.0, rel=1e-2, abs=0)  # the coupling moves it by some bandwidths


@given(st.floats(0.05, 0.95), st.floats(1e-3, 0.3))
def test_lowest_point_is_found_to_its_promise(place, width):
    at, value = lowest_point(lambda x: 3.0 - 1.0 / (1.0 + ((x - place) / width) ** 2), 0.0, 1.0)
    assert abs(at - place) < 1e-5  # as promised: 1e-5 of the interval
    assert value == pytest.approx(2.0, rel=(1e-5 / width) ** 2 + 1e-15, abs=0)


@pytest.mark.parametrize("place", [0.0, 1.0])
def test_lowest_point_at_an_edge(place):
    at, _ = lowest_point(lambda x: abs(x - place), 0.0, 1.0)
    assert abs(at - place) < 1e-5


@given(st.floats(1.2, 8.0), st.sampled_from([-1.0, 1.0]))
def test_crossing_of_a_resonance(level, side):
    """SWR of a matched single resonator: s - 1 over root s is the width times Q (Yaghjian and Best, 2005)."""

    def swr(t):
        size = abs(1j * t / (2.0 + 1j * t))  # matched series circuit, t = 2 Q df/f
        return (1.0 + size) / (1.0 - size)

    found = crossing(swr, inside=0.0, outside=side * 10.0, level=level)
    assert found == pytest.approx(side * (level - 1.0) / np.sqrt(level), rel=1e-6, abs=0)


def test_first_crossing_on_the_way_is_taken():
    found = crossing(np.sin, inside=0.0, outside=8.0, level=0.5)
    assert found == pytest.approx(np.pi / 6.0, rel=1e-6, abs=0)


@pytest.mark.parametrize(("inside", "level"), [(0.0, 2.0), (3.0, 1.0)])
def test_no_crossing_is_none(inside, level):
    assert crossing(lambda x: x / 5.0 + 0.5, inside=inside, outside=5.0, level=level) is None
