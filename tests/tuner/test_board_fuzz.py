# SPDX-License-Identifier: BSD-3-Clause
"""Garbage into the firmware's loop and logic; `python -m scripts.fuzz_board` sends a thousand times of each."""

import pytest

from ringwright.tuner.board import Board
from scripts.fuzz_board import Found, fuzz, orders_run


@pytest.fixture(scope="module")
def found():
    return fuzz(25, seed=5)


@pytest.mark.parametrize("kind", ["byte streams", "message orders"])
def test_garbage_neither_crashes_it_nor_moves_it_unsafely_nor_shifts_its_count(found, kind):
    what = found[kind]
    assert (what.acts, what.wrong) == ({}, [])
    assert what.runs == 25
    assert what.moved > 2000
    assert what.boots > what.runs  # the supply did fail


@pytest.mark.parametrize(
    ("name", "broken"),
    [
        ("_held_by", lambda self, ms: None),
        ("_led_until", lambda self: (10**9, 10**9)),
        ("_brake", lambda self, reason, ms: None),
        ("_met", lambda self, stop_at: None),
        ("settle", lambda self: self._note(self.at, True)),
    ],
)
def test_a_board_that_is_broken_on_purpose_is_found_out(monkeypatch, name, broken):
    monkeypatch.setattr(Board, name, broken)
    found = Found()
    for seed in range(60):
        orders_run(seed, found)
        if not found.is_good:
            return
    raise AssertionError(f"nobody noticed that {name} was broken")
