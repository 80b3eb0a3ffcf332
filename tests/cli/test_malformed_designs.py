# SPDX-License-Identifier: BSD-3-Clause
"""Malformed designs at the command line: exit 2, one sentence on standard error, nothing on standard output."""

import os
import random

import pytest

from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text

GOOD = shipped_text(TERRACE_OCTAGON)
RING_SIZE, BANDS = 'perimeter = "4.4 m"', 'bands = ["60m", "40m", "30m"]'

# Text of the design, what stands there instead, what the sentence says.
CHANGED = {
    "wrong dimension": (RING_SIZE, 'perimeter = "4.4 MHz"', "ring.perimeter"),
    "no unit": (RING_SIZE, "perimeter = 4.4", "ring.perimeter: 4.4 has no unit"),
    "decimal comma": (RING_SIZE, 'perimeter = "4,4 m"', '"4.4 m"'),
    "not a number": (RING_SIZE, 'perimeter = "nan m"', "not a finite number"),
    "toml's own nan": ("q = 3000", "q = nan", "capacitor.q: nan"),
    "infinite": ("q = 3000", "q = inf", "capacitor.q: inf"),
    "negative size": (RING_SIZE, 'perimeter = "-4.4 m"', "at least 0.1 m"),
    "zero size": (RING_SIZE, 'perimeter = "0 m"', "at least 0.1 m"),
    "three gigahertz": (BANDS, 'tune_to = [{ frequency = "3 GHz" }]', "at most 54 MHz"),
    "below the bands": (BANDS, 'tune_to = [{ frequency = "472 kHz" }]', "at least 1.8 MHz"),
    "unknown band": (BANDS, 'bands = ["70m"]', '"70m"'),
    "no band": (BANDS, "bands = []", "bands"),
    "neither band nor frequency": (BANDS, "", "bands"),
    "misspelt key": ("perimeter =", "perimetre =", "did you mean ring.perimeter?"),
    "misspelt table": ("[capacitor]", "[capacitator]", "did you mean"),
    "misspelt shape": ('"octagon"', '"octogon"', 'did you mean "octagon"?'),
    "missing key": (RING_SIZE, "", "ring.perimeter is missing"),
    "missing table": ("[coupling]", "[couple]", "coupl"),
    "coupling loop across the ring": ('diameter = "0.19 m"', 'diameter = "1.6 m"', "coupling"),
    "a loop's keys with a tap": ('kind = "loop"', 'kind = "tapped"', "does not belong to kind"),
    "capacitor's minimum above its maximum": ('minimum = "8 pF"', 'minimum = "800 pF"', "capacitor.minimum"),
    "both quality and resistance": ("q = 3000", 'q = 3000\nesr = "20 mohm"', "leave one of them out"),
    "a wall that fills the tube": ('wall = "1 mm"', 'wall = "11 mm"', "ring.conductor.wall"),
    "milliwatts by case": ('power = "25 W"', 'power = "25 mw"', '"mW"'),
    "decibels for watts": ('power = "25 W"', 'power = "44 dBm"', "in watts"),
    "twice the same key": (RING_SIZE, f"{RING_SIZE}\n{RING_SIZE}", "not TOML"),
    "text where a table belongs": ("[drive]", "drive = 1\n[x]", "drive"),
    "another format": ("format = 1", "format = 2", "format"),
    "half a share too many": ("transmit_share = 0.5", "transmit_share = 1.5", "transmit_share"),
    "a person under the earth": ('at = ["0 m", "-4 m", "1.2 m"]', 'at = ["0 m", "-4 m", "-1 m"]', "people"),
    "a control character in the name": ('name = "Terrace octagon"', r'name = "a\u001b[31m"', "name"),
    "past the ring's own resonance": (
        BANDS,
        'bands = ["10m", "6m"]',
        "ring.perimeter of 4.4 m: the ring is past its own resonance",
    ),
}


@pytest.mark.parametrize("name", CHANGED)
def test_a_changed_line_is_refused_in_one_sentence(name, call, tmp_path):
    before, after, said = CHANGED[name]
    assert before in GOOD
    path = tmp_path / "ring.toml"
    path.write_text(GOOD.replace(before, after, 1), encoding="utf-8")
    outcome = call("predict", path)
    assert outcome.code == 2
    assert said in outcome.sentence
    assert str(path) in outcome.sentence


CONTENTS = {
    "empty": b"",
    "ten megabytes of noise": random.Random(1).randbytes(10_000_000),
    "a picture": b"\x89PNG\r\n\x1a\n" + bytes(100),
    "latin-1": 'format = 1\nname = "Mühle"'.encode("latin-1"),
    "utf-16": GOOD.encode("utf-16"),
    "json": b'{"format": 1}',
    "brackets": b"a = " + b"[" * 100_000,
    "half a file": GOOD.encode()[:300],
    "NUL": GOOD.encode().replace(b"octagon", b"octa\0gon", 1),
}


@pytest.mark.parametrize("name", CONTENTS)
def test_a_file_that_is_no_design_is_refused_in_one_sentence(name, call, tmp_path):
    path = tmp_path / "ring.toml"
    path.write_bytes(CONTENTS[name])
    outcome = call("predict", "--json", path)
    assert outcome.code == 2
    assert str(path) in outcome.sentence


def test_a_folder_is_refused(call, tmp_path):
    outcome = call("predict", tmp_path)
    assert outcome.code == 2
    assert "is a folder" in outcome.sentence


@pytest.mark.parametrize(
    "name", ["absent.toml", "absent/ring.toml", "x" * 5000, "new\nline.toml", "not utf-8 \udcff.toml"]
)
def test_a_path_that_is_absent_is_refused(name, call, tmp_path):
    outcome = call("predict", tmp_path / name)
    assert outcome.code == 2
    assert outcome.sentence


def test_a_file_in_place_of_a_folder_is_refused(call, octagon):
    outcome = call("predict", octagon / "ring.toml")
    assert outcome.code == 2
    assert outcome.sentence


def test_a_pipe_is_refused_and_not_waited_for(call, tmp_path):
    os.mkfifo(tmp_path / "pipe")
    outcome = call("predict", tmp_path / "pipe")
    assert outcome.code == 2
    assert "not a plain file" in outcome.sentence


def test_one_bad_design_among_good_ones_prints_nothing_of_the_good_ones(call, octagon, tmp_path):
    outcome = call("predict", octagon, tmp_path / "absent.toml")
    assert outcome.code == 2
    assert "absent.toml" in outcome.sentence
