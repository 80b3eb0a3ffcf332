# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright prove`: the contract's document, the words, and one sentence for whatever cannot be read.

The sweeps are of a resonator in the form of the textbooks (D. Kajfez; A. P. Gregory, NPL Report MAT 58, 2021), whose Q
and coupling are chosen here, not of the program's own ring.
"""

import json
import math
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import entropy

from ringwright.cli.proof_report import next_words
from ringwright.cli.terminal import Terminal
from ringwright.proof.diagnosis import Suspect
from ringwright.proof.estimate import Estimate
from ringwright.proof.next_measurement import TELLS, NextMeasurement
from ringwright.proof.suspects import Cause
from ringwright.proof.verdict import gain_words

FIGURES = (
    "frequency_hz",
    "q_unloaded",
    "q_loaded",
    "coupling",
    "swr_min",
    "bandwidth_half_power_hz",
    "resistance_total_ohm",
    "efficiency_pct",
)
Q0, COUPLING = 640.0, 0.8


def reflection(frequency, *, at, q0=Q0, coupling=COUPLING):
    """(k - 1 - 2j Q0 t)/(k + 1 + 2j Q0 t), t = (f - at)/at."""
    t = (frequency - at) / at
    return (coupling - 1.0 - 2j * q0 * t) / (coupling + 1.0 + 2j * q0 * t)


def touchstone(path: Path, *, at: float, noise: float = 1e-3, seed: int = 5) -> Path:
    """A sweep of five widths on either side through no cable."""
    f = at + np.linspace(-5.0, 5.0, 161) * at * (1.0 + COUPLING) / Q0
    rng = np.random.default_rng(seed)
    g = reflection(f, at=at) + noise * (rng.standard_normal(161) + 1j * rng.standard_normal(161))
    rows = [f"{one:.1f} {value.real:.6f} {value.imag:.6f}" for one, value in zip(f, g, strict=True)]
    path.write_text("\n".join(["# Hz S RI R 50", *rows, ""]), encoding="ascii")
    return path


def test_the_document_is_the_contracts(call, octagon, tmp_path):
    sweeps = [touchstone(tmp_path / f"{at:.0f}.s1p", at=at) for at in (7.09e6, 10.12e6)]
    answer = call("prove", octagon, *sweeps, "--json")
    assert answer.code == 0
    document = json.loads(answer.out)
    assert document["schema"] == "ringwright.proof/1"
    assert [sweep["file"] for sweep in document["sweeps"]] == [str(path) for path in sweeps]
    for sweep, at in zip(document["sweeps"], (7.09e6, 10.12e6), strict=True):
        assert set(FIGURES) <= set(sweep)
        for key in FIGURES:
            assert sweep[f"{key}_low"] <= sweep[key] <= sweep[f"{key}_high"]
        assert sweep["frequency_hz"] == pytest.approx(at, rel=1e-5, abs=0)
        assert sweep["q_unloaded"] == pytest.approx(Q0, rel=3e-2, abs=0)
        assert sweep["coupling"] == pytest.approx(COUPLING, rel=5e-2, abs=0)
        # SWR of an under-coupled resonator is 1/k (Kajfez).
        assert sweep["swr_min"] == pytest.approx(1.0 / COUPLING, rel=2e-2, abs=0)
        assert sweep["q_unloaded"] == pytest.approx(
            sweep["q_loaded"] * (1.0 + sweep["coupling"]), rel=1e-9, abs=0
        )
    suspects = document["diagnosis"]
    assert {suspect["cause"] for suspect in suspects} == {cause.value for cause in Cause}
    assert math.fsum(suspect["probability"] for suspect in suspects) == pytest.approx(1.0, rel=1e-9, abs=0)
    assert [s["probability"] for s in suspects] == sorted((s["probability"] for s in suspects), reverse=True)
    following = document["next_measurement"]
    assert following["do"]
    assert following["expected_information_bits"] >= 0.0
    assert len(following["separates"]) == 2


def test_readings_from_a_meter_are_enough(call, octagon):
    f = 7.09e6 + np.linspace(-12e3, 12e3, 9)
    size = abs(reflection(f, at=7.09e6))
    text = "; ".join(f"{one / 1e6:.4f} MHz {(1 + g) / (1 - g):.2f}" for one, g in zip(f, size, strict=True))
    answer = call("prove", octagon, "--swr", text)
    assert answer.code == 0
    assert "40m" in answer.out
    assert "readings 1" in answer.out


def test_a_measurement_that_tells_nothing_is_not_offered():
    offered = [
        NextMeasurement(
            do=f"Sweep {bits}.", separates=(Cause.JOINTS, Cause.NONE), expected_information_bits=bits
        )
        for bits in (0.3, 0.1, 0.04)
    ]
    terminal = Terminal.of_stdout()
    said = " ".join(next_words(offered, terminal))
    assert "Sweep 0.3." in said
    assert "Sweep 0.1." in said
    assert "0.04" not in " ".join(next_words(offered[1:], terminal))
    said = " ".join(" ".join(next_words(offered[2:], terminal)).split())
    assert said.startswith("next Another sweep would tell hardly more: at most 0.04 bits")


def test_what_is_advised_turns_two_equals_at_least_into_two_to_one():
    # Capacity of a binary symmetric channel, Cover and Thomas, 2nd ed., sec. 7.1.4: 1 - H(p).
    assert 1.0 - entropy([1 / 3, 2 / 3], base=2) < TELLS < 1.0 - entropy([0.3, 0.7], base=2)


@pytest.mark.parametrize(
    ("gain", "cause", "said"),
    [
        ((-0.1, -0.8, 0.0), Cause.EARTH, "the declared earth costs 0.1 dB (0.0 to 0.8) on 7.1 MHz"),
        ((1.8, 1.1, 2.5), Cause.JOINTS, "mending it brings 1.8 dB (1.1 to 2.5) on 7.1 MHz"),
        ((0.01, -0.04, 0.04), Cause.COUPLING, "mending it changes less than 0.1 dB on 7.1 MHz"),
        (
            (-1.1, -4.4, 6.2),
            Cause.METAL,
            "taking it away may cost 4.4 dB or bring 6.2 dB on 7.1 MHz: sweeps tell",
        ),
    ],
)
def test_a_gain_says_in_words_which_way_it_goes(gain, cause, said):
    value, low, high = gain
    suspect = Suspect(
        cause=cause, probability=0.8, resistance=Estimate.exact(0.01), at_frequency=7.1e6,
        gain_db=Estimate(value=value, low=low, high=high), gain_frequency=7.1e6, gains_db=(value,), size=None,
    )  # fmt: skip
    assert gain_words(suspect).startswith(said)


def test_people_read_what_was_found_and_what_to_do(call, octagon, tmp_path):
    answer = call("prove", octagon, touchstone(tmp_path / "a.s1p", at=7.09e6))
    assert answer.code == 0
    for words in ("Q ", "predicted", "What explains", "next", "transmitter off"):
        assert words in answer.out
    assert max(len(line) for line in answer.out.splitlines()) <= 80


def test_a_table_is_read_by_the_columns_that_are_named(call, octagon, tmp_path):
    f = 7.09e6 + np.linspace(-60e3, 60e3, 121)
    g = abs(reflection(f, at=7.09e6))
    rows = [f"{one / 1e3:.3f},x,{(1 + r) / (1 - r):.4f}" for one, r in zip(f, g, strict=True)]
    table = tmp_path / "a.csv"
    table.write_text("\n".join(["where,what,how much", *rows]), encoding="ascii")
    arguments = ("--column", "frequency=1", "--column", "swr=how much", "--frequency-unit", "kHz")
    answer = call("prove", octagon, table, *arguments, "--json")
    assert answer.code == 0
    assert json.loads(answer.out)["sweeps"][0]["kind"] == "swr"


@pytest.mark.parametrize(
    ("content", "name", "said"),
    [
        (b"# Hz S RI R 50\n7e6 0.5 zero\n", "a.s1p", "a.s1p"),
        (b"", "b.s1p", "b.s1p"),
        (b"\x80\x04\x95pickle", "c.s1p", "c.s1p"),
        (b"# Hz S RI R 50\n7e6 0.5 0\n7.1e6 0.5 0\n", "d.s1p", "d.s1p"),
        (b"frequency MHz,swr\n7.0,1.5\n7.0,1.6\n", "e.csv", "twice"),
    ],
)
def test_what_cannot_be_read_gets_one_sentence(call, octagon, tmp_path, content, name, said):
    path = tmp_path / name
    path.write_bytes(content)
    answer = call("prove", octagon, path)
    assert answer.code == 2
    assert answer.out == ""
    assert said in answer.err
    assert len(answer.err.strip().splitlines()) == 1


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((), "no sweep is named"),
        (("missing.s1p",), "missing.s1p"),
        (("--swr", "7.1 MHz"), "7.050 MHz 1.8"),
        (("--swr", "7.1 MHz 1.5", "--column", "colour=3"), "frequency"),
    ],
)
def test_bad_input_says_what_to_write(call, octagon, arguments, said):
    answer = call("prove", octagon, *arguments)
    assert answer.code == 2
    assert said in answer.err


def test_a_resonance_of_no_band_is_refused(call, octagon, tmp_path):
    far = touchstone(tmp_path / "far.s1p", at=21.2e6)
    alone = call("prove", octagon, far)
    among = call("prove", octagon, touchstone(tmp_path / "good.s1p", at=7.09e6), far)
    for answer in (alone, among):
        assert (answer.code, answer.out) == (2, "")
        assert "far.s1p" in answer.err
    hint = "; leave it out to hear of the others"
    assert hint not in alone.err
    assert among.err.strip().endswith(hint)


def test_a_workspace_keeps_the_sweeps_and_keeps_each_once(call, octagon, tmp_path):
    workspace = tmp_path / "terrace"
    assert call("new", workspace).code == 0
    design = workspace / "designs" / "octagon.toml"
    design.write_text(octagon.read_text(encoding="utf-8"), encoding="utf-8")
    sweep = touchstone(tmp_path / "a.s1p", at=7.09e6)
    answer = call("prove", design, sweep, "--json")
    assert "1 sweep recorded" in answer.err
    json.loads(answer.out)
    assert "recorded" not in call("prove", design, sweep, "--json").err
    listed = json.loads(call("record", "list", workspace, "--json").out)
    assert [entry["band"] for entry in listed["sweeps"]] == ["40m"]
    assert "recorded" not in call("prove", octagon, sweep, "--json").err


def test_a_damaged_record_costs_no_answer(call, octagon, tmp_path):
    workspace = tmp_path / "terrace"
    call("new", workspace)
    design = workspace / "designs" / "octagon.toml"
    design.write_text(octagon.read_text(encoding="utf-8"), encoding="utf-8")
    (workspace / "records.sqlite").write_bytes(b"no database at all" * 100)
    answer = call("prove", design, touchstone(tmp_path / "a.s1p", at=7.09e6), "--json")
    assert answer.code == 3
    assert json.loads(answer.out)["sweeps"]
    assert "records.sqlite" in answer.err
