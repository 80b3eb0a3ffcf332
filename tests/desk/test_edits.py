# SPDX-License-Identifier: BSD-3-Clause
"""Edits in the tables and in the text are the same edits; the oracle for the text is the standard library's reader."""

import re
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.antenna.scenario import FIRST_RING, RUCKSACK_BRAID, TERRACE_OCTAGON, shipped_text
from ringwright.desk.edited_text import text_with_edits
from ringwright.desk.edits import changed_keys, overlap, plain_values, with_edits
from ringwright.errors import DesignError

TERRACE = shipped_text(TERRACE_OCTAGON)
KEYS = st.one_of(
    st.sampled_from(list(plain_values(tomllib.loads(TERRACE)))),
    st.sampled_from(
        ["ring.aspect", "ring.turns", "drive.windup", "fresh.key", "fresh.table.key", "duty", "new"]
    ),
)
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
SCALARS = st.one_of(
    TEXTS, st.integers(-(2**53), 2**53), st.booleans(), st.floats(allow_nan=False, allow_infinity=False)
)
VALUES = st.one_of(
    st.none(), SCALARS, st.lists(SCALARS, max_size=4), st.lists(st.lists(SCALARS, max_size=3), max_size=3)
)


def comments(text):
    return [line.partition("#")[2] for line in text.splitlines() if "#" in line]


@given(
    st.sampled_from([FIRST_RING, RUCKSACK_BRAID, TERRACE_OCTAGON]),
    st.dictionaries(KEYS, VALUES, max_size=5),
    st.sampled_from(["\n", "\r\n"]),
)
def test_edited_text_reads_as_the_edited_tables(name, edits, line_end):
    text = shipped_text(name).replace("\n", line_end)
    try:
        tables = with_edits(tomllib.loads(text), edits)
    except DesignError as refused:  # as the second of people where there are none
        with pytest.raises(DesignError, match=re.escape(str(refused))):
            text_with_edits(text, edits)
    else:
        assert tomllib.loads(text_with_edits(text, edits)) == tables


@given(st.dictionaries(KEYS, SCALARS.filter(lambda value: "#" not in str(value)), min_size=1, max_size=5))
def test_changed_and_new_values_leave_every_comment_in_its_order(edits):
    assert comments(text_with_edits(TERRACE, edits)) == comments(TERRACE)


def test_a_changed_line_keeps_its_comment_in_its_column():
    before = next(line for line in TERRACE.splitlines() if line.startswith("perimeter"))
    edited = text_with_edits(TERRACE, {"ring.perimeter": "4.385 m"})
    after = next(line for line in edited.splitlines() if line.startswith("perimeter"))
    assert after.startswith('perimeter = "4.385 m" ')
    assert after.index("#") == before.index("#")
    assert after.partition("#")[2] == before.partition("#")[2]


def test_only_the_edited_line_changes():
    before, after = TERRACE.splitlines(), text_with_edits(TERRACE, {"capacitor.q": 2500}).splitlines()
    assert [(a, b) for a, b in zip(before, after, strict=True) if a != b] == [("q = 3000", "q = 2500")]


def test_windows_line_ends_stay():
    edited = text_with_edits(TERRACE.replace("\n", "\r\n"), {"ring.aspect": 1.5, "fresh.key": 1})
    assert edited.count("\n") == edited.count("\r\n")


def test_tables_handed_in_are_not_changed():
    tables = tomllib.loads(TERRACE)
    with_edits(tables, {"ring.conductor.diameter": "30 mm", "ring.plane": None, "power": "5 W"})
    assert tables == tomllib.loads(TERRACE)


def test_leaving_out_what_is_not_there_changes_nothing():
    assert text_with_edits(TERRACE, {"fresh.key": None, "ring.aspect": None}) == TERRACE


@pytest.mark.parametrize("text", ["ring = 3", "[[ring]]\na = 1"])
def test_a_key_below_what_is_no_table_is_refused_by_name(text):
    with pytest.raises(DesignError, match="ring is no table") as caught:
        with_edits(tomllib.loads(text), {"ring.perimeter": "3 m"})
    assert caught.value.key == "ring.perimeter"


@given(st.sampled_from([FIRST_RING, TERRACE_OCTAGON]), KEYS, SCALARS)
def test_an_edit_changes_its_own_key_only(name, key, value):
    before = tomllib.loads(shipped_text(name))
    try:
        after = with_edits(before, {key: value})
    except DesignError:  # a place in a list that has not so many yet: refused by name, below
        assert "[" in key
        return
    assert all(overlap(key, changed) for changed in changed_keys(before, after))


def test_keys_overlap_when_equal_or_one_above_the_other():
    assert overlap("ring", "ring.perimeter")
    assert overlap("ring.perimeter", "ring")
    assert overlap("ring.side", "ring.side")
    assert not overlap("ring.turn", "ring.turns")


def test_a_page_is_given_only_what_it_can_show():
    text = 'a = 1979-05-27\nb = inf\nc = [{d = 1}]\ne = 9007199254740993\n[f]\ng = [["0 m", 1]]\nh = true\n'
    assert plain_values(tomllib.loads(text)) == {"c[1].d": 1, "f.g": [["0 m", 1]], "f.h": True}
