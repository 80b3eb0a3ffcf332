# SPDX-License-Identifier: BSD-3-Clause
"""Wires driven through a transformer: against scikit-rf's connection of networks, the ideal limit, and energy."""

import numpy as np
import pytest
import skrf
from hypothesis import given
from hypothesis import strategies as st
from skrf.network import connect

from ringwright.errors import OutOfRangeError
from ringwright.physics.thin_wire import ShortedPorts
from ringwright.physics.transformer import core_impedance, driven_through, windings

F = np.array([3.6e6, 7.1e6, 28.5e6])
CORE = {"inductance_factor": 1.1e-6, "q": 8.0, "coupling_factor": 0.96}


def shorted(admittance):
    """Ports whose currents are those of two segments, one at each port."""
    current = np.repeat(np.asarray(admittance)[:, :, None, :], 2, axis=2)
    return ShortedPorts(frequency=F, admittance=np.asarray(admittance), current=current)


def half_rings(inductance, resistance, capacitance):
    """Two ports in one ring, with a capacitance across each half: a T of two halves and what bridges them."""
    omega = 2.0 * np.pi * F
    series = 1.0 / (resistance + 1j * omega * inductance)
    across = 1j * omega * capacitance
    return np.moveaxis(np.array([[series + across, series], [series, series + across]]), -1, 0)


def test_windings_are_turns_squared_by_the_inductance_factor():
    """L = N^2 A_L, M = k sqrt(L1 L2), tan delta = R/(omega L): the terms of IEC 62044, by hand for 10 and 2 turns."""
    found = windings(F, turns=(10, 2), inductance_factor=1.1e-6, q=1e9, coupling_factor=0.9)
    omega = 2.0 * np.pi * F
    assert found.primary.imag == pytest.approx(omega * 110e-6, rel=1e-12, abs=0)
    assert found.secondary.imag == pytest.approx(omega * 4.4e-6, rel=1e-12, abs=0)
    assert found.mutual.imag == pytest.approx(omega * 0.9 * 22e-6, rel=1e-12, abs=0)
    lossy = core_impedance(F, inductance_factor=1.1e-6, q=5.0, share=1.0)
    assert lossy.real / lossy.imag == pytest.approx(np.full(3, 0.2), rel=1e-12, abs=0)


@pytest.mark.parametrize("turns", [(10, 1), (7, 2), (1, 1)])
def test_it_is_the_connection_of_both_networks(turns):
    """scikit-rf joins the transformer's second port to the wires' first."""
    wires = half_rings(2.3e-6, 0.2, 4e-12)
    through = windings(F, turns=turns, **CORE)
    z = np.moveaxis(np.array([[through.primary, through.mutual], [through.mutual, through.secondary]]), -1, 0)
    frequency = skrf.Frequency.from_f(F, unit="Hz")
    joined = connect(
        skrf.Network(frequency=frequency, z=z, z0=50.0),
        1,
        skrf.Network(frequency=frequency, y=wires, z0=50.0),
        0,
    )
    found = driven_through(shorted(wires), through).impedance
    assert found == pytest.approx(joined.z, rel=1e-9, abs=0)  # its way through S keeps that many digits


def test_the_ideal_transformer_multiplies_by_the_square_of_the_turns():
    """k = 1, much inductance: Zin = (N/n)^2 Z, also where two ports in one loop have no open-circuit matrix."""
    loop = 0.3 + 2j * np.pi * F * 2.3e-6
    same = np.moveaxis(np.array([[1.0 / loop, 1.0 / loop], [1.0 / loop, 1.0 / loop]]), -1, 0)
    assert abs(np.linalg.det(same)).max() < 1e-15 * abs(same).max() ** 2
    through = windings(F, turns=(12, 2), inductance_factor=1.0, q=1e9, coupling_factor=1.0)
    z = driven_through(shorted(same), through).impedance
    capacitor = 0.05 - 1j * loop.imag * 0.98
    entering = z[:, 0, 0] - z[:, 0, 1] ** 2 / (z[:, 1, 1] + capacitor)
    # The magnetising inductance lies across: 36 |Z|/(144 omega L) of 1e-6; digits of the difference.
    assert entering == pytest.approx(36.0 * (loop + capacitor), rel=1e-5, abs=0)


def test_currents_are_those_of_the_ports():
    """The current through the secondary and into the gap, from the returned currents, satisfy both meshes."""
    wires = half_rings(2.3e-6, 0.2, 4e-12)
    through = windings(F, turns=(9, 1), **CORE)
    driven = driven_through(shorted(wires), through)
    first, second = driven.current[:, 0, 0], driven.current[:, 1, 0]
    assert second == pytest.approx(np.tile([0.0, 1.0], (3, 1)), rel=1e-9, abs=1e-9)
    # The primary's voltage is zp If - zm I1.
    at_feed = np.stack([through.primary, 0.0 * through.primary], axis=1) - through.mutual[:, None] * first
    assert driven.impedance[:, 0] == pytest.approx(at_feed, rel=1e-9, abs=0)


@given(
    st.integers(1, 40),
    st.integers(1, 4),
    st.floats(1e-9, 1e-4),
    st.floats(0.2, 500.0),
    st.floats(0.3, 1.0),
    st.floats(1e-3, 10.0),
)
def test_it_is_reciprocal_and_takes_power(primary, passes, factor, q, share, resistance):
    wires = half_rings(2.3e-6, resistance, 4e-12)
    through = windings(F, turns=(primary, passes), inductance_factor=factor, q=q, coupling_factor=share)
    z = driven_through(shorted(wires), through).impedance
    assert z[:, 0, 1] == pytest.approx(z[:, 1, 0], rel=1e-9, abs=0)
    taken = np.linalg.eigvalsh((z + np.conj(np.swapaxes(z, 1, 2))) / 2.0)
    assert np.all(taken[:, 0] > -1e-10 * abs(z).max(axis=(1, 2)))


@pytest.mark.parametrize(
    "wrong", [{"inductance_factor": 0.0}, {"q": -1.0}, {"share": 0.0}, {"share": 1.001}, {"q": np.inf}]
)
def test_what_no_core_is_is_refused(wrong):
    with pytest.raises(OutOfRangeError):
        core_impedance(F, **({"inductance_factor": 1e-6, "q": 10.0, "share": 0.9} | wrong))
