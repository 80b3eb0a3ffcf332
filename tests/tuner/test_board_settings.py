# SPDX-License-Identifier: BSD-3-Clause
"""What a board remembers of its drive and meter, through power cuts at any octet; and what it makes of voltages."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.tuner.board_settings import DEFAULTS, Settings, watts, why_not
from ringwright.tuner.twin.flash import SupplyLost


class Slots:
    """Two slots whose supply may fail after so many octets."""

    def __init__(self):
        self.texts = ["", ""]
        self.cut_after = None

    def read(self, slot):
        return self.texts[slot]

    def write(self, slot, text):
        if self.cut_after is not None and len(text) > self.cut_after:
            self.texts[slot] = text[: self.cut_after]
            raise SupplyLost
        self.texts[slot] = text


def test_what_was_learnt_survives_and_comes_before_the_file():
    slots = Slots()
    settings = Settings(slots, {"speed": 700, "travel": 9000})
    assert settings.values["speed"] == 700
    assert settings.set("speed", 300) is None
    assert settings.set("reversed", True) is None
    again = Settings(slots, {"speed": 700, "travel": 9000})
    assert (again.values["speed"], again.values["reversed"], again.values["travel"]) == (300, True, 9000)


def test_a_cut_at_any_octet_leaves_the_old_or_the_new():
    for cut in range(200):
        slots = Slots()
        settings = Settings(slots, {})
        settings.set("speed", 300)
        settings.set("speed", 301)
        settings = Settings(slots, {})
        slots.cut_after = cut
        try:
            settings.set("speed", 302)
            expected = 302
        except SupplyLost:
            expected = 301
        slots.cut_after = None
        again = Settings(slots, {})
        assert again.values["speed"] == expected
        assert again.set("speed", 400) is None
        assert Settings(slots, {}).values["speed"] == 400


def test_a_full_flash_is_told_and_changes_nothing():
    class Full(Slots):
        def write(self, slot, text):
            raise OSError(28)

    settings = Settings(Full(), {})
    assert settings.set("speed", 300) == "the flash cannot be written"
    assert settings.values == DEFAULTS


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("colour", 1), ("speed", 0), ("speed", True), ("speed", 1.5), ("speed", None), ("reversed", 1),
        ("stop_at", "low"), ("acceleration", 1), ("travel", 0), ("switch_slack", -1), ("forward_points", []),
        ("forward_points", 3), ("forward_points", [[1.0]]), ("forward_points", [[0.0, 0.0]]),
        ("forward_points", [[5, 5], [4, 6]]), ("forward_points", [[5, 5], [6, 5]]),
        ("forward_points", [[5, 5], [5.5, 6]]), ("reflected_points", [[True, 1.0]]),
        ("reflected_points", [[1, 2]] * 9), ("reflected_points", [[1.0, float("nan")]]),
        ("forward_points", [[1.0, float("inf")]]),
    ],
)  # fmt: skip
def test_a_value_that_does_not_fit_is_refused_in_words_and_not_kept(key, value):
    settings = Settings(Slots(), {key: value})
    assert settings.values == DEFAULTS
    assert len(settings.set(key, value) or "") > 10
    assert settings.values == DEFAULTS


def test_every_default_fits():
    assert [why_not(key, value) for key, value in DEFAULTS.items()] == [None] * len(DEFAULTS)
    assert why_not("stop_at", None) is None


def test_a_voltage_goes_with_the_root_of_the_power():
    """P = V^2 / R: a detector's voltage follows that of the line (textbook), so twice of it is four times the power."""
    points = [[200.0, 1.0]]
    assert [watts(v, points) for v in (0.0, 100.0, 200.0, 400.0, 2000.0)] == pytest.approx(
        [0.0, 0.25, 1.0, 4.0, 100.0]
    )


def test_between_points_the_root_goes_straight():
    points = [[20.0, 0.0], [220.0, 1.0], [400.0, 4.0]]
    assert watts(10.0, points) == 0.0
    assert watts(120.0, points) == pytest.approx(0.25)
    assert watts(310.0, points) == pytest.approx(2.25)
    assert watts(580.0, points) == pytest.approx(9.0)


POINTS = st.lists(
    st.tuples(st.floats(0.0, 5000.0), st.floats(0.0, 5000.0)),
    min_size=1,
    max_size=8,
    unique_by=(lambda p: p[0], lambda p: p[1]),
).map(
    lambda pairs: [
        list(p) for p in zip(sorted(p[0] for p in pairs), sorted(p[1] for p in pairs), strict=True)
    ]
)


@given(POINTS, st.lists(st.floats(0.0, 6000.0), min_size=2, max_size=20))
def test_more_volts_are_never_fewer_watts(points, voltages):
    if why_not("forward_points", points) is not None:
        return
    powers = [watts(v, points) for v in sorted(voltages)]
    assert all(math.isfinite(p) and p >= 0.0 for p in powers)
    assert all(a <= b * (1.0 + 1e-9) + 1e-9 for a, b in itertools.pairwise(powers))
    for volts, power in points:
        assert watts(volts, points) == pytest.approx(power, rel=1e-6, abs=1e-9)


def test_a_meter_nobody_calibrated_reads_too_much():
    """A detector gives 1 V to 3 V at 100 W (common practice): a tenth to three tenths of a volt at 1 W."""
    for millivolts_at_one_watt in (120.0, 200.0, 300.0):
        assert watts(millivolts_at_one_watt, DEFAULTS["forward_points"]) > 0.3
        assert watts(millivolts_at_one_watt * math.sqrt(5.0), DEFAULTS["forward_points"]) > 5.0
