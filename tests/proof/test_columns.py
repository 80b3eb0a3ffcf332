# SPDX-License-Identifier: BSD-3-Clause
"""Columns of tables that a person names, and the memory of them by headings."""

import pytest

from ringwright.errors import SweepFileError
from ringwright.proof.columns import Columns, remember, remembered

SAID = ["frequency=QRG", "frequency_unit=kHz", "swr=3"]
HEAD = ["QRG", "remark", "how much"]


def test_what_is_said_of_columns_survives_the_round_trip():
    columns = Columns.of(SAID, source="a.csv")
    assert columns == Columns(frequency="QRG", frequency_unit="kHz", swr=3)
    assert sorted(columns.assignments()) == sorted(SAID)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("colour=3", "names no column; write one of frequency, resistance"),
        ("swr=", "names no column"),
        ("swr", "names no column"),
        ("frequency_unit=furlong", "is no unit of frequency; it is Hz, kHz, MHz or GHz"),
    ],
)
def test_what_names_no_column_is_refused(said, words):
    with pytest.raises(SweepFileError, match=words) as caught:
        Columns.of([said], source="a.csv")
    assert str(caught.value).startswith("a.csv:1: ")


def test_columns_are_remembered_by_the_headings_whatever_their_case_and_marks():
    columns = Columns.of(SAID, source="a.csv")
    memory = remember(remember("", ["other"], Columns(swr=1)), HEAD, columns)
    assert remembered(memory, ["qrg", " Remark ", "how-much"], source="b.csv") == columns
    assert remembered(memory, ["other"], source="b.csv") == Columns(swr=1)
    assert remembered(memory, [*HEAD, "one more"], source="b.csv") is None
    newer = remember(memory, HEAD, Columns(swr=2))
    assert remembered(newer, HEAD, source="b.csv") == Columns(swr=2)


@pytest.mark.parametrize(
    "memory", ["", "{", "[]", "7", '{"qrg": 3}', '{"qrg": ["colour=3"]}', '{"qrg": [3]}']
)
def test_a_memory_that_somebody_spoilt_costs_a_question_and_no_sweep(memory):
    assert remembered(memory, ["QRG"], source="a.csv") is None
    assert remembered(remember(memory, ["QRG"], Columns(swr=2)), ["QRG"], source="a.csv") == Columns(swr=2)
