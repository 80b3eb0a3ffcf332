# SPDX-License-Identifier: BSD-3-Clause
"""Q against time, temperature and rain: Theil's line with Sen's interval, and a reminder only where it is deserved."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from ringwright.errors import NoSuchEntryError
from ringwright.proof.estimate import Estimate
from ringwright.records.entries import NoteKind
from ringwright.records.trend import trend_of
from tests.records.recording import add
from tests.records.sweeps_at import note_at, sweep_at

DAYS = (0, 20, 45, 60, 90, 130, 150, 170)


def sure(estimate: Estimate | None) -> Estimate:
    assert estimate is not None
    return estimate


def falling(*, per_day=-0.001, scatter=0.0, temperature=None, days=DAYS, build=None, start=600.0):
    rng = np.random.default_rng(1)
    return [
        sweep_at(
            day,
            q=start * np.exp(per_day * day + scatter * rng.normal()),
            temperature=None if temperature is None else temperature(day),
            build=build,
        )
        for day in days
    ]


def test_sen_1968_example():
    # P. K. Sen, J. Am. Stat. Assoc. 63 (1968) 1379, the paper's example as scipy's own tests quote it: slope 4, 93 %
    # interval 3.71 to 4.38. Of 7 points the same pairs end the 95 % interval (from memory, not printed there).
    times, values = (1, 2, 3, 4, 10, 12, 18), (9, 15, 19, 20, 45, 55, 78)
    sweeps = [sweep_at(t, q=600.0, frequency=7.1e6 + y) for t, y in zip(times, values, strict=True)]
    change = sure(trend_of("40m", sweeps, ()).frequency_change)
    days = times[-1] - times[0]
    assert change.value / days == pytest.approx(4.0, rel=1e-8, abs=0)  # 7.1e6 + y loses 1e-9
    # Printed to two decimals.
    assert change.low / days == pytest.approx(3.71, rel=1.4e-3, abs=0)
    assert change.high / days == pytest.approx(4.38, rel=1.2e-3, abs=0)


def test_the_line_is_scipy_s_in_the_units_that_are_shown():
    sweeps = falling(scatter=0.02, temperature=lambda day: 10.0 + 0.1 * day)
    trend = trend_of("40m", sweeps, ())
    logs = [np.log(sweep.result.q_unloaded.value) for sweep in sweeps]
    slope, _, low, high = stats.theilslopes(logs, np.array(DAYS) / DAYS[-1], alpha=0.95)
    for found, expected in zip(
        (sure(trend.q_change_pct).value, sure(trend.q_change_pct).low, sure(trend.q_change_pct).high),
        (slope, low, high),
        strict=True,
    ):
        assert found == pytest.approx(100.0 * (np.exp(expected) - 1.0), rel=1e-9, abs=0)
    per_kelvin = stats.theilslopes(logs, 10.0 + 0.1 * np.array(DAYS), alpha=0.95)[0]
    assert sure(trend.q_per_kelvin_pct).value == pytest.approx(
        100.0 * (np.exp(per_kelvin) - 1.0), rel=1e-9, abs=0
    )


@given(
    st.lists(
        st.tuples(st.integers(0, 400), st.floats(1e6, 9e6)), min_size=5, max_size=30, unique_by=lambda p: p[1]
    )
)
def test_the_line_is_scipy_s_wherever_no_frequency_comes_twice(points):
    points = sorted(points)
    assume(len({day for day, _ in points}) >= 5)
    trend = trend_of("40m", [sweep_at(day, q=600.0, frequency=f) for day, f in points], ())
    days = np.array([day for day, _ in points], dtype=float)
    found = stats.theilslopes([f for _, f in points], (days - days[0]) / (days[-1] - days[0]), alpha=0.95)
    change = sure(trend.frequency_change)
    # The same differences in the same order of work, give or take a rounding.
    assert change.value == pytest.approx(found.slope, rel=1e-12, abs=0)
    assert change.low == pytest.approx(found.low_slope, rel=1e-12, abs=0)
    assert change.high == pytest.approx(found.high_slope, rel=1e-12, abs=0)


def test_several_sweeps_of_one_day_are_ties_as_scipy_counts_them():
    days = [0, 0, 0, 20, 20, 20, 40, 40, 60, 60, 80, 80]
    f = 7.1e6 + np.array([3, 1, 7, 40, 12, 25, 30, 61, 45, 70, 66, 95])
    sweeps = [sweep_at(day, q=600.0, frequency=value) for day, value in zip(days, f, strict=True)]
    change = sure(trend_of("40m", sweeps, ()).frequency_change)
    found = stats.theilslopes(f, np.array(days) / 80.0, alpha=0.95)
    assert (change.low, change.high) == pytest.approx((found.low_slope, found.high_slope), rel=1e-12, abs=0)


def test_a_frequency_that_never_moves_has_not_moved():
    trend = trend_of("40m", falling(), ())
    assert (
        sure(trend.frequency_change).low,
        sure(trend.frequency_change).value,
        sure(trend.frequency_change).high,
    ) == (
        0.0,
        0.0,
        0.0,
    )


def test_a_decline_gives_a_reminder_with_its_numbers():
    trend = trend_of("40m", falling(temperature=lambda day: 15.0), ())
    (reminder,) = trend.reminders
    # exp(-0.001 x 170 days) = 0.8437: 16 % less.
    assert "Q on 40m fell by 16 % (16 to 16) in 8 sweeps from 2026-05-01 to 2026-10-18" in reminder
    assert "joints or box want a look" in reminder
    assert "transmitter off" in reminder
    assert "kilovolts" in reminder


@pytest.mark.parametrize("per_day", [0.0, 0.001])
def test_what_stays_or_rises_gives_none(per_day):
    assert trend_of("40m", falling(per_day=per_day, scatter=0.01), ()).reminders == ()


def test_one_spoilt_sweep_bends_nothing():
    sweeps = falling(per_day=0.0, scatter=0.001)
    spoilt = [*sweeps[:-1], sweep_at(DAYS[-1], q=60.0)]
    trend = trend_of("40m", spoilt, ())
    assert abs(sure(trend.q_change_pct).value) < 1.0
    assert trend.reminders == ()


def test_a_decline_that_warmer_metal_explains_gives_none():
    # Skin effect: resistance as the root of the resistivity, copper 0.393 % a kelvin (IEC 60028): 0.1965 % a kelvin.
    def summer(day):
        return 5.0 + 25.0 * day / DAYS[-1]

    warm = [
        sweep_at(day, q=600.0 * (1 + 0.00393 * (summer(day) - 20.0)) ** -0.5, temperature=summer(day))
        for day in DAYS
    ]
    trend = trend_of("40m", warm, ())
    assert sure(trend.q_change_pct).high < 0.0
    assert trend.reminders == ()
    without = [sweep_at(day, q=s.result.q_unloaded.value) for day, s in zip(DAYS, warm, strict=True)]
    (reminder,) = trend_of("40m", without, ()).reminders
    assert "30 K more would explain 5.9 %" in reminder


def test_a_false_reminder_is_rarer_than_one_in_twenty():
    rng = np.random.default_rng(20)
    false = 0
    for _ in range(400):
        days = np.sort(rng.uniform(0.0, 300.0, 9))
        sweeps = [sweep_at(day, q=600.0 * np.exp(0.05 * rng.normal()), temperature=15.0) for day in days]
        false += bool(trend_of("40m", sweeps, ()).reminders)
    # One side of a 95 % interval: 2.5 %, that is 10 of 400; more than 20 comes by chance once in 500.
    assert false <= 20


def test_a_true_decline_is_seen_through_scatter():
    rng = np.random.default_rng(21)
    seen = 0
    for _ in range(100):
        sweeps = [
            sweep_at(day, q=600.0 * np.exp(-0.001 * day + 0.02 * rng.normal()), temperature=15.0)
            for day in DAYS
        ]
        seen += bool(trend_of("40m", sweeps, ()).reminders)
    assert seen >= 95  # 17 % fall under 2 % of scatter


@pytest.mark.parametrize("kind", [NoteKind.REPAIR, NoteKind.JOINT])
def test_a_repair_starts_the_line_anew(kind):
    old = falling(days=(0, 20, 45, 60, 90))
    new = falling(days=(130, 150, 170, 190, 210, 230), per_day=0.0)
    repair = note_at(100, kind, "joint 5 remade")
    trend = trend_of("40m", [*old, *new], (repair,))
    assert [sweep.number for sweep in trend.lines_from] == [sweep.number for sweep in new]
    assert trend.changed_by == repair
    assert trend.reminders == ()
    assert trend_of("40m", old, (repair,)).changed_by is None  # it comes after them
    assert len(trend_of("40m", [*old, *new], (note_at(100, NoteKind.BOX),)).lines_from) == 11


def test_another_build_starts_the_line_anew():
    sweeps = [*falling(days=(0, 20, 45, 60, 90), build="a"), *falling(days=(100, 120, 140), build="b")]
    assert [sweep.build for sweep in trend_of("40m", sweeps, ()).lines_from] == ["b"] * 3


@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_too_few_sweeps_tell_nothing(count):
    trend = trend_of("40m", falling(days=DAYS[:count], temperature=float), (note_at(0, NoteKind.RAIN),))
    assert trend.q_change_pct is None
    assert trend.q_per_kelvin_pct is None
    assert trend.q_after_rain_pct is None
    assert trend.reminders == ()


def test_five_sweeps_of_one_moment_tell_nothing():
    assert trend_of("40m", [sweep_at(1, q=600.0 - k) for k in range(5)], ()).q_change_pct is None


def test_rain_is_told_by_its_shift_with_a_reminder():
    rain = [note_at(day - 0.5, NoteKind.RAIN) for day in (20, 60, 130, 170)]
    wet = {480, 1440, 3120, 4080}
    sweeps = [sweep_at(day, q=(510.0 if round(24 * day) in wet else 600.0) + k) for k, day in enumerate(DAYS)]
    trend = trend_of("40m", sweeps, rain)
    assert set(trend.wet) == wet
    # Hodges and Lehmann: the median of all differences between wet and dry.
    q = {sweep.number: np.log(sweep.result.q_unloaded.value) for sweep in sweeps}
    differences = [q[a] - q[b] for a in wet for b in q.keys() - wet]
    assert sure(trend.q_after_rain_pct).value == pytest.approx(
        100.0 * np.expm1(np.median(differences)), rel=1e-9, abs=0
    )
    (reminder,) = trend.reminders
    assert "in the day after rain" in reminder
    assert "transmitter off" in reminder


def test_one_rainy_day_of_six_proves_nothing():
    # By Mann and Whitney the one wet sweep is the lowest of six by chance once in six.
    sweeps = [sweep_at(day, q=300.0 if day == 20 else 600.0) for day in DAYS[:6]]
    trend = trend_of("40m", sweeps, [note_at(19.8, NoteKind.RAIN)])
    assert trend.wet == (480,)
    assert trend.q_after_rain_pct is None


def test_rain_the_day_before_counts_and_rain_afterwards_or_long_ago_does_not():
    sweeps = [sweep_at(day, q=600.0) for day in DAYS]
    trend = trend_of(
        "40m",
        sweeps,
        [note_at(19.0, NoteKind.RAIN), note_at(43.9, NoteKind.RAIN), note_at(60.1, NoteKind.RAIN)],
    )
    assert trend.wet == (480,)


def test_a_band_without_sweeps_is_one_sentence_with_what_there_is(records):
    add(records, band="40m")
    with pytest.raises(NoSuchEntryError, match='"20m"; the record has "40m"'):
        records.trend("20m")
    assert records.trend("40m").q_change_pct is None


def test_the_drawn_line_is_scipy_s_with_its_intercept():
    sweeps = falling(scatter=0.02, temperature=lambda day: 10.0 + (37 * day) % 23)
    lines = trend_of("40m", sweeps, ()).lines
    logs = [np.log(sweep.result.q_unloaded.value) for sweep in sweeps]
    warmth = [10.0 + (37 * day) % 23 for day in DAYS]
    for line, x in ((lines.q, np.array(DAYS) * 86400.0), (lines.q_by_warmth, np.array(warmth))):
        assert line is not None
        slope, intercept, *_ = stats.theilslopes(logs, x, method="joint")  # type: ignore[call-overload]  # scipy's word; its stubs have another
        assert line.x == (min(x), max(x))
        assert line.y == pytest.approx(np.exp(intercept + slope * np.array(line.x)), rel=1e-9, abs=0)


def test_no_line_is_drawn_where_too_few_sweeps_tell():
    lines = trend_of("40m", falling(days=(1, 2, 3, 4), temperature=float), ()).lines
    assert (lines.q, lines.frequency, lines.q_by_warmth, lines.frequency_by_warmth) == (None,) * 4
