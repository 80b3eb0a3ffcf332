# SPDX-License-Identifier: BSD-3-Clause
"""A twin tuned for some minutes leaves nothing behind; `python -m scripts.soak_tuner` does it for eight hours."""

import pytest

pytest.importorskip("resource", reason="left out: memory is asked of a POSIX system")

from scripts.soak_tuner import Soak, complaints

GOOD = {
    "tunings": 100,
    "tuned_pct": 99.0,
    "grown_objects": 200,
    "unsafe_acts": 0,
    "off_first_steps": 150.0,
    "off_last_steps": 5.0,
}


def test_minutes_of_tuning_leave_nothing_behind():
    found = Soak(hours=0.09, seed=3).run()
    assert complaints(found) == []
    assert isinstance(found["tunings"], int)
    assert found["tunings"] >= 2
    assert found["tuned_pct"] == 100.0


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"grown_objects": 100_000}, "more are alive"),
        ({"unsafe_acts": 1}, "unsafe"),
        ({"tuned_pct": 80.0}, "80 % tuned"),
        ({"off_last_steps": 149.0}, "no better"),
    ],
)
def test_the_look_at_what_is_left_sees_what_is_wrong(change, said):
    assert complaints(GOOD) == []
    assert said in complaints(GOOD | change)[0]
