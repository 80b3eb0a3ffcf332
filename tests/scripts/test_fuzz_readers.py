# SPDX-License-Identifier: BSD-3-Clause
"""The fuzzer's targets without the fuzzer: seeds are read, changes keep what they must, a broken reader is a find.

`make fuzz` runs them by coverage, ten minutes each; `FOUND` is what it found, each input as short as it could be made.
"""

import random
import shutil
from importlib import import_module

import pytest

from ringwright.air import adif, table
from ringwright.errors import RingwrightError
from ringwright.tuner import messages_text
from ringwright.tuner.line_check import is_whole
from scripts.fuzz_readers.__main__ import Told, found_in, hear
from scripts.fuzz_readers.catalogue import COUNTED, HOMES
from scripts.fuzz_readers.mutations import changed
from scripts.fuzz_readers.reader import FoundError, look

IN_PROCESS = [name for name, home in HOMES.items() if home != "web"]
"""The web's take seconds to begin; `make fuzz` runs them, and tests/web/test_fuzz.py sends requests to a server."""


def reader(name):
    module = import_module(f"scripts.fuzz_readers.{HOMES[name]}")
    return next(each for each in module.READERS if each.name == name)


def look_at_all(target, inputs):
    for each in inputs:
        look(target, each)


@pytest.fixture(scope="module", autouse=True)
def no_folder_is_left():
    yield
    shutil.rmtree(import_module("scripts.fuzz_readers.kept").own_folder(), ignore_errors=True)


@pytest.mark.parametrize("name", IN_PROCESS)
def test_seeds_and_a_few_changes_of_them_are_read_or_refused_in_a_sentence(name):
    target = reader(name)
    for seed in target.seeds:
        look(target, seed)
    rng = random.Random(5)
    for _ in range(25):
        look(target, changed(target, rng.choice(target.seeds), rng))


@pytest.mark.parametrize("name", IN_PROCESS)
def test_the_first_seed_is_a_good_one(name):
    target = reader(name)
    target.read(target.seeds[0])


def test_every_module_says_what_it_counts():
    assert set(COUNTED) == set(HOMES.values())


def test_half_of_the_changed_lines_of_the_link_have_the_right_check_sum():
    target, rng = reader("orders"), random.Random(2)
    lines = [changed(target, target.seeds[2], rng).decode(errors="replace") for _ in range(400)]
    altered = [line for line in lines if line.encode() != target.seeds[2] and "\n" not in line]
    share = sum(map(is_whole, altered)) / len(altered)
    assert 0.3 < share < 0.8


@pytest.mark.parametrize(
    ("name", "module", "function", "broken"),
    [
        ("adif", adif, "report_of", lambda fields: fields["CALL"]),  # a KeyError where there is none
        ("orders", messages_text, "_whole", lambda fields, key, low, high: int(fields[key]) % 100),
    ],
)
def test_a_reader_that_is_broken_on_purpose_is_found_out(monkeypatch, name, module, function, broken):
    target, rng = reader(name), random.Random(3)
    monkeypatch.setattr(module, function, broken)
    inputs = [*target.seeds, *(changed(target, rng.choice(target.seeds), rng) for _ in range(300))]
    with pytest.raises((LookupError, ValueError, FoundError)) as caught:
        look_at_all(target, inputs)
    assert not isinstance(caught.value, RingwrightError)


def test_a_row_that_is_lost_is_a_find(monkeypatch):
    whole, target = table._rows, reader("reports")
    monkeypatch.setattr(table, "_rows", lambda *given, **named: iter([*whole(*given, **named)][1:]))
    with pytest.raises(FoundError, match="3 rows, 2 read"):
        look(target, target.seeds[0])


@pytest.mark.parametrize("text", ["", "two\nlines", "x" * 700, "a bell\x07"])
def test_a_refusal_that_nobody_can_read_is_a_find(monkeypatch, text):
    def refuse(fields):
        return text

    monkeypatch.setattr(adif, "report_of", refuse)
    target = reader("adif")
    with pytest.raises(FoundError, match="no sentence"):
        look(target, target.seeds[0])


def test_what_a_process_says_is_understood():
    told = Told("design")
    for line in (
        "#12\tINITED cov: 5 ft: 9 corp: 3/9b exec/s: 0\n",
        "#90\tNEW    cov: 7 ft: 12 corp: 8/40b lim: 4\n",
    ):
        hear(told, line)
    assert (told.runs, told.edges, told.kept - told.first_kept) == (90, 7, 5)
    assert told.line.endswith("no find")
    last = [
        "Traceback",
        "ringwright.x.Error: no",
        "KeyError: 'CALL'",
        "==1== ERROR: libFuzzer: fuzz target exited",
    ]
    assert found_in(last, 77) == "KeyError: 'CALL'"
    assert (
        found_in(["==1== ERROR: libFuzzer: timeout after 30 seconds"], 70)
        == "libFuzzer: timeout after 30 seconds"
    )


V1 = b"a.s1p\n# MHz S RI R 50\n"
FOUND = [
    ("touchstone", V1 + b"[Network Data]\n# MHz\n", "no data rows"),  # an option line where the rows begin
    (
        "touchstone",
        V1 + b"[Network Data] 7 0.5 0.1\n7.01 0.5 0.1\n",
        "begin on the line after",
    ),  # a row was lost
    ("readings", b"7.05 MHz 1.8\xff", "is no reading"),  # octets of a command line that are no text
    ("adx", b'<?xml version="1.0" encoding="UTF.5"?><ADX/>', "save it as UTF-8"),
    ("adx", b'<?xml version="1.0" encoding="utf-7"?><ADX/>', "save it as UTF-8"),
    ("slots", b"start,end,antenna\n" + b"x" * 140_000, "a slot is start, end and antenna"),
    ("reports", b"x" * 140_000 + b",time\n1,2\n", "headings cannot be split"),
    ("workspace", b"[" * 3000, None),  # a line that no search wrote counts as not there
    ("workspace", b'{"v":1,"key":"a","outside":[[1],[1' + b"0" * 400 + b"]]}", None),
    ("slots", b"start,end,antenna\n2026-05-01T12:00:00Z,2026-05-01T12:02:00Z,ring", None),
]


@pytest.mark.parametrize(
    ("name", "data", "words"), FOUND, ids=lambda value: value if isinstance(value, str) else ""
)
def test_what_was_found_once_is_read_well_now(name, data, words):
    target = reader(name)
    if words is None:
        target.read(data)
        return
    with pytest.raises(RingwrightError, match=words):
        target.read(data)
    look(target, data)


def test_an_archive_whose_names_disagree_is_refused_in_one_sentence():
    target = reader("record")
    packed = bytearray(target.seeds[-1])
    local = packed.index(b"PK\x03\x04")
    packed[local + 26 : local + 28] = (700).to_bytes(2, "little")  # the length of the first file's name
    with pytest.raises(RingwrightError, match="File name in directory"):
        target.read(bytes(packed))
    look(target, bytes(packed))


def test_a_reason_of_a_log_shows_no_control_characters():
    rows = [*adif.read_adif(b"<QSO_DATE:8>202605\x0b2<CALL:3>QX1<EOR>", source="log.adi")]
    assert str(rows[0].says).startswith('QSO_DATE "202605\\x0b2" and TIME_ON missing are no YYYYMMDD')
