# SPDX-License-Identifier: BSD-3-Clause
"""The drive on the command line: where it lands, the caution, and nothing of it where there is none."""

import json
import re

import pytest

from ringwright.antenna.figures import FIGURES

KEYS = [key for key in FIGURES if key.startswith("drive.")]


@pytest.fixture
def undriven(octagon):
    text = octagon.read_text(encoding="utf-8")
    octagon.write_text(re.sub(r"\[drive\].*?(?=\[feedline\])", "", text, flags=re.DOTALL), encoding="utf-8")
    return octagon


def test_each_band_says_where_the_drive_lands(call, octagon):
    text = " ".join(call("predict", octagon).out.split())
    assert (
        len(re.findall(r"drives lands within [\d.]+ Hz from one side, [\d.]+ % of the width at SWR 2", text))
        == 3
    )
    assert len(re.findall(r"[\d.]+ s to the next band", text)) == 2  # not from the last one
    assert len(re.findall(r"-[\d.]+ Hz a kelvin", text)) == 3


def test_kilovolts_on_the_motor_are_cautioned(call, octagon):
    text = " ".join(call("predict", octagon).out.split())
    assert "keeps them off the motor and out of the cable that comes indoors" in text
    assert "with the transmitter off and unable to key" in text


def test_without_a_drive_nothing_is_said_of_one(call, undriven):
    out = call("predict", undriven, "--explain").out
    assert "drives" not in out
    assert "the motor" not in out
    assert not [key for key in KEYS if f"({key})" in out]
    assert all(band["drive"] is None for band in json.loads(call("predict", undriven, "--json").out)["bands"])


def test_explain_says_how_each_figure_of_the_drive_is_known(call, octagon):
    out = " ".join(call("predict", octagon, "--explain").out.split())
    assert not [key for key in KEYS if f"({key})" not in out]
    for line in (
        "drive.shaft.material = birch",
        "drive.speed = 120 rpm",
        "drive.shaft_torque = 0.2 Nm (to turn",
    ):
        assert line in out


def test_a_soft_shaft_is_told_what_cures_it(call, octagon):
    text = octagon.read_text(encoding="utf-8")
    soft = text.replace('material = "birch"', 'material = "rubber hose"')
    octagon.write_text(soft, encoding="utf-8")
    out = " ".join(call("predict", octagon).out.split())
    assert out.count("no gearing cures it: the shaft twists") == 3
    assert re.search(r"A stiff insulating shaft does: [\d.]+ mm of beech, [\d.]+ mm thick", out)


def test_a_whole_number_of_the_document_stays_one(call, octagon):
    bands = json.loads(call("predict", octagon, "--json").out)["bands"]
    assert all(band["drive"]["microsteps_needed"] in (1, 2, 4, 8) for band in bands)
