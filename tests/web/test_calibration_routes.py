# SPDX-License-Identifier: BSD-3-Clause
"""Layers over HTTP: sweeps accepted, listed, laid over a draft where they are of that ring; refused in a sentence."""

import numpy as np
import pytest

from ringwright.antenna.design_file import read_calibration
from ringwright.web.messages.calibration import CalibrationKept, CalibrationList
from tests.web.test_live_prove import sent

RING = """\
format = 1
name = "Bench ring"
bands = ["40m"]
[ring]
perimeter = "3 m"
[ring.conductor]
kind = "tube"
diameter = "22 mm"
wall = "1 mm"
[coupling]
diameter = "0.18 m"
[coupling.conductor]
kind = "solid"
diameter = "6 mm"
material = "copper"
[capacitor]
kind = "air"
minimum = "10 pF"
maximum = "400 pF"
q = 1000
[site]
earth = "free space"
"""
DRAFT = {"base": {"text": RING}}
COUPLING = 0.8


def sweep_of(q):
    """A textbook resonator (D. Kajfez, Q Factor, 1994: the circle 1 - d/(1 + jx)) on 40 m."""
    q_loaded = q / (1.0 + COUPLING)
    f = 7.1e6 * (1.0 + np.linspace(-5.0, 5.0, 101) / q_loaded)
    circle = 1.0 - 2.0 * COUPLING / (1.0 + COUPLING) / (1.0 + 2j * q_loaded * (f / 7.1e6 - 1.0))
    rows = (f"{a:.1f} {b.real:.7f} {b.imag:.7f}" for a, b in zip(f, circle, strict=True))
    return sent(text="# Hz S RI R 50\n" + "\n".join(rows) + "\n")


@pytest.fixture
def client(server):
    with server.client() as client:
        yield client


def predicted(client, **base):
    answer = client.post("/api/v1/predict", json={"base": {"text": RING} | base})
    assert answer.status_code == 200, answer.text
    return answer.json()["prediction"]


def test_sweeps_are_accepted_listed_and_laid_over_a_draft(server, client):
    plain = predicted(client)
    q = plain["bands"][0]["q_unloaded"]
    answer = client.post(
        "/api/v1/calibrations", json=DRAFT | {"name": "as built", "sweeps": [sweep_of(0.9 * q)]}, timeout=60.0
    )
    assert answer.status_code == 200, answer.text
    kept = CalibrationKept.model_validate_json(answer.text)
    assert (kept.name, kept.file) == ("as built", "calibrations/as built.toml")
    assert [moved.key for moved in kept.inputs] == ["capacitor_q", "joint_resistance"]
    assert kept.inputs[0].shift < 0.0
    (band,) = kept.bands
    assert band.q_unloaded[1] - band.q_unloaded[0] < 0.5 * (
        band.q_unloaded_before[1] - band.q_unloaded_before[0]
    )
    layer = read_calibration(server.desk.folder.workspace / kept.file)
    assert (layer.name, [sweep.file for sweep in layer.sweeps]) == ("as built", ["40m.s1p"])
    (entry,) = CalibrationList.model_validate_json(client.get("/api/v1/calibrations").text).calibrations
    assert (entry.name, entry.design, entry.sweeps) == ("as built", "Bench ring", ["40m.s1p"])
    laid = predicted(client, calibration="as built")
    assert (plain["calibration"], laid["calibration"]) == (None, "as built")
    assert laid["bands"][0]["q_unloaded"] == pytest.approx(0.9 * q, rel=0.02, abs=0)
    # Another ring, a layer that is gone: as declared, and the prediction says so.
    other = predicted(client, text=RING.replace("q = 1000", "q = 900"), calibration="as built")
    assert other["calibration"] is None
    assert predicted(client, calibration="gone")["calibration"] is None
    again = client.post("/api/v1/calibrations", json=DRAFT | {"name": "as built", "sweeps": [sweep_of(q)]})
    assert again.status_code == 422
    assert "there is a calibration of that name" in again.json()["text"]


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"sweeps": [sweep_of(100.0)]}, "beyond what the design's tolerances allow"),
        ({"sweeps": [sent(text="nonsense")]}, "nothing was accepted: 40m.s1p:1:"),
        ({"name": "con"}, "cannot be a calibration's name"),
        ({"name": "../up"}, "name"),
    ],
)
def test_what_cannot_be_accepted_is_refused_and_writes_nothing(server, client, changed, sentence):
    body = DRAFT | {"name": "x", "sweeps": [sweep_of(800.0)]} | changed
    answer = client.post("/api/v1/calibrations", json=body, timeout=60.0)
    assert answer.status_code == 422
    assert sentence in answer.json()["text"]
    assert not (server.desk.folder.workspace / "calibrations").exists()
