# SPDX-License-Identifier: BSD-3-Clause
"""What is said to relax: on the safe side whatever the digits, and honest of what was not solved."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.choose.rings.misses import CONSTRAINTS, UNSOLVED, refusals
from ringwright.units import to_si


def said(key, needed, units=None):
    """The amount that the advice names, read as the brief reads it."""
    text = CONSTRAINTS[key].relaxed(needed, units or {})
    ((number, unit),) = re.findall(
        r"(?<= )(\d[\d.]*(?:e[+-]?\d+)?) ?(pF|nF|W|kW|m|mm|in|ft|kg|g|lb)?(?=$|,)", text
    )
    return to_si(f"{number} {unit}", CONSTRAINTS[key].unit) if unit else float(number)


@given(st.floats(0.011, 9e3), st.sampled_from(["room.width", "limits.mass", "limits.swr"]))
def test_more_of_it_is_never_less_than_what_is_needed(needed, key):
    assert needed * (1.0 + 1e-4) < said(key, needed) < needed * 1.0015


@given(
    st.floats(0.011, 9e3),
    st.sampled_from([("room.width", "in"), ("room.height", "ft"), ("limits.mass", "lb")]),
)
def test_more_of_it_in_the_briefs_own_unit_is_never_less_than_what_is_needed(needed, key_and_unit):
    key, unit = key_and_unit
    assert needed * (1.0 + 1e-4) < said(key, needed, {key: unit}) < needed * 1.0015
    assert f" {unit}" in CONSTRAINTS[key].relaxed(needed, {key: unit})


@given(st.floats(0.011, 9e3))
def test_less_of_it_is_never_more(needed):
    assert needed * 0.9985 < said("site.people", needed) < needed * (1.0 - 1e-4)


@pytest.mark.parametrize("needed", [13_999.7e-12, 14_000.4e-12])
def test_picofarads_at_a_round_number_go_up_too(needed):
    assert said("capacitor.maximum", needed) > needed


def test_what_was_not_solved_is_said_to_miss_more_perhaps():
    screened, solved = ({"room.width": 1.5},), ({"limits.swr": 2.1},)
    by_key = {each.key: each.relax for each in refusals(screened, solved, now=lambda _: None, units={})}
    assert by_key["room.width"].endswith(UNSOLVED)
    assert UNSOLVED not in by_key["limits.swr"]
