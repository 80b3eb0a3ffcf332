# SPDX-License-Identifier: BSD-3-Clause
"""What every builder knows (common practice, no source): a prediction that contradicts it is wrong."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from ringwright.antenna.capacitor import range_at_gap
from ringwright.antenna.design import CouplingPlace, CouplingShape, RingShape
from ringwright.antenna.predict import predict
from ringwright.antenna.solution import SolutionMemory
from ringwright.physics.constants import C_0
from tests.antenna.builds import at, band, built, tube


def usual(*targets):
    """A circle of 3 m in half-inch copper tube with a capacitor of 40 to 430 pF."""
    return built(
        *targets, ring={"conductor": tube(0.0127)}, capacitor={"minimum": 40e-12, "maximum": 430e-12}
    )


def first(design):
    return predict(design).bands[0]


@pytest.mark.parametrize(("frequency", "picofarad"), [(7.0e6, 190.0), (14.2e6, 44.0)])
def test_capacitance_of_the_usual_ring(frequency, picofarad):
    # "About": the trade's figures are given to two digits.
    needed = first(usual(at(frequency))).tuning.capacitance
    assert needed == pytest.approx(picofarad * 1e-12, rel=0.05, abs=0)


def test_usual_capacitor_carries_the_usual_ring_from_7_to_14_mhz():
    bands = predict(usual(band("40m"), band("30m"), band("20m"))).bands
    assert all(each.tuning.reachable for each in bands)
    assert bands[0].tuning.tunes_from is not None
    assert bands[0].tuning.tunes_to is not None
    assert 4.4e6 < bands[0].tuning.tunes_from < 7.0e6
    assert 14.35e6 < bands[0].tuning.tunes_to < 15.5e6


@pytest.mark.parametrize("name", ["40m", "30m", "20m"])
def test_several_kilovolts_at_100_watts(name):
    assert 3e3 < first(usual(band(name))).tuning.capacitor_voltage_peak < 10e3


def best_loop(design, low, high):
    """Diameter of the coupling loop with the lowest SWR, over that of the ring."""
    memory = SolutionMemory()

    def swr(diameter):
        coupling = replace(design.coupling, diameter=float(diameter))
        return predict(replace(design, coupling=coupling), memory).bands[0].match.swr_min

    found = minimize_scalar(swr, bounds=(low, high), method="bounded", options={"xatol": 1e-3})
    assert found.fun < 1.1
    return found.x / (3.0 / np.pi)


def test_a_centred_loop_comes_out_near_one_fifth():
    shares = [
        best_loop(
            built(
                at(f),
                coupling={"place": CouplingPlace.CENTRE},
                capacitor={"esr": esr},
            ),
            0.08,
            0.5,
        )
        for f, esr in ((7.1e6, 0.02), (14.2e6, 0.02), (14.2e6, 0.1))
    ]
    assert all(0.14 < share < 0.26 for share in shares)
    assert shares[2] > shares[1]  # larger the lossier


@pytest.mark.parametrize("clearance", [0.015, 0.030])
def test_a_loop_beside_the_conductor_comes_out_between_a_tenth_and_a_fifth(clearance):
    shares = [
        best_loop(
            built(at(10.1e6), coupling={"clearance": clearance}, capacitor={"esr": esr}),
            0.03,
            0.3,
        )
        for esr in (0.0, 0.03, 0.1)
    ]
    assert 0.08 < shares[0] < shares[1] < shares[2] < 0.22


@pytest.mark.parametrize("squash", [1.3, 1.6, 2.0])
def test_squashing_an_undercoupled_loop_lowers_its_swr(squash):
    """At the same length of wire more of it runs close along the ring's conductor."""
    loop = {"diameter": 0.10, "shape": CouplingShape.OVAL}
    round_, flat = (
        first(built(at(7.1e6), coupling=loop | {"squash": s})).match.swr_min for s in (1.0, squash)
    )
    assert 1.0 < flat < round_
    # And raises the SWR of an over-coupled one, because the coupling grows.
    loop["diameter"] = 0.25
    round_, flat = (
        first(built(at(7.1e6), coupling=loop | {"squash": s})).match.swr_min for s in (1.0, squash)
    )
    assert flat > round_


@pytest.mark.parametrize("shape", [RingShape.CIRCLE, RingShape.OCTAGON, RingShape.SQUARE])
def test_no_ring_beats_the_lower_bound_on_q(shape):
    """H. L. Thal, 2006: Q/efficiency of a loop in a sphere of k r <= 0.5 is at least 3 (1/x^3 + 1/x)."""
    bands = predict(
        built(at(7.1e6), at(14.2e6), at(28.5e6), ring={"shape": shape}, capacitor={"minimum": 2e-12})
    ).bands
    sides = {"octagon": 8, "square": 4}.get(shape.value)
    radius = 3.0 / (2.0 * np.pi) if sides is None else 3.0 / sides / (2.0 * np.sin(np.pi / sides))
    for each in bands:
        x = 2.0 * np.pi * each.frequency / C_0 * (radius + 0.011)
        assert x < 0.5
        assert each.q_unloaded / (each.efficiency_free_space_pct / 100.0) >= 3.0 * (1.0 / x**3 + 1.0 / x)


def test_more_area_radiates_better_for_the_same_tube():
    efficiency = [
        first(built(at(7.1e6), ring={"shape": shape})).efficiency_free_space_pct
        for shape in (RingShape.CIRCLE, RingShape.OCTAGON, RingShape.HEXAGON, RingShape.SQUARE)
    ]
    assert np.all(np.diff(efficiency) < 0.0)


def test_lower_bands_are_narrower_and_less_efficient():
    bands = predict(built(band("40m"), band("30m"), band("20m"))).bands
    for figure in ("bandwidth_half_power", "efficiency_free_space_pct"):
        assert np.all(np.diff([getattr(each, figure) for each in bands]) > 0.0)


def test_a_bad_joint_costs_more_on_the_lower_band():
    good, bad = (
        predict(built(band("40m"), band("20m"), ring={"joints": 4, "joint_resistance": r})).bands
        for r in (0.0, 5e-3)
    )
    loss = [b.efficiency_free_space_pct / g.efficiency_free_space_pct for g, b in zip(good, bad, strict=True)]
    assert loss[0] < loss[1] < 1.0


def test_the_capacitor_keeps_inside_its_range_where_it_is_reachable():
    design = built(band("40m"), band("20m"))
    low, high = range_at_gap(design.capacitor)
    for each in predict(design).bands:
        assert each.tuning.reachable
        assert low < each.tuning.capacitance < high
