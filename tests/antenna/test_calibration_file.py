# SPDX-License-Identifier: BSD-3-Clause
"""The layer file: there and back, what it holds for, and one sentence for whatever is wrong with it."""

import re
import tomllib
from pathlib import Path

import pytest

from ringwright import Design
from ringwright.antenna.calibration import calibrated
from ringwright.antenna.design_file import (
    build_checksum,
    calibration_text,
    lay_over,
    parse_calibration,
    parse_design,
    read_calibration,
    text_checksum,
)
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from ringwright.errors import CalibrationError
from tests.antenna.layers import TIED, layer

TEXT = shipped_text(TERRACE_OCTAGON)
KNOWN = layer(
    shift=(-0.25, 0.125, 0.5, -0.0625),
    spread=(0.125, 0.25, 0.5, 0.375),
    correlation=TIED,
    text_sha256=text_checksum(TEXT),
    build_sha256=build_checksum(TEXT),
)


def test_what_is_written_is_read_again():
    assert parse_calibration(calibration_text(KNOWN), source="x.toml") == KNOWN


def test_a_name_of_any_characters_survives():
    odd = layer(name='a "b" \\ c', spread=(0.25, 0, 0, 0))
    assert parse_calibration(calibration_text(odd), source="x.toml") == odd


def test_an_input_that_is_certain_and_stays_is_left_out():
    text = calibration_text(layer(shift=(0.5, 0, 0, 0), spread=(0.25, 0, 0, 0)))
    assert list(tomllib.loads(text)["inputs"]) == ["capacitor_q"]
    assert parse_calibration(text, source="x.toml").shift == (0.5, 0.0, 0.0, 0.0)


def test_the_file_is_toml_with_a_word_on_everything():
    text = calibration_text(KNOWN)
    tables = tomllib.loads(text)
    assert tables["format"] == 1
    assert tables["correlation"]["capacitor_q"]["joint_resistance"] == 0.6
    assert "0.779 times the declared" in text  # exp(-0.25)
    assert max(len(line) for line in text.splitlines()) <= 120


def test_a_design_is_loaded_with_its_layer_and_its_file_stays(tmp_path):
    design, laid = tmp_path / "ring.toml", tmp_path / "layer.toml"
    design.write_text(TEXT, encoding="utf-8")
    laid.write_text(calibration_text(KNOWN), encoding="utf-8")
    found = Design.load(design, calibration=laid)
    assert found == calibrated(parse_design(TEXT, source="x"), KNOWN)
    assert design.read_text(encoding="utf-8") == TEXT


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('power = "25 W"', 'power = "50 W"  # more'),
        ('bands = ["60m", "40m", "30m"]', 'bands = ["60m", "30m"]'),
        ("[ring]", "# a comment\n\n[ring]"),
        ('diameter = "0.19 m"', 'diameter = "0.17 m"'),
    ],
)
def test_a_layer_outlives_what_it_does_not_depend_on(old, new):
    assert old in TEXT
    changed = TEXT.replace(old, new, 1)
    laid = lay_over(changed, KNOWN, source="d.toml", layer_source="l.toml").calibration
    assert laid is not None
    assert laid.layer == KNOWN


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('perimeter = "4.4 m"', 'perimeter = "4.5 m"'),
        ("q = 3000", "q = 2500"),
        ('height = "1.8 m"', 'height = "2.8 m"'),
        ('earth = "average"', 'earth = "poor"'),
        ("capacitor_q = 0.3", "capacitor_q = 0.2"),
    ],
)
def test_a_layer_of_another_ring_is_refused_in_one_sentence(old, new):
    changed = TEXT.replace(old, new, 1) if old in TEXT else TEXT + f"\n[tolerance]\n{new}\n"
    assert changed != TEXT
    with pytest.raises(
        CalibrationError, match=r"^l\.toml: this calibration is of another ring than d\.toml"
    ) as refused:
        lay_over(changed, KNOWN, source="d.toml", layer_source="l.toml")
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        ("format = 1", "format = 2", "format: 2 is the format of a newer program; update this one"),
        ("accepted = 2026-06-01T12:30:00Z", "accepted = 2026-06-01", "accepted: .* is no moment"),
        ("shift = -0.250000", 'shift = "less"', 'inputs.capacitor_q.shift: "less" must be a bare number'),
        (
            "standard_deviation = 0.125000",
            "standard_deviation = -1.0",
            "inputs.capacitor_q.standard_deviation: ",
        ),
        ("standard_deviation = 0.125000", "", "inputs.capacitor_q.standard_deviation is missing"),
        (
            "[inputs.capacitor_q]",
            "[inputs.capacitor_qq]",
            'capacitor_qq" is not a known key; did you mean capacitor_q',
        ),
        (
            "joint_resistance = 0.600000",
            "joint_resistance = 1.5",
            "correlation.capacitor_q.joint_resistance: ",
        ),
        (
            "joint_resistance = 0.600000",
            "joint_resistance = 0.999",
            "the correlations of a calibration contradict",
        ),
        ("a" * 64, "a" * 63, "sweeps.1.sha256: .* is no SHA-256 checksum"),
        ("[[sweeps]]", "[sweeps]", "sweeps = .* is not what belongs here"),
        ("[design]", "[[[", "this is not TOML"),
    ],
)
def test_a_damaged_file_gets_one_sentence(old, new, sentence):
    text = calibration_text(KNOWN)
    assert old in text
    with pytest.raises(CalibrationError, match=f"^x.toml: .*{sentence}") as refused:
        parse_calibration(text.replace(old, new, 1), source="x.toml")
    assert "\n" not in str(refused.value)


def test_the_reference_shows_a_file_that_is_read():
    page = Path("docs/reference/calibration-file.md").read_text(encoding="utf-8")
    (shown,) = re.findall(r"^```toml\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)
    found = parse_calibration(shown, source="reference")
    assert (found.name, found.shift[0], found.correlation[1][0]) == ("after-cure", -0.216, 0.102)


def test_a_file_that_is_not_there_is_named(tmp_path):
    with pytest.raises(CalibrationError, match=r"layer\.toml: there is no such file"):
        read_calibration(tmp_path / "layer.toml")
    with pytest.raises(CalibrationError, match="is a folder; name a calibration file"):
        read_calibration(tmp_path)
