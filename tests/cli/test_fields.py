# SPDX-License-Identifier: BSD-3-Clause
"""`fields`: places in, E and H out, the contract's document."""

import json

import numpy as np
import pytest

from ringwright.antenna.design import Design
from ringwright.antenna.predict import predict
from ringwright.antenna.site_fields import fields_at

PLACES = ["0 m, 2 m, 1.95 m", "-6 ft, 0 m, 70 in"]
IN_METRES = [[0.0, 2.0, 1.95], [-1.8288, 0.0, 1.778]]


def strict_json(text):
    def refuse(name):
        raise AssertionError(f"{name} is not JSON")

    return json.loads(text, parse_constant=refuse)


def test_document_has_the_keys_and_numbers_of_its_contract(call, octagon):
    outcome = call("fields", octagon, "--at", PLACES[0], "--at", PLACES[1], "--json")
    assert outcome.code == 0
    document = strict_json(outcome.out)
    assert document["schema"] == "ringwright.fields/1"
    design = Design.load(octagon)
    for found, band in zip(document["bands"], predict(design).bands, strict=True):
        assert (found["band"], found["frequency_hz"]) == (band.band, band.frequency)
        expected = fields_at(design, band.point, np.array(IN_METRES))
        for point, place, field in zip(found["points"], IN_METRES, expected, strict=True):
            assert point["at_m"] == pytest.approx(place, rel=1e-12, abs=0)
            assert point["e_rms_v_per_m"] == pytest.approx(field.e_rms, rel=1e-9, abs=0)
            assert point["h_rms_a_per_m"] == pytest.approx(field.h_rms, rel=1e-9, abs=0)
            for quantity, unit in (("e", "v_per_m"), ("h", "a_per_m")):
                rms, peak = point[f"{quantity}_rms_{unit}"], point[f"{quantity}_peak_{unit}"]
                parts = np.array(point[f"{quantity}_components_rms_{unit}"])
                assert parts.shape == (3, 2)
                assert np.sqrt(np.sum(parts**2)) == pytest.approx(rms, rel=1e-12, abs=0)
                assert rms <= peak * (1 + 1e-12) <= np.sqrt(2.0) * rms * (1 + 2e-12)


def test_people_read_the_same(call, octagon):
    document = strict_json(call("fields", octagon, "--at", PLACES[0], "--json").out)
    text = call("fields", octagon, "--at", PLACES[0]).out
    assert "0 m, 2 m, 1.95 m" in text
    for band in document["bands"]:
        assert f"{band['points'][0]['e_rms_v_per_m']:.4g} V/m" in text
        assert band["band"] in text


@pytest.mark.parametrize(
    ("place", "sentence"),
    [
        ("0 m, 2 m", "three lengths"),
        ("0 m, 2, 1 m", "has no unit"),
        ("0 m, 2 kg, 1 m", "a length is needed"),
        ("0,5 m, 2 m, 1 m", "three lengths"),
        ("nan m, 0 m, 1 m", "not a finite number"),
        ("0 m, 0 m, 1.8 m", "inside a conductor"),
    ],
)
def test_a_place_that_cannot_be_is_one_sentence_and_code_2(call, octagon, place, sentence):
    outcome = call("fields", octagon, "--at", place)
    assert outcome.code == 2
    assert sentence in outcome.sentence


def test_a_place_in_the_earth_is_refused(call, octagon):
    octagon.write_text(octagon.read_text().replace('earth = "free space"', 'earth = "average"'))
    outcome = call("fields", octagon, "--at", "2 m, 0 m, -0.1 m", "--json")
    assert outcome.code == 2
    assert "lies in the earth" in outcome.sentence


def test_a_place_must_be_named(call, octagon):
    assert call("fields", octagon).code == 2
