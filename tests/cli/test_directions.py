# SPDX-License-Identifier: BSD-3-Clause
"""`directions`, and `predict` as if the metal were gone."""

import json
import re

import numpy as np
import pytest

from ringwright.antenna.design import Design
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.figures.directions import DIRECTION_FIGURES
from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text


def strict_json(text):
    def refuse(name):
        raise AssertionError(f"{name} is not JSON")

    return json.loads(text, parse_constant=refuse)


@pytest.fixture(name="terrace", scope="module")
def terrace_on_its_site(tmp_path_factory):
    path = tmp_path_factory.mktemp("terrace") / "octagon.toml"
    path.write_text(shipped_text(TERRACE_OCTAGON).replace('x_bearing = "90 deg"', 'x_bearing = "30 deg"'))
    return path


def test_document(call, terrace):
    outcome = call("directions", terrace, "--json")
    assert outcome.code == 0
    document = strict_json(outcome.out)
    assert document["schema"] == "ringwright.directions/1"
    assert document["x_bearing_deg"] == pytest.approx(30.0, rel=1e-12, abs=0)
    predicted = predict(Design.load(terrace)).bands
    assert [band["band"] for band in document["bands"]] == [band.band for band in predicted]
    for found, band in zip(document["bands"], predicted, strict=True):
        pattern = found["pattern"]
        assert pattern["gain_max_dbi"] == pytest.approx(band.pattern.gain_max_dbi, rel=1e-9, abs=0)
        assert pattern["bearing_deg"] == pytest.approx(
            (30.0 - pattern["azimuth_deg"]) % 360.0, rel=1e-9, abs=1e-9
        )
        grid = np.array(found["sphere"]["gain_dbi"])
        assert grid.shape == (len(found["sphere"]["elevation_deg"]), len(found["sphere"]["azimuth_deg"]))
        # Every 7.5 degrees of a broad lobe; none of the grid above the best.
        assert pattern["gain_max_dbi"] - 0.05 < grid.max() <= pattern["gain_max_dbi"] + 1e-9
        cut = found["azimuth_cut"]
        assert max(cut["gain_dbi"]) == pytest.approx(pattern["gain_20deg_dbi"], rel=0.01, abs=0)
        assert cut["bearing_deg"] == pytest.approx(
            [(30.0 - at) % 360.0 for at in cut["azimuth_deg"]], abs=1e-9
        )
        assert found["quietest"]["depth_db"] >= max(
            [null["depth_db"] for null in found["nulls"]], default=0.0
        )
        dipole = found["dipole"]
        assert dipole["ahead_db"] == pytest.approx(
            pattern["gain_max_dbi"] - dipole["gain_max_dbi"], rel=1e-9, abs=0
        )
        # Ring's centre: 1.8 m and half of 1.328 m from flat to flat, 4.4 m/8/tan(22.5 deg) (geometry).
        assert dipole["height_m"] == pytest.approx(1.8 + 0.55 / 2.0 / np.tan(np.pi / 8.0), rel=1e-3, abs=0)


def test_keys_say_their_unit(call, terrace):
    document = strict_json(call("directions", terrace, "--json", "--band", "40m").out)
    assert len(document["bands"]) == 1

    def keys(value):
        if isinstance(value, dict):
            for key, inner in value.items():
                is_table = isinstance(inner, dict) or (
                    isinstance(inner, list) and inner and isinstance(inner[0], dict)
                )
                yield from keys(inner) if is_table else [(key, inner)]
        elif isinstance(value, list):
            for inner in value:
                yield from keys(inner)

    units = ("_dbi", "_deg", "_db", "_m", "_w", "_hz", "_pct")
    for key, inner in keys(document):
        assert isinstance(inner, str | bool) or inner == [] or key.endswith(units), key


def test_what_the_loss_costs_on_receive(call, terrace):
    document = strict_json(call("directions", terrace, "--json", "--band", "40m").out)["bands"][0]
    text = " ".join(call("directions", terrace, "--band", "40m").out.split())
    heard = {each["place"]: each for each in document["reception"]}
    assert list(heard) == ["city", "residential", "rural", "quiet rural"]
    # Less noise from outside, more that the loss costs.
    assert [each["loss_db"] for each in heard.values()] == sorted(each["loss_db"] for each in heard.values())
    cost = DIRECTION_FIGURES["reception.loss_db"]
    for place, each in heard.items():
        said = "nothing that is heard" if each["costs_nothing"] else cost.text(each["loss_db"])
        assert said in text
        assert place in text


def test_people_read_the_same(call, terrace):
    document = strict_json(call("directions", terrace, "--json", "--band", "40m").out)["bands"][0]
    outcome = call("directions", terrace, "--band", "40m")
    text = " ".join(outcome.out.split())
    assert outcome.code == 0
    assert max(len(line) for line in outcome.out.splitlines()) <= 80
    assert FIGURES["pattern.gain_max_dbi"].text(document["pattern"]["gain_max_dbi"]) in text
    assert (
        f"bearing {DIRECTION_FIGURES['pattern.bearing_deg'].text(document['pattern']['bearing_deg'])}" in text
    )
    for key in ("ahead_db", "ahead_20deg_db"):
        decibels = document["dipole"][key]
        side = "above" if decibels > 0 else "below"
        assert f"{DIRECTION_FIGURES[f'dipole.{key}'].text(abs(decibels))} {side}" in text
    assert "Bearings" not in text
    assert "ring's plane at 30 and 210 deg true" in text


def test_table_has_the_gains_of_the_pattern(call, terrace):
    text = call("directions", terrace, "--band", "40m").out
    document = strict_json(call("directions", terrace, "--json", "--band", "40m").out)["bands"][0]
    head = next(line.split() for line in text.splitlines() if line.startswith("  up "))
    row = next(line.split() for line in text.splitlines() if line.startswith("  20 deg"))
    bearings = [int(word) for word in head[1:-1]]
    assert bearings == [30, 75, 120, 165, 210, 255, 300, 345]
    cut = document["azimuth_cut"]
    for bearing, gain in zip(bearings, row[2:-1], strict=True):
        at = int(np.argmin(np.abs(np.array(cut["bearing_deg"]) - bearing)))
        # Two decimals are printed.
        assert float(gain) == pytest.approx(cut["gain_dbi"][at], abs=0.006)
    assert float(row[-1]) == pytest.approx(document["dipole"]["gain_20deg_dbi"], abs=0.02)


def test_in_free_space_the_null_is_on_the_axis(call, octagon):
    octagon.write_text(octagon.read_text().replace('bands = ["60m", "40m", "30m"]', 'bands = ["60m"]'))
    found = strict_json(call("directions", octagon, "--json").out)["bands"][0]
    assert found["azimuth_cut"]["elevation_deg"] == 0.0
    assert [null["azimuth_deg"] for null in found["nulls"]] == pytest.approx([90.0, 270.0], abs=3.0)
    assert "nulls     at 0 deg elevation: bearing" in call("directions", octagon).out


def test_a_band_that_is_not_there_is_one_sentence(call, octagon):
    outcome = call("directions", octagon, "--band", "20m")
    assert outcome.code == 2
    assert '--band "20m" is not one of this design\'s: 60m, 40m, 30m' in outcome.sentence


def test_predict_as_if_the_metal_were_gone(call, terrace, tmp_path):
    bare = tmp_path / "bare.toml"
    bare.write_text(
        re.sub(r"\[\[site\.metal\]\].*?(?=\[\[site\.people)", "", terrace.read_text(), flags=re.DOTALL)
    )
    outcome = call("predict", terrace, "--without-metal", "--json")
    gone, without = strict_json(outcome.out), strict_json(call("predict", bare, "--json").out)
    assert gone["bands"] == without["bands"]
    assert gone["bands"][0]["watts_pct"]["metal"] is None
    assert gone["warnings"][0]["code"] == "metal-gone"
    assert "As if the metal nearby were gone." in outcome.err
    assert "As if the metal nearby were gone." in call("predict", terrace, "--without-metal").out
    with_metal = strict_json(call("predict", terrace, "--json").out)
    assert with_metal["bands"][0]["watts_pct"]["metal"] > 0.0
