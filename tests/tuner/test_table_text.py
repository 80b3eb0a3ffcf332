# SPDX-License-Identifier: BSD-3-Clause
"""A tuning table as comma-separated text comes back exactly, or is refused in one sentence."""

import csv
import io
from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ringwright.errors import TuningTableError
from ringwright.tuner.table_point import Point
from ringwright.tuner.table_text import parse_points, points_text

points = st.builds(
    Point,
    position=st.integers(-(2**31), 2**31),
    frequency=st.floats(1.8e6, 54e6),
    spread=st.floats(1e-3, 1e5),
    temperature=st.none() | st.floats(-90, 100),
    at=st.datetimes(datetime(1950, 1, 1), datetime(2199, 1, 1), timezones=st.just(UTC)),  # noqa: DTZ001
    site=st.from_regex(r"[-=+@'a-z\"][a-z, 0-9;'\"]{0,18}[a-z]", fullmatch=True),
)


@settings(max_examples=30)
@given(st.lists(points, max_size=5))
def test_a_table_comes_back_exactly(kept):
    assert parse_points(points_text(kept), source="t.csv") == tuple(kept)


def test_a_spreadsheet_is_given_no_formula():
    point = Point(position=1, frequency=7.1e6, at=datetime(2026, 5, 1, tzinfo=UTC), site="=2+3")
    (_, row) = csv.reader(io.StringIO(points_text([point])))
    assert row[-1] == "'=2+3"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "headings"),
        ("a,b\n", "headings"),
        ("{head}\n1,2\n", "t.csv:2: has 2 cells"),
        ("{head}\n1.5,7.1e6,100,,2026-05-01T12:00:00+00:00,home\n", "position_steps"),
        ("{head}\n1,seven,100,,2026-05-01T12:00:00+00:00,home\n", "frequency_hz"),
        ("{head}\n1,7.1e6,100,,2026-05-01T12:00:00,home\n", "time zone"),
        ("{head}\n1,7.1e6,100,,yesterday,home\n", "at"),
        ("{head}\n1,7.1e6,nan,,2026-05-01T12:00:00+00:00,home\n", "spread"),
        ('{head}\n"1,7.1e6', "comma-separated"),
    ],
)
def test_a_damaged_table_is_one_sentence(text, words):
    head = "position_steps,frequency_hz,spread_hz,temperature_degc,at,site"
    with pytest.raises(TuningTableError, match=words) as caught:
        parse_points(text.format(head=head), source="t.csv")
    assert "\n" not in str(caught.value)
