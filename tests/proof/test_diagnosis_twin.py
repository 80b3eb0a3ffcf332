# SPDX-License-Identifier: BSD-3-Clause
"""The twin: against circuits in complex arithmetic, and against the full prediction of a changed design."""

from dataclasses import replace

import numpy as np
import pytest

from ringwright.antenna.design import Earth
from ringwright.antenna.design_file import parse_design
from ringwright.antenna.geometry import build_wires
from ringwright.antenna.predict import operating_points
from ringwright.antenna.solution import SolutionMemory
from ringwright.proof.draws import Draws
from ringwright.proof.resonance_fit import fit_resonance
from ringwright.proof.ring_parts import STEP
from ringwright.proof.twin import ADDED_Q, Twin
from tests.proof.planted import GARDEN_CIRCLE, designs, predicted_sweep

DESIGNS = designs()
DECLARED = Draws.as_declared(1)
SOLVED = SolutionMemory()
"""Of rings that differ in joints or capacitor alone; nothing is solved twice for them."""


@pytest.fixture(scope="module", params=list(DESIGNS))
def twin(request):
    design = DESIGNS[request.param]
    return Twin(design, np.array([target.frequency for target in design.targets]), SOLVED)


def one(value):
    return np.array([value])


def changed(design, part, **values):
    return replace(design, **{part: replace(getattr(design, part), **values)})


def fitted(design):
    """Unloaded Q and coupling of the circles in the fully predicted sweeps."""
    points = operating_points(design, build_wires(design), SOLVED)
    fits = [fit_resonance(predicted_sweep(point)) for point in points]
    return np.array([[fit.q_unloaded.value, fit.coupling.value] for fit in fits])


def shown(twin, draws):
    seen = twin.observe(draws)
    return np.exp(np.stack([seen.ln_q[0], seen.ln_coupling[0]], axis=1))


# The twin takes Q and coupling from closed forms of one resonance, the fit from the circle in the predicted sweep over
# six widths, along which the coupling loop's own reactance moves: 1/Q of either, and the least Q here is 265.
# Interpolation over the earth adds 0.3 %, over the size of the coupling loop 1 %.
CLOSED_FORM = 0.004


def test_twin_of_the_declared_ring_shows_what_the_prediction_shows(twin):
    assert shown(twin, DECLARED) == pytest.approx(fitted(twin.design), rel=CLOSED_FORM, abs=0)


TAPPED = """kind = "tapped"
tap_at = "0.25 m"
clearance = "40 mm"
[coupling.conductor]
kind = "solid"
diameter = "6 mm"
material = "copper"
"""
TRANSFORMER = """kind = "transformer"
turns = 20
inductance_factor = "0.9 uH"
core_q = 12
"""


@pytest.mark.parametrize("coupling", [TAPPED, TRANSFORMER], ids=["tapped", "transformer"])
def test_twin_of_a_ring_with_another_coupling_shows_what_the_prediction_shows(coupling):
    before, after = GARDEN_CIRCLE.index("[coupling]"), GARDEN_CIRCLE.index("[capacitor]")
    text = GARDEN_CIRCLE[:before] + "[coupling]\n" + coupling + GARDEN_CIRCLE[after:]
    design = parse_design(text, source="other-coupling.toml")
    twin = Twin(design, np.array([target.frequency for target in design.targets]), SolutionMemory())
    assert shown(twin, DECLARED) == pytest.approx(fitted(design), rel=CLOSED_FORM, abs=0)


def test_twin_with_bad_joints_conductor_or_capacitor_shows_what_the_prediction_shows(twin):
    design = twin.design
    joints = replace(DECLARED, joints=one(20.0))
    ohms = 20.0 * design.ring.joint_resistance
    assert shown(twin, joints) == pytest.approx(
        fitted(changed(design, "ring", joint_resistance=ohms)), rel=CLOSED_FORM, abs=0
    )
    tangent = replace(DECLARED, capacitor_tangent=one(4.0 / design.capacitor.q))
    assert shown(twin, tangent) == pytest.approx(
        fitted(changed(design, "capacitor", q=design.capacitor.q / 5.0)), rel=CLOSED_FORM, abs=0
    )
    conductor = replace(design.ring.conductor, roughness_factor=3.0)
    assert shown(twin, replace(DECLARED, conductor=one(3.0))) == pytest.approx(
        fitted(changed(design, "ring", conductor=conductor)), rel=CLOSED_FORM, abs=0
    )


def test_twin_over_another_earth_shows_what_the_prediction_shows(twin):
    earth = twin.design.site.earth
    other = Earth(
        name="other",
        conductivity=earth.conductivity * np.exp(-1.3),
        permittivity=earth.permittivity * np.exp(0.7),
    )
    draws = replace(DECLARED, earth_conductivity=one(-1.3), earth_permittivity=one(0.7))
    expected = fitted(changed(twin.design, "site", earth=other))
    assert shown(twin, draws) == pytest.approx(expected, rel=CLOSED_FORM + 0.003, abs=0)


@pytest.mark.parametrize("size", [0.7, 0.9])
def test_twin_with_a_small_coupling_loop_shows_what_the_prediction_shows(twin, size):
    smaller = changed(twin.design, "coupling", diameter=twin.design.coupling.diameter * size)
    draws = replace(DECLARED, loop_size=one(np.log(size)))
    # Coupling goes as the square of the mutual impedance, and 0.7 and 0.9 lie between the sizes that were solved.
    assert shown(twin, draws) == pytest.approx(fitted(smaller), rel=CLOSED_FORM + 0.01, abs=0)


def test_a_joint_away_from_the_gap_counts_as_the_square_of_the_current_there(twin):
    # A standing wave: current cos(beta s) about the point opposite the gap, so the gap has the least of it.
    share = twin.parts.joint_share
    assert share[:, 0] == pytest.approx(np.ones(len(share)), rel=1e-12, abs=0)
    assert np.all(share[:, 1:] >= 1.0)
    place, ohms = share.shape[1] - 1, 0.05
    bad = replace(DECLARED, joint_extra=one(ohms), joint_place=np.array([place]))
    extra = twin.resistance(bad) - twin.resistance(DECLARED)
    assert extra[0] == pytest.approx(ohms * share[:, place], rel=1e-9, abs=0)


def test_added_capacitor_shares_the_gap_as_two_branches_in_parallel_do():
    # Circuit theory: the impedance of both branches in parallel, in complex arithmetic, against shares of current.
    design = changed(DESIGNS["terrace octagon"], "capacitor", q=300.0)
    twin = Twin(design, np.array([3.86e6]), SolutionMemory())
    omega, added, contact = 2.0 * np.pi * 3.86e6, 220e-12, 0.02
    whole = 1.0 / (omega * twin.parts.reactance[0])
    own = (1.0 / 300.0 - 1j) / (omega * (whole - added)) + contact
    fixed = (1.0 / ADDED_Q - 1j) / (omega * added)
    both = own * fixed / (own + fixed)
    draws = replace(DECLARED, capacitor_contact=one(contact))
    # Shares of capacitances alone leave an error of 1/Q^2.
    assert twin.capacitor_resistance(draws, added_capacitance=added)[0, 0] == pytest.approx(
        both.real, rel=1e-3, abs=0
    )


def test_a_bar_is_a_series_circuit_coupled_by_mutual_inductance():
    # (omega M)^2 / Z of the secondary, as any textbook on coupled circuits has it.
    f0, q, resistance, mutual = 7.1e6, 12.0, 60.0, 0.4e-6
    inductance = q * resistance / (2.0 * np.pi * f0)
    capacitance = 1.0 / (inductance * (2.0 * np.pi * f0) ** 2)
    bar = replace(
        DECLARED,
        bar_peak=one((2.0 * np.pi * f0 * mutual) ** 2 / resistance),
        bar_frequency=one(f0),
        bar_q=one(q),
    )
    f = np.linspace(5e6, 11e6, 6001)
    omega = 2.0 * np.pi * f
    circuit = (omega * mutual) ** 2 / (
        resistance + 1j * omega * inductance + 1.0 / (1j * omega * capacitance)
    )
    assert bar.bar_impedance(f)[0] == pytest.approx(circuit, rel=1e-9, abs=0)
    expected = (f * np.gradient(circuit.imag, f) + circuit.imag)[1:-1]
    # The slope is a difference over 7 kHz either way, in a width of 600 kHz: (7/300)^2 is its order.
    error = np.abs(bar.bar_stiffness(f, STEP)[0, 1:-1] - expected)
    assert error.max() / np.abs(expected).max() < 2e-3


def test_without_an_earth_a_tolerance_of_the_earth_changes_nothing():
    design = DESIGNS["garden circle"]
    free = replace(design, site=replace(design.site, earth=None))
    twin = Twin(free, np.array([7.1e6]), SolutionMemory())
    draws = replace(DECLARED, earth_conductivity=one(1.0), earth_permittivity=one(-0.5))
    assert twin.resistance(draws) == pytest.approx(twin.resistance(DECLARED), rel=1e-12, abs=0)
    there = replace(draws, is_other_earth=True)
    over = Earth(name="over", conductivity=0.005 * np.e, permittivity=13.0 * np.exp(-0.5))
    on_earth = Twin(changed(design, "site", earth=over), np.array([7.1e6]), SolutionMemory())
    assert twin.resistance(there) == pytest.approx(on_earth.resistance(DECLARED), rel=3e-3, abs=0)


def test_a_ring_in_free_space_where_no_earth_can_be_is_looked_at_all_the_same():
    design = DESIGNS["garden circle"]
    low = replace(design, site=replace(design.site, earth=None, height=0.0))
    twin = Twin(low, np.array([7.1e6]), SolutionMemory())
    there = replace(DECLARED, earth_conductivity=one(1.0), is_other_earth=True)
    assert twin.resistance(there) == pytest.approx(twin.resistance(DECLARED), rel=1e-12, abs=0)
