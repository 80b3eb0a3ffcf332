# SPDX-License-Identifier: BSD-3-Clause
"""The build as a document: finite numbers, SI in the names, every figure in the table of figures."""

import json
import math
import re
from pathlib import Path

import pytest

from ringwright.antenna.figures import to_json
from ringwright.antenna.scenario import FIRST_RING, shipped_text
from ringwright.sheet.build_document import build_document
from ringwright.sheet.drawings import drawings
from ringwright.sheet.figures import BUILD_FIGURES

INPUTS = {
    "cuts.stock_m", "cuts.lengths", "cuts.pieces.count", "cuts.pieces.angles_deg", "cuts.coupling.count",
    "cuts.coupling.axis_m", "cuts.coupling.cut_m", "cuts.coupling.angles_deg", "cuts.corners.turns_by_deg",
    "cuts.corners.count", "stand.feet", "stand.foot_circle_m", "stand.floor_m", "stand.mast_diameter_m",
    "warmth.frequency_hz", "clearance.box_m", "parts.price", "parts.cost",
}  # fmt: skip
"""Counts, angles and what the design itself states, which need no figure of their own."""


def numbers(value, path=""):
    if isinstance(value, bool):
        return
    if isinstance(value, int | float):
        yield path, value
    elif isinstance(value, dict):
        for key, each in value.items():
            yield from numbers(each, f"{path}.{key}".lstrip("."))
    elif isinstance(value, list):
        for each in value:
            yield from numbers(each, path)


def test_every_number_is_a_figure_or_an_input(octagon, circle):
    for build in (octagon, circle):
        document = build_document(build)
        document.pop("bands")
        document.pop("total")
        found = dict(numbers(document))
        assert all(math.isfinite(value) for value in found.values())
        assert found.keys() - BUILD_FIGURES.keys() - INPUTS == set()
    # Null here: a ring that never gets warm enough has no such time.
    assert BUILD_FIGURES.keys() - dict(numbers(build_document(circle))).keys() == {"warmth.time_to_drift_s"}


def test_it_is_one_json_document_with_predicts_bands_in_it(octagon):
    document = json.loads(json.dumps(build_document(octagon), allow_nan=False))
    assert document["schema"] == "ringwright.build/1"
    assert document["bands"] == json.loads(json.dumps(to_json(octagon.prediction)["bands"]))
    assert document["cuts"]["pieces"][0]["count"] == 7
    assert [test["title"] for test in document["tests"]][:2] == [
        "Continuity, nothing connected",
        "Insulation and clearance",
    ]
    assert not document["stand"]["is_assumed"]
    assert document["standing"]["holds"]
    assert any(line.startswith("ballast, 75.0 kg") for line in document["pack"])


def test_tests_go_from_the_bench_to_full_power(octagon):
    titles = [test["title"] for test in build_document(octagon)["tests"]]
    # 25 W: no step of 30 W before the whole power.
    assert titles == [
        "Continuity, nothing connected", "Insulation and clearance", "Resonance with the meter", "Q and width",
        "5 W, ten seconds", "Full power: 25 W",
    ]  # fmt: skip


def test_voltage_at_five_watts_goes_with_the_root(octagon):
    (test,) = (each for each in build_document(octagon)["tests"] if each["title"].startswith("5 W"))
    (band,) = octagon.prediction.bands
    volts = band.tuning.capacitor_voltage_peak * math.sqrt(5.0 / 25.0)
    assert f"{volts / 1e3:.3g} kV" in test["expect"][0]


@pytest.mark.parametrize("which", ["octagon", "circle"])
def test_drawings_have_sizes_titles_and_finite_places(which, request):
    for name, sketch in drawings(request.getfixturevalue(which)).items():
        svg = sketch.svg()
        assert f'width="{sketch.width:g}mm"' in svg, name
        assert "nan" not in svg
        assert "<title>" in svg


def test_the_example_of_the_reference_runs(tmp_path, monkeypatch, capsys):
    page = (Path(__file__).parents[2] / "docs" / "reference" / "build.md").read_text(encoding="utf-8")
    (tmp_path / "designs").mkdir()
    (tmp_path / "designs" / FIRST_RING).write_text(shipped_text(FIRST_RING), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    (block,) = re.findall(r"```python\n(.*?)```", page, re.DOTALL)
    exec(block, {})
    mass, size = map(float, capsys.readouterr().out.split())
    # 3.2 m of 15 mm x 1 mm tube, 0.3932 kg/m (EN 1057).
    assert mass == pytest.approx(3.2 * 0.3932, rel=1e-3, abs=0)
    assert size > 10_000


def test_the_reference_names_every_key(octagon):
    page = (Path(__file__).parents[2] / "docs" / "reference" / "build.md").read_text(encoding="utf-8")
    document = build_document(octagon)
    document.pop("bands")
    keys = {key.rpartition(".")[2] for key, _ in numbers(document)} | set(document)
    assert {key for key in keys if f"`{key}`" not in page and f'"{key}"' not in page and key.isidentifier()} <= {
        "frequency_hz", "EUR",
    }  # fmt: skip
