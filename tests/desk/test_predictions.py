# SPDX-License-Identifier: BSD-3-Clause
"""Predictions kept for whoever asks for the same design again."""

from dataclasses import replace

from ringwright.antenna.design_file import design_of, read_tables
from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import FIRST_RING, shipped_text
from ringwright.desk.predictions import KEPT, Predictions

DESIGN = design_of(read_tables(shipped_text(FIRST_RING)))
FREE = replace(DESIGN, targets=DESIGN.targets[:1], site=replace(DESIGN.site, earth=None))


class Counting:
    def __init__(self):
        self.powers: list[float] = []

    def __call__(self, design, memory):
        self.powers.append(design.power)
        return predict(design, memory)


def at(power):
    return replace(FREE, power=power)


def test_a_known_design_is_predicted_once():
    counting = Counting()
    predictions = Predictions(counting)
    made, solves = predictions.new(at(1.0))
    assert solves > 0
    assert predictions.known(at(1.0)) is made
    assert predictions.known(at(2.0)).bands[0].point.power == 2.0
    assert counting.powers == [1.0, 2.0]


def test_a_new_prediction_is_made_even_of_a_known_design():
    counting = Counting()
    predictions = Predictions(counting)
    predictions.new(at(1.0))
    _, solves = predictions.new(at(1.0))
    assert solves == 0  # the solutions are known all the same
    assert counting.powers == [1.0, 1.0]


def test_the_last_designs_are_kept_and_older_ones_are_not():
    counting = Counting()
    predictions = Predictions(counting)
    powers = [float(power) for power in range(1, KEPT + 2)]
    for power in powers:
        predictions.new(at(power))
    for power in powers[1:]:
        predictions.known(at(power))
    assert counting.powers == powers
    predictions.known(at(powers[0]))
    assert counting.powers == [*powers, powers[0]]
