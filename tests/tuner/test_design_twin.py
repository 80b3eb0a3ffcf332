# SPDX-License-Identifier: BSD-3-Clause
"""The twin of one's own design reflects what the predicted network does, and lands where the drive's figures say."""

import math

import numpy as np
import pytest

from ringwright.tuner.design_ring import DesignRing, Off, play_of
from ringwright.tuner.table_law import predicted_law
from ringwright.tuner.twin.drive_train import DriveTrain, TrainFacts
from ringwright.tuner.twin.ring import swr_of
from tests.tuner.sessions import octagon


@pytest.fixture(scope="module")
def twin():
    design, prediction = octagon()
    law = predicted_law(design, prediction)
    return (
        DesignRing(design, prediction, law, off=Off(scale=0.0, stray=0.0, drift_times=1.0)),
        law,
        prediction,
    )


@pytest.mark.parametrize("band", [0, 1, 2])
def test_it_reflects_what_the_predicted_network_reflects(twin, band):
    """The network with its capacitor at one setting, over half a bandwidth to each side of the dip."""
    ring, law, prediction = twin
    tuned = prediction.bands[band].point.tuned
    place = law.farads.inverse(tuned.capacitance)
    frequencies = tuned.frequency + prediction.bands[band].bandwidth_half_power * np.linspace(-0.5, 0.5, 5)
    shares = [ring.reflected_share(f, place, 0.0) for f in frequencies]
    expected = abs(tuned.reflection(frequencies)) ** 2
    # The twin keeps the capacitor's losses of the frequency asked for, the network those of each: 1e-3 of a share.
    assert shares == pytest.approx(list(expected), abs=2e-3)


def test_its_dip_is_the_designs(twin):
    ring, law, prediction = twin
    band = prediction.bands[1]
    place = law.farads.inverse(band.tuning.capacitance)
    assert swr_of(ring.reflected_share(band.frequency, place, 0.0)) == pytest.approx(
        band.match.swr_min, rel=0.02
    )
    assert ring.resonance(place, 0.0) == pytest.approx(band.frequency, rel=1e-5)


def test_its_bandwidth_in_steps_is_the_drives(twin):
    """Half-power bandwidth over hertz per step, both as predicted."""
    ring, _, prediction = twin
    for band in prediction.bands:
        assert band.tuning.step is not None
        steps = ring.half_power_steps(band.frequency)
        assert steps == pytest.approx(band.bandwidth_half_power / band.tuning.step, rel=0.03)


def test_its_warmth_lowers_the_resonance_as_predicted(twin):
    ring, law, prediction = twin
    band = prediction.bands[1]
    place = law.farads.inverse(band.tuning.capacitance)
    drift = ring.resonance(place, 1.0) - ring.resonance(place, 0.0)
    assert drift == pytest.approx(band.tuning.drift_per_kelvin, rel=0.1)
    assert drift < 0.0


def test_a_turn_of_direction_costs_what_the_design_states():
    design, _ = octagon()
    backlash, twist = play_of(design)
    train = DriveTrain(TrainFacts(backlash=backlash, windup=twist), 5000)
    before = train.rotor
    free = math.floor(backlash + 1.7 * twist)
    train.pulses(-free)
    assert train.rotor == before
    train.pulses(-2)
    assert train.rotor < before
