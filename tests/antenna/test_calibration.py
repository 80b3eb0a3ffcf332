# SPDX-License-Identifier: BSD-3-Clause
"""A layer over a design: what it moves, how draws hang together in it, and that no limit is ever looser for it."""

from dataclasses import replace

import numpy as np
import pytest

from ringwright.antenna.calibration import INPUTS, as_declared, calibrated
from ringwright.antenna.design import Part
from ringwright.antenna.figures import to_json
from ringwright.antenna.predict import predict
from ringwright.antenna.ranges.draws import Draws
from ringwright.antenna.solution import SolutionMemory
from ringwright.errors import OutOfRangeError
from ringwright.safety.keepout import keep_out
from tests.antenna.builds import AVERAGE
from tests.antenna.layers import TIED, layer
from tests.antenna.ranges.uncertain import uncertain

POWER_MAX = "limits.power_max_w"


def test_a_layer_moves_what_is_uncertain_and_nothing_else():
    design = uncertain()
    moved = calibrated(design, layer(shift=(-0.5, 0.3, 0.2, -0.1)))
    factor = np.exp([-0.5, 0.3, 0.2, -0.1])
    assert moved.site.earth is not None
    assert moved.capacitor.q == pytest.approx(800.0 * factor[0], rel=1e-12, abs=0)
    assert moved.ring.joint_resistance == pytest.approx(2e-3 * factor[1], rel=1e-12, abs=0)
    assert moved.site.earth.conductivity == pytest.approx(0.005 * factor[2], rel=1e-12, abs=0)
    assert moved.site.earth.permittivity == pytest.approx(13.0 * factor[3], rel=1e-12, abs=0)
    kept = replace(moved, capacitor=design.capacitor, ring=design.ring, site=design.site, calibration=None)
    assert kept == design


def test_a_series_resistance_moves_against_the_q():
    parts = Part(q=500.0), Part(esr=0.02), Part(q=900.0)
    capacitor = replace(
        uncertain().capacitor,
        q=None,
        esr=0.03,
        contact_resistance=0.004,
        variable=parts[0],
        fixed_part=parts[1],
        series_part=parts[2],
    )
    moved = calibrated(
        replace(uncertain(), capacitor=capacitor), layer(shift=(np.log(2.0), 0, 0, 0))
    ).capacitor
    assert (moved.esr, moved.contact_resistance) == pytest.approx((0.015, 0.004), rel=1e-12, abs=0)
    found = (moved.variable.q, moved.fixed_part.esr, moved.series_part.q)
    assert found == pytest.approx((1000.0, 0.01, 1800.0), rel=1e-12, abs=0)


def test_the_declared_design_comes_back_to_the_bit_with_what_was_changed_since():
    design = uncertain()
    smaller = replace(design.coupling, diameter=0.12)
    moved = replace(calibrated(design, layer(shift=(0.1, 0.2, 0.3, 0.4))), coupling=smaller)
    assert as_declared(moved) == replace(design, coupling=smaller)
    assert as_declared(design) is design


def test_one_layer_takes_the_place_of_another():
    design = uncertain()
    first, second = layer(shift=(0.5, 0, 0, 0)), layer(shift=(-0.2, 0, 0, 0))
    assert calibrated(calibrated(design, first), second) == calibrated(design, second)


def test_no_earth_is_moved_beyond_air_and_water():
    for shift, end in ((-5.0, 1.0), (5.0, 81.0)):
        earth = calibrated(uncertain(), layer(shift=(0, 0, 0, shift))).site.earth
        assert earth is not None
        assert earth.permittivity == end


def test_draws_have_the_layers_spreads_and_correlations():
    here = layer(spread=(0.1, 0.4, 0.3, 0.2), correlation=TIED)
    draws = Draws.of(uncertain().tolerance, AVERAGE, here)
    inputs = np.log(
        [1.0 / draws.capacitor_loss, draws.joint_resistance, draws.conductivity, draws.permittivity]
    )
    drawn = inputs[:, 1:] - inputs[:, :1]
    assert drawn.std(axis=1) == pytest.approx([0.1, 0.4, 0.3, 0.2], rel=0.02, abs=0)
    assert np.corrcoef(drawn) == pytest.approx(np.array(TIED), abs=0.02)
    assert np.abs(drawn.mean(axis=1)).max() < 0.01


def test_what_ties_two_losses_together_narrows_their_sum():
    """Joints and capacitor lose the same here, so that of R = a exp(x) + b exp(-y) the sum's spread is known.

    var ln R = (a^2 s^2 + b^2 t^2 - 2 a b r s t)/R^2 to first order, r the correlation of joints and Q.
    """
    design = uncertain(earth=None)
    memory, spread = SolutionMemory(), 0.05
    band = predict(design, memory).bands[0].resistance
    joints = design.ring.joint_resistance * band.capacitor / band.joints
    even = replace(design, ring=replace(design.ring, joint_resistance=joints))
    share = predict(even, memory).bands[0].resistance
    for correlation in (-0.9, 0.0, 0.9):
        tied = np.eye(4)
        tied[0, 1] = tied[1, 0] = correlation
        here = layer(spread=(spread, spread, 0, 0), correlation=tied)
        low, high = predict(calibrated(even, here), memory).bands[0].range["resistance_ohm.total"]
        expected = share.capacitor / share.total * spread * np.sqrt(2.0 - 2.0 * correlation)
        # 2 x 1.2816 standard deviations between the ends of a normal distribution's 10 to 90 %.
        assert np.log(high / low) / 2.5631 == pytest.approx(expected, rel=0.05, abs=0)


def test_a_prediction_says_which_layer_it_stands_on():
    design = uncertain(earth=None)
    assert to_json(predict(design))["calibration"] is None
    assert to_json(predict(calibrated(design, layer())))["calibration"] == "after cure"


@pytest.mark.parametrize("shift", [-0.7, 0.7])
def test_no_limit_is_looser_for_a_layer(shift):
    design, memory = uncertain(earth=None), SolutionMemory()
    plain = predict(design, memory)
    moved = calibrated(design, layer(shift=(shift, 0, 0, 0), spread=(0.02, 0.02, 0, 0)))
    laid = predict(moved, memory)
    before, after = plain.bands[0], laid.bands[0]
    assert after.capacitor.must_stand_peak >= before.capacitor.must_stand_peak
    assert after.capacitor.must_carry_rms >= before.capacitor.must_carry_rms
    assert before.limits.power_max is not None
    assert after.limits.power_max is not None
    assert after.limits.power_max <= before.limits.power_max
    assert after.range[POWER_MAX][0] == after.limits.power_max <= after.range[POWER_MAX][1]
    if shift > 0.0:
        # A ring that was measured better than declared carries more; at its own unfavourable end.
        assert after.capacitor.must_carry_rms == after.range["tuning.capacitor_current_rms_a"][1]
        assert after.capacitor.must_carry_rms > 1.05 * before.capacitor.must_carry_rms
    else:
        assert after.capacitor.must_carry_rms == before.capacitor.must_carry_rms
        assert after.tuning.capacitor_current_rms < before.tuning.capacitor_current_rms


def test_the_advised_distance_is_never_shorter_for_a_layer():
    design, memory = uncertain(earth=None), SolutionMemory()
    distances = [
        [row.distance_advised for row in keep_out(each, predict(each, memory))[0].by_limit]
        for each in (design, calibrated(design, layer(shift=(-0.7, 0, 0, 0), spread=(0.02, 0.02, 0, 0))))
    ]
    assert np.all(np.array(distances[1]) >= np.array(distances[0]))


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"spread": (0.1, -0.1, 0.1, 0.1)}, "standard deviations 0 or more"),
        ({"shift": (0.1, np.inf, 0.1, 0.1)}, "finite"),
        ({"shift": (0.1, 0.1)}, "4 inputs: capacitor_q"),
        ({"correlation": np.eye(4) + np.eye(4, k=1)}, "contradict each other"),
        (
            {"correlation": np.ones((4, 4)) - 2.0 * (np.eye(4, k=1) + np.eye(4, k=-1))},
            "contradict each other",
        ),
    ],
)
def test_what_is_no_distribution_is_refused(changed, sentence):
    with pytest.raises(OutOfRangeError, match=sentence):
        layer(**changed)


def test_every_input_has_a_place():
    assert len(layer().shift) == len(INPUTS)
