# SPDX-License-Identifier: BSD-3-Clause
"""Loss of close turns in the network, by estimates that share nothing with it but the wire's resistance table."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.special import ellipe, ellipk

from ringwright.antenna.cross_check import cross_check
from ringwright.antenna.design import ConductorKind
from ringwright.antenna.geometry import build_wires
from ringwright.antenna.network import GAP, RingNetwork
from ringwright.antenna.predict import predict
from ringwright.antenna.solution import SolutionMemory
from ringwright.antenna.turns import turn_crowding
from tests.antenna.builds import at, built, solid, tube
from tests.physics.row_of_wires import solve

MU_0 = 4e-7 * np.pi
SMALL = {"diameter": 0.08}


def ring_loss(design, frequency):
    wires = build_wires(design)
    f = np.array([frequency])
    network = RingNetwork.of(design, wires, SolutionMemory().solution(wires, f))
    return network.parts_at_nodes["ring"][0, GAP, GAP].real


def coil(turns, spacing, **ring):
    return built(ring={"turns": turns, "turn_spacing": spacing, "perimeter": 2.0, "turn_lead": 0.08} | ring)


def two_turn_current(frequency, spacing):
    """Mean square of the current in two turns of 2 m over that at the gap.

    Half the gap's voltage lies between the turns (two cylinders, pi eps0/acosh(c/a) per metre), so the current grows
    evenly to the middle: 1 + delta + delta^2/3. What flows into space is that of a single wire, cos(k x) from its
    middle. Inductance of two rings by Rosa and Grover's ln(8R/a) - 2 and Maxwell's mutual inductance.
    """
    w, radius = 2 * np.pi * frequency, 1 / np.pi
    m = 4 * radius**2 / (4 * radius**2 + spacing**2)
    mutual = MU_0 * radius * ((2 / np.sqrt(m) - np.sqrt(m)) * ellipk(m) - 2 / np.sqrt(m) * ellipe(m))
    inductance = 2 * (MU_0 * radius * (np.log(8 * radius / 0.011) - 2) + mutual)
    between = 2 * np.pi * 8.8542e-12 / np.arccosh(spacing / 0.022)
    share = w**2 * inductance * between / 2
    delta = share / (1 - share / 2)  # the mean current makes the voltage
    half = w / 299792458 * 4.2 / 2
    into_space = (0.5 + np.sin(2 * half) / (4 * half)) / np.cos(half) ** 2
    return (1 + delta + delta**2 / 3) * into_space


@pytest.mark.parametrize(("spacing", "factor"), [(0.033, 1.1921), (0.044, 1.1162), (0.066, 1.0539)])
@pytest.mark.parametrize("frequency", [0.5e6, 1.8e6, 3.6e6, 5.0e6])
def test_two_turns_lose_what_straight_wire_of_that_length_with_its_neighbour_loses(
    frequency, spacing, factor
):
    """Two turns of 22 mm tube at c/a = 1.5, 2 and 3: the printed table (G. S. Smith, 1972)."""
    skin = np.sqrt(np.pi * frequency * MU_0 / 58e6) / (np.pi * 0.022)  # ohm/m of a thick tube
    leads = 2 * 0.08 + 2 * spacing  # out and back, and across the gap
    estimate = skin * (factor * 4 * two_turn_current(frequency, spacing) + leads)
    # The estimate's two currents are added, not solved together: under 2 % at 5 MHz, where they add 15 %.
    tolerance = 0.02 if frequency > 4e6 else 0.01
    assert ring_loss(coil(2, spacing), frequency) == pytest.approx(estimate, rel=tolerance, abs=0)


def test_eight_turns_of_the_textbook_example_lose_1_38_times_eight_turns():
    """C. A. Balanis, Antenna Theory, example 5.3: c/a = 2, R_p/R_0 = 0.38, 11.62 ohm against 1.053 of one turn."""
    turns, ring = 8, {"conductor": solid(0.006), "perimeter": 1.5, "turn_lead": 0.02}
    f = 0.2e6  # the example takes the current as even; 12 m of wire are then 1/125 of a wavelength
    many = ring_loss(built(ring=ring | {"turns": turns, "turn_spacing": 0.012}, coupling=SMALL), f)
    one = ring_loss(built(ring=ring, coupling=SMALL), f)
    leads = one / 1.5 * (2 * 0.02 + turns * 0.012)
    # 0.38 is printed to two digits: 0.4 % of 1.38.
    assert (many - leads) / one == pytest.approx(11.62 / 1.053, rel=4e-3, abs=0)


def test_leads_carry_no_neighbour():
    short, long = (ring_loss(coil(2, 0.033, turn_lead=lead), 0.5e6) for lead in (0.05, 0.5))
    per_metre = np.sqrt(np.pi * 0.5e6 * MU_0 / 58e6) / (np.pi * 0.022)
    # The exact tube is 0.3 % above the thick one here, the current even to 0.2 %.
    assert long - short == pytest.approx(2 * 0.45 * per_metre, rel=0.01, abs=0)


@pytest.mark.parametrize(("turns", "spacing"), [(2, 0.0242), (2, 0.033), (4, 0.044)])
def test_close_turns_have_less_inductance(turns, spacing):
    """By the potentials of an integral equation over the row, against even currents."""
    design = coil(turns, spacing)
    wires = build_wires(design)
    f = np.array([0.5e6])
    solution = SolutionMemory().solution(wires, f)
    network = RingNetwork.of(design, wires, solution)
    taken = (network.parts_at_nodes["radiation"] - solution.impedance)[0, GAP, GAP]
    _, potentials = solve(turns, spacing / 0.022)
    apart = np.abs(np.subtract.outer(np.arange(turns), np.arange(turns))) * spacing / 0.011
    row = (potentials.sum() + np.log(apart + np.eye(turns)).sum()) * MU_0 / (2 * np.pi)
    # The current is even to 0.7 % over four turns at 0.5 MHz, the helix longer than its turns by 1e-4.
    assert taken.imag == pytest.approx(2 * np.pi * 0.5e6 * row * 2.0, rel=1e-2, abs=0)
    assert taken.imag < 0.0
    assert taken.real == 0.0  # no watts without an address


def test_one_turn_is_left_alone():
    assert turn_crowding(built().ring) == 1.0
    assert cross_check(built(), 7.1e6).turn_crowding is None


def test_the_closed_form_carries_the_same_factor():
    found = cross_check(coil(2, 0.033), 7.1e6)
    assert found.turn_crowding == pytest.approx(1.1921, rel=1e-4, abs=0)
    alone = cross_check(coil(1, None), 7.1e6).ring_resistance_skin
    assert found.ring_resistance_skin == pytest.approx(2 * 1.1921 * alone, rel=1e-4, abs=0)


@pytest.mark.parametrize("thickness", [0.0002, 0.0005, 0.004])
@pytest.mark.parametrize("share", [0.98, 0.8, 0.5])
def test_a_strip_is_never_shown_better_than_edge_to_edge(thickness, share):
    """Two turns of strip by the closed form of docs/explanation/thin-wire.md: |x|/sqrt((x^2 - p^2)(q^2 - x^2))."""
    width = 0.044
    strip = replace(
        tube(), kind=ConductorKind.STRIP, diameter=None, wall=None, width=width, thickness=thickness
    )
    shown = turn_crowding(coil(2, width / share, conductor=strip).ring)
    u = share
    log = 2 * np.log(290.8 * width / thickness)
    true = 1 + ((1 - u) * np.log(1 - u) + (1 + u) * np.log(1 + u)) / log
    assert true < shown < true + 0.06


def test_a_braid_multiplies_what_the_close_turns_lose():
    braid = replace(solid(0.02), kind=ConductorKind.BRAID, roughness_factor=2.0)
    smooth = ring_loss(coil(2, 0.04, conductor=solid(0.02)), 0.5e6)
    assert ring_loss(coil(2, 0.04, conductor=braid), 0.5e6) == pytest.approx(2 * smooth, rel=1e-12, abs=0)


def test_no_solve_for_another_factor():
    memory = SolutionMemory()
    predict(coil(2, 0.06), memory)
    before = memory.solves
    predict(coil(2, 0.06, joints=4, joint_resistance=1e-3), memory)
    assert memory.solves == before


def test_turns_no_longer_bring_a_notice():
    design = built(
        at(7.1e6), ring={"turns": 2, "turn_spacing": 0.06, "perimeter": 2.0}, coupling={"diameter": 0.1}
    )
    assert [notice.code for notice in predict(design).warnings] == []
