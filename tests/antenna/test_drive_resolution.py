# SPDX-License-Identifier: BSD-3-Clause
"""Hertz per turn against the closed forms of a resonant circuit, and gearing against what it promises."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.antenna.capacitor import range_at_gap
from ringwright.antenna.design import Drive, Target
from ringwright.antenna.drive_resolution import (
    MICROSTEPS,
    Sweep,
    gearing_needed,
    hertz_per_turn,
    turns_per_step,
)
from ringwright.antenna.predict import predict
from tests.antenna.builds import CAPACITOR, at, band, built
from tests.antenna.lumped import INDUCTANCE, lumped_ring

LINEAR = replace(CAPACITOR, minimum=10e-12, maximum=110e-12, travel=10.0)  # 10 pF a turn
TWENTY = band("20m")


def along(tuned, capacitor, target) -> Any:
    return Sweep.along(tuned, capacitor, target)


def circuit(farads):
    """Resonance with the ring's inductance alone [Hz]."""
    return 1.0 / (2.0 * np.pi * np.sqrt(INDUCTANCE * farads))


def test_resolution_of_the_worked_example():
    # df = -f dC/2C: 54.38 pF at 14.2 MHz make 130.6 kHz a picofarad, and 2.1 kHz, a quarter of the bandwidth, 0.016 pF.
    tuned = lumped_ring(LINEAR)
    assert tuned.capacitance == pytest.approx(54.38e-12, rel=1e-4, abs=0)
    per_picofarad = hertz_per_turn(tuned, LINEAR, np.array([14.2e6]))[0] / 10.0
    assert per_picofarad == pytest.approx(130.6e3, rel=5e-4, abs=0)
    assert 2.1e3 / per_picofarad == pytest.approx(0.016, rel=0.01, abs=0)


def test_a_linear_law_is_coarser_at_the_upper_edge_as_the_cube_of_frequency():
    found = along(lumped_ring(LINEAR), LINEAR, TWENTY)
    # df/dC = -f/2C, and C goes with 1/f^2.
    assert found.high / found.low == pytest.approx((TWENTY.high / TWENTY.low) ** 3, rel=1e-4, abs=0)
    assert found.worst == found.high
    assert found.low < found.mid < found.high


def test_straight_line_frequency_turns_evenly():
    capacitor = replace(LINEAR, straight_line_frequency=True)
    found = along(lumped_ring(capacitor), capacitor, TWENTY)
    even = (circuit(10e-12) - circuit(110e-12)) / 10.0
    for each in (found.low, found.mid, found.high, found.worst):
        # The law's slope is taken over 1e-4 of its range on either side.
        assert each == pytest.approx(even, rel=1e-3, abs=0)


def test_degrees_are_turns_of_the_shaft():
    turned = replace(LINEAR, travel=180.0, travel_unit="deg")
    f = np.array([14.2e6])
    assert hertz_per_turn(lumped_ring(turned), turned, f) == pytest.approx(
        20.0 * hertz_per_turn(lumped_ring(LINEAR), LINEAR, f), rel=1e-12, abs=0
    )


def test_a_steep_row_inside_the_band_is_the_worst():
    """A table whose slope is ten times as large between 54.2 and 54.6 pF, which both edges and the middle miss."""
    rows = ((0.0, 10e-12), (4.42, 54.2e-12), (4.424, 54.6e-12), (10.0, 110e-12))
    capacitor = replace(LINEAR, law=rows)
    target = Target(band=None, frequency=14.3e6, low=14.1e6, high=14.5e6)
    found = along(lumped_ring(capacitor), capacitor, target)
    steep = circuit(54.4e-12) / (2 * 54.4e-12) * (0.4e-12 / 0.004)
    # Taken at one of 17 places in the band, a percent of frequency apart from the middle of the row: 3 % by the cube.
    assert found.worst == pytest.approx(steep, rel=0.03, abs=0)
    assert found.worst > 5 * max(found.low, found.mid, found.high)


@pytest.mark.parametrize("edge", ["low", "high"])
def test_edges_of_a_real_ring_by_taking_the_steps(edge):
    drive = Drive(steps_per_turn=200, microsteps=8, reduction=5.0)
    ring = built(TWENTY, capacitor={"travel": 16.0}, drive=drive)
    found = predict(ring).bands[0]
    there = predict(replace(ring, targets=(at(getattr(TWENTY, edge)),))).bands[0].point.tuned
    low, high = range_at_gap(ring.capacitor)
    farads = (high - low) / (16.0 * 200 * 8 * 5)
    moved = [
        replace(there, capacitance=there.capacitance + way * farads).resonance()[0] for way in (-1.0, 1.0)
    ]
    # The loop's detuning moves the match with the resonance, to a few thousandths.
    expected = (moved[0] - moved[1]) / 2.0
    assert getattr(found.drive, f"step_{edge}") == pytest.approx(expected, rel=5e-3, abs=0)


def test_out_of_reach_is_no_number():
    short = replace(LINEAR, minimum=10e-12, maximum=54.38e-12)  # reaches the upper half of the band only
    found = along(lumped_ring(short), short, TWENTY)
    assert found.low is None
    assert found.high is not None
    assert found.worst == found.high
    beyond = replace(LINEAR, minimum=80e-12)
    assert Sweep.along(lumped_ring(beyond), beyond, TWENTY) == Sweep(None, None, None, None)
    unstated = replace(LINEAR, travel=None)
    assert Sweep.along(lumped_ring(unstated), unstated, TWENTY).worst is None


DRIVES = st.builds(
    Drive,
    steps_per_turn=st.integers(20, 1000),
    microsteps=st.sampled_from(MICROSTEPS),
    reduction=st.floats(0.1, 1000.0),
)


@given(DRIVES, st.floats(1e3, 1e8), st.floats(0.0, 2e3), st.floats(1e2, 1e5))
def test_the_gearing_lands_within_a_tenth_and_nothing_less_does(drive, per_turn, spring, width):
    def lands(which):
        return per_turn * turns_per_step(which) / 2.0 + spring

    step = per_turn * turns_per_step(drive)
    reduction, microsteps = gearing_needed(drive, step=step, spring=spring, width=width)
    if spring >= width / 10.0:
        assert (reduction, microsteps) == (None, None)
        return
    assert lands(replace(drive, reduction=reduction)) == pytest.approx(width / 10.0, rel=1e-9, abs=0)
    within = [count for count in MICROSTEPS if lands(replace(drive, microsteps=count)) <= width / 10.0]
    assert microsteps == (within[0] if within else None)
