# SPDX-License-Identifier: BSD-3-Clause
"""The watt bar: to scale, complete, and readable without colour or UTF-8."""

from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.antenna.figures.addresses import ADDRESS_MARKS
from ringwright.cli.terminal import Terminal
from ringwright.cli.watt_bar import key_of_letters, watt_bar

PLAIN = Terminal()
LETTERS = {mark.name: mark.letter for mark in ADDRESS_MARKS}


def band(**shares):
    absent = dict.fromkeys(mark.name for mark in ADDRESS_MARKS)
    return SimpleNamespace(watts_pct=SimpleNamespace(**absent | shares))


def test_segments_stand_in_the_order_of_the_budget_and_to_scale():
    drawn = watt_bar(band(sky=50.0, ring=30.0, capacitor=20.0), PLAIN, cells=20)
    assert drawn == "S█████████R▒▒▒▒▒C░░░"


def test_what_no_address_accounts_for_stays_empty():
    assert watt_bar(band(sky=50.0, ring=20.0), PLAIN, cells=10) == "S████R▒   "


def test_letters_are_all_different_and_explained():
    assert len(set(LETTERS.values())) == len(LETTERS)
    assert all(f"{mark.letter} {mark.words}" in key_of_letters() for mark in ADDRESS_MARKS)


def test_in_ascii_the_patterns_stay_apart():
    shares = dict.fromkeys(LETTERS, 100.0 / 7.0)
    drawn = Terminal(encoding="ascii").fit(watt_bar(band(**shares), PLAIN, cells=35))
    assert drawn.isascii()
    patterns = [part[0][0] for part in zip(*[iter(drawn[i] for i in range(1, 35, 5))], strict=True)]
    assert len(set(patterns)) == 7


def test_colour_is_added_and_changes_no_character():
    shown = Terminal(has_colour=True, has_true_colour=True)
    drawn = watt_bar(band(sky=60.0, joints=40.0), shown, cells=10)
    # Okabe and Ito's vermillion and yellow, as 24-bit colours.
    assert "\x1b[38;2;213;94;0m" in drawn
    assert "\x1b[38;2;240;228;66m" in drawn
    import click

    assert click.unstyle(drawn) == watt_bar(band(sky=60.0, joints=40.0), PLAIN, cells=10)
    assert "\x1b[38;5;166m" in watt_bar(band(sky=60.0), Terminal(has_colour=True), cells=10)


@given(
    st.dictionaries(st.sampled_from(list(LETTERS)), st.floats(0.0, 100.0), min_size=1),
    st.integers(10, 100),
)
def test_every_cell_is_within_one_of_its_share(shares, cells):
    total = sum(shares.values())
    if total > 0.0:
        shares = {name: 100.0 * value / total for name, value in shares.items()}
    drawn = watt_bar(band(**shares), PLAIN, cells=cells)
    assert len(drawn) == cells
    for name, share in shares.items():
        start = drawn.find(LETTERS[name])
        width = 0
        if start >= 0:
            ends = [drawn.find(letter) for letter in LETTERS.values() if drawn.find(letter) > start]
            width = min([*ends, len(drawn.rstrip())]) - start
        assert width == pytest.approx(share * cells / 100.0, rel=0, abs=1.0 + 1e-9)
