# SPDX-License-Identifier: BSD-3-Clause
"""`prove --accept` and `--calibration`: what was measured laid over the design, and one sentence where it cannot be."""

import hashlib
import json
import shutil
from pathlib import Path

import numpy as np
import pytest

from ringwright.antenna.design_file import parse_design, read_calibration
from ringwright.antenna.predict import predict
from ringwright.cli.program import run
from tests.antenna.ranges.uncertain import moved
from tests.proof.planted import predicted_sweep

RING = """\
format = 1
name = "Bench ring"
bands = ["40m", "30m"]
power = "20 W"
[ring]
perimeter = "3 m"
joints = 4
joint_resistance = "2 mohm"
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
rated_voltage = "4 kV"
[site]
earth = "free space"
"""


def write_sweep(path: Path, band, *, seed: int = 3) -> Path:
    sweep = predicted_sweep(band.point)
    noise = np.random.default_rng(seed).normal(0.0, 2e-3, (2, len(sweep.frequency)))
    seen = sweep.response + noise[0] + 1j * noise[1]
    rows = [f"{f:.1f} {g.real:.6f} {g.imag:.6f}" for f, g in zip(sweep.frequency, seen, strict=True)]
    path.write_text("\n".join(["# Hz S RI R 50", *rows, ""]), encoding="ascii")
    return path


@pytest.fixture(scope="module")
def truth():
    """A ring within the tolerances: a capacitor worse by one standard deviation, joints by half of one."""
    return predict(moved(parse_design(RING, source="ring.toml"), q=-1.0, joint=0.5))


@pytest.fixture(scope="module")
def accepted(tmp_path_factory, truth):
    """A workspace where the sweep of 40 m was accepted, and what was said."""
    workspace = tmp_path_factory.mktemp("terrace")
    for name in ("designs", "sweeps", "sheets"):
        (workspace / name).mkdir()
    design = workspace / "designs" / "ring.toml"
    design.write_text(RING, encoding="utf-8")
    write_sweep(workspace / "40m.s1p", truth.bands[0])
    arguments = ("prove", design, workspace / "40m.s1p", "--accept", "bench")
    return workspace, [str(each) for each in arguments]


@pytest.fixture(scope="module")
def said(accepted):
    """Run once; what it printed goes to the terminal's own capture."""
    import contextlib
    import io

    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = run(accepted[1])
    assert code == 0, err.getvalue()
    return out.getvalue()


@pytest.fixture
def workspace(accepted, said, tmp_path):
    """A copy that a test may spoil."""
    return Path(shutil.copytree(accepted[0], tmp_path / "ws"))


def test_accepting_writes_a_layer_and_leaves_the_design_alone(accepted, said):
    workspace, _ = accepted
    layer = read_calibration(workspace / "calibrations" / "bench.toml")
    assert (workspace / "designs" / "ring.toml").read_text(encoding="utf-8") == RING
    assert layer.text_sha256 == hashlib.sha256(RING.encode()).hexdigest()
    (sweep,) = layer.sweeps
    assert sweep.sha256 == hashlib.sha256((workspace / "40m.s1p").read_bytes()).hexdigest()
    assert sweep.file == "40m.s1p"
    assert layer.shift[0] < -0.1
    assert layer.correlation[0][1] > 0.1
    assert [each.name for each in (workspace / "calibrations").iterdir()] == ["bench.toml"]


def test_it_tells_what_moved_and_what_got_narrower(said):
    told = said[said.index("Accepted as bench") :]
    for words in (
        "capacitor's Q",
        "1000 ->",
        "each joint",
        "2.00 mohm ->",
        "40m",
        "30m",
        "into the sky",
        "was",
    ):
        assert words in told
    assert "earth" not in told
    assert "calibrations/bench.toml" in told.replace("\n  ", "").replace(" ", "").replace("\\", "/")


def test_the_prediction_moves_to_what_was_measured_and_narrows(call, workspace, truth):
    design = workspace / "designs" / "ring.toml"
    plain, laid = (
        json.loads(call("predict", design, "--json", *more).out) for more in ((), ("--calibration", "bench"))
    )
    assert (plain["calibration"], laid["calibration"]) == (None, "bench")
    for before, after, true in zip(plain["bands"], laid["bands"], truth.bands, strict=True):
        (a, b), (c, d) = before["range"]["q_unloaded"], after["range"]["q_unloaded"]
        assert np.log(d / c) < 0.5 * np.log(b / a)
        assert c < true.q_unloaded < d
        assert abs(after["q_unloaded"] - true.q_unloaded) < 0.3 * abs(before["q_unloaded"] - true.q_unloaded)
        assert after["limits"]["power_max_w"] <= before["limits"]["power_max_w"]


def test_people_are_told_that_a_layer_is_on(call, workspace):
    answer = call("predict", workspace / "designs" / "ring.toml", "--calibration", "bench")
    assert answer.code == 0
    assert "Calibrated by bench, accepted 20" in answer.out
    assert "rings that fit its sweeps" in answer.out.replace("\n", " ")


def test_a_path_does_as_well_as_a_name(call, workspace):
    there = workspace / "elsewhere.toml"
    (workspace / "calibrations" / "bench.toml").rename(there)
    answer = call("predict", workspace / "designs" / "ring.toml", "--calibration", there, "--json")
    assert json.loads(answer.out)["calibration"] == "bench"


def test_match_and_keepout_take_a_layer(call, workspace):
    design = workspace / "designs" / "ring.toml"
    kept, kept_plain = (
        json.loads(call("keepout", design, "--json", *more).out) for more in (("--calibration", "bench"), ())
    )
    assert (kept["calibration"], kept_plain["calibration"]) == ("bench", None)
    for band, plain in zip(kept["bands"], kept_plain["bands"], strict=True):
        for row, other in zip(band["by_limit"], plain["by_limit"], strict=True):
            assert row["distance_advised_m"] >= other["distance_advised_m"]
    assert json.loads(call("match", design, "--json", "--calibration", "bench").out)["calibration"] == "bench"


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("bench", "there is a calibration of that name; choose another, or remove that first"),
        ("a/b", '"a/b" cannot be a calibration\'s name'),
        ("x.toml", '"x.toml" cannot be a calibration\'s name'),
        ("con", '"con" cannot be a calibration\'s name'),
    ],
)
def test_a_name_that_cannot_be_taken_is_refused_before_anything_is_computed(call, workspace, name, sentence):
    answer = call("prove", workspace / "designs" / "ring.toml", workspace / "40m.s1p", "--accept", name)
    assert answer.code == 2
    assert sentence in answer.sentence


def test_a_layer_that_is_not_there_is_refused_with_those_that_are(call, workspace):
    answer = call("predict", workspace / "designs" / "ring.toml", "--calibration", "attic")
    assert answer.code == 2
    assert answer.sentence.endswith("there is no calibration of that name; those of this design are: bench")


def test_a_layer_of_another_ring_is_refused(call, workspace):
    design = workspace / "designs" / "ring.toml"
    design.write_text(RING.replace("q = 1000", "q = 900"), encoding="utf-8")
    answer = call("predict", design, "--calibration", "bench")
    assert answer.code == 2
    assert "is of another ring" in answer.sentence


def test_sweeps_of_a_faulty_ring_are_not_accepted(call, workspace):
    """Readings of an eighth of the Q: far beyond the tolerances."""
    f = 7.1e6 + np.linspace(-0.3e6, 0.3e6, 25)
    t = (f - 7.1e6) / 7.1e6
    size = abs((0.8 - 1.0 - 2j * 60.0 * t) / (0.8 + 1.0 + 2j * 60.0 * t))
    typed = "; ".join(f"{one / 1e6:.5f} MHz {(1 + g) / (1 - g):.3f}" for one, g in zip(f, size, strict=True))
    answer = call(
        "prove", workspace / "designs" / "ring.toml", "--swr", typed, "--accept", "faulty", "--json"
    )
    assert answer.code == 1
    assert "not accepted: these sweeps lie beyond" in answer.err
    assert json.loads(answer.out)["calibration"] is None
    assert not (workspace / "calibrations" / "faulty.toml").exists()
