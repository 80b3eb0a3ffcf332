# SPDX-License-Identifier: BSD-3-Clause
"""scikit-rf, the general-purpose RF network library: every step of our small-network algebra."""

import numpy as np
import pytest
import skrf

from ringwright.physics.feedline import line_input_impedance, line_loss, reflection_through_line
from ringwright.physics.networks import reflection_coefficient, s_to_z, swr, terminate, z_to_s

FREQUENCY = skrf.Frequency(7.0, 7.2, 5, unit="MHz")


def passive_impedances(ports: int) -> np.ndarray:
    """Random reciprocal networks with a positive definite resistance, one a frequency."""
    rng = np.random.default_rng(7)
    r = rng.normal(size=(5, ports, ports))
    x = rng.normal(size=(5, ports, ports))
    return 20.0 * (r @ np.swapaxes(r, 1, 2) + 0.1 * np.eye(ports)) + 60j * (x + np.swapaxes(x, 1, 2))


@pytest.mark.parametrize("ports", [1, 2, 3])
@pytest.mark.parametrize("reference", [50.0, [50.0, 200.0, 12.5]], ids=["one", "each its own"])
def test_impedance_to_scattering_and_back(ports, reference):
    z = passive_impedances(ports)
    z0 = reference if isinstance(reference, float) else reference[:ports]
    s = z_to_s(z, reference=z0)
    # Double precision and a matrix inverse on either side.
    assert s == pytest.approx(skrf.network.z2s(z, z0), rel=1e-10, abs=0)
    assert s_to_z(s, reference=z0) == pytest.approx(z, rel=1e-9, abs=0)


def test_reflection_and_swr_of_one_port():
    z = passive_impedances(1)
    network = skrf.Network(frequency=FREQUENCY, z=z, z0=75.0)
    gamma = reflection_coefficient(z[:, 0, 0], reference=75.0)
    assert gamma == pytest.approx(network.s[:, 0, 0], rel=1e-10, abs=0)
    assert swr(gamma) == pytest.approx(network.s_vswr[:, 0, 0], rel=1e-9, abs=0)


def test_closing_a_port_with_a_capacitor():
    """Feed and gap of a ring: the two-port connected to a one-port in the library's scattering algebra."""
    z = passive_impedances(2)
    load = 0.05 + 1 / (2j * np.pi * FREQUENCY.f * 200e-12)
    two_port = skrf.Network(frequency=FREQUENCY, z=z, z0=50.0)
    one_port = skrf.Network(frequency=FREQUENCY, z=load[:, None, None], z0=50.0)
    expected = skrf.network.connect(two_port, 1, one_port, 0).z[:, 0, 0]
    assert terminate(z, port=1, load=load)[:, 0, 0] == pytest.approx(expected, rel=1e-9, abs=0)


def test_closing_the_middle_of_three_ports():
    z = passive_impedances(3)
    load = np.full(5, 10.0 + 3.0j)
    three = skrf.Network(frequency=FREQUENCY, z=z, z0=50.0)
    one = skrf.Network(frequency=FREQUENCY, z=load[:, None, None], z0=50.0)
    assert terminate(z, port=1, load=load) == pytest.approx(
        skrf.network.connect(three, 1, one, 0).z, rel=1e-9, abs=0
    )


@pytest.mark.parametrize("ratio", [1.0, 1.5, 3.0, 8.0])
def test_line_with_loss_in_front_of_a_load(ratio):
    """Ten metres of line with 0.48 dB and velocity factor 0.66, as a cascade in the library."""
    attenuation, theta = 0.48 / (20 / np.log(10)), 2 * np.pi * FREQUENCY.f * 10.0 / (0.66 * skrf.constants.c)
    gamma = attenuation / 10.0 + 1j * theta / 10.0
    medium = skrf.media.DefinedGammaZ0(frequency=FREQUENCY, gamma=gamma, z0=50.0)
    line, load = medium.line(10.0, unit="m"), np.full(5, 50.0 * ratio, dtype=complex)
    cascade = line ** skrf.Network(frequency=FREQUENCY, z=load[:, None, None], z0=50.0)
    z_in = line_input_impedance(load, characteristic=50.0, attenuation=attenuation, electrical_length=theta)
    assert z_in == pytest.approx(cascade.z[:, 0, 0], rel=1e-9, abs=0)
    at_load = reflection_coefficient(load, reference=50.0)
    at_input = reflection_through_line(at_load, attenuation=attenuation, electrical_length=theta)
    assert np.max(np.abs(at_input - cascade.s[:, 0, 0])) < 1e-12
    # What enters is 1 - |S11|^2, what the load takes is the transducer gain (both of the available power).
    through, output = line.s[:, 1, 0], line.s[:, 1, 1]
    taken = np.abs(through) ** 2 * (1 - np.abs(at_load) ** 2) / np.abs(1 - output * at_load) ** 2
    entering = 1 - np.abs(cascade.s[:, 0, 0]) ** 2
    assert line_loss(at_load, attenuation=attenuation) == pytest.approx(entering / taken, rel=1e-9, abs=0)


@pytest.mark.parametrize(
    ("matched_db", "ratio", "total_db"),
    [(1.0, 2.0, 1.1959), (1.0, 3.0, 1.5039), (1.0, 5.0, 2.1235), (3.0, 5.0, 5.0386)],
)
def test_loss_with_a_standing_wave_in_decibels(matched_db, ratio, total_db):
    # The textbook formula by another program; five digits.
    nepers = matched_db / (20 / np.log(10))
    loss = 10 * np.log10(line_loss((ratio - 1) / (ratio + 1), attenuation=nepers))
    assert loss == pytest.approx(total_db, rel=4e-5, abs=0)
