# SPDX-License-Identifier: BSD-3-Clause
"""Plans for alternating, what a campaign made of them, and one antenna against its own past."""

from dataclasses import replace
from datetime import UTC, datetime
from itertools import pairwise

import numpy as np
import pytest

from ringwright.air.history import against_history
from ringwright.air.slots import check_slots, draw_slots, read_slots, slots_text, with_antennas
from ringwright.errors import ReportFileError, ReportsError
from tests.air.campaigns import START, reports_of

NOON = datetime(2026, 5, 1, 12, tzinfo=UTC)


def plan(count=60, length=120.0, start=NOON):
    return draw_slots("ring", "dipole", start=start, length=length, count=count, rng=np.random.default_rng(2))


def test_both_antennas_are_on_the_air_equally_long_in_an_order_by_lot():
    slots = plan()
    names = [slot.antenna for slot in slots]
    assert names.count("ring") == names.count("dipole") == 30
    assert all(set(names[n : n + 2]) == {"ring", "dipole"} for n in range(0, 60, 2))
    assert {tuple(names[n : n + 2]) for n in range(0, 60, 2)} == {("ring", "dipole"), ("dipole", "ring")}
    assert all(one.end == other.start for one, other in pairwise(slots))
    assert names == [slot.antenna for slot in plan()]


def test_a_plan_survives_the_round_trip_through_text():
    slots = plan(7)
    assert len(slots) == 8
    assert read_slots(slots_text(slots), source="plan.csv") == slots


def test_names_with_commas_and_quotes_survive_it_too():
    slots = draw_slots(
        "ring, low", 'the "old" one', start=NOON, length=60.0, count=2, rng=np.random.default_rng(2)
    )
    assert read_slots(slots_text(slots), source="plan.csv") == slots


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "starts with the line"),
        ("start,end,antenna\nsoon,later,ring\n", "plan.csv:2"),
        ("start,end,antenna\n2026-05-01T12:00:00Z,2026-05-01T11:00:00Z,ring\n", "ends before it starts"),
        (
            "start,end,antenna\n2026-05-01T12:00:00Z,2026-05-01T12:02:00Z,a\n2026-05-01T12:01:00Z,2026-05-01T12:03:00Z,b\n",
            "overlaps",
        ),
    ],
)
def test_a_plan_that_is_none_is_refused(text, reason):
    with pytest.raises(ReportFileError, match=reason):
        read_slots(text, source="plan.csv")


def test_a_plan_of_one_antenna_is_refused():
    with pytest.raises(ReportsError):
        draw_slots("ring", "Ring", start=NOON, length=60.0, count=2, rng=np.random.default_rng(1))


def reported(slots, *, rng, late=0.0, difference=3.0, receivers=12, share_of_b=1.0):
    """Reports of every slot; each is stamped `late` seconds after it was sent."""
    rows = []
    for slot in slots:
        for receiver in range(receivers):
            if slot.antenna == "dipole" and rng.uniform() > share_of_b:
                continue
            when = rng.uniform(slot.start, slot.end)
            level = receiver + rng.normal() + (difference if slot.antenna == "ring" else 0.0)
            rows.append((when + late, receiver, level))
    time, who, snr = (np.array(column) for column in zip(*sorted(rows), strict=True))
    reports = reports_of(
        time, receiver=who, snr=snr, power=np.full(len(time), 5.0), antenna=np.zeros(len(time))
    )
    return replace(reports, antenna=np.full(len(time), -1, dtype=np.int32), antennas=())


def test_reports_get_the_antenna_of_their_slot_and_none_outside():
    slots = plan(4)
    times = np.array([slots[0].start - 1.0, *(slot.start for slot in slots), slots[-1].end])
    bare = reports_of(times, receiver=np.zeros(6), snr=np.zeros(6), power=np.ones(6), antenna=np.zeros(6))
    bare = replace(bare, antenna=np.full(6, -1, dtype=np.int32), antennas=("ring",))
    found = with_antennas(bare, slots)
    names = [found.antennas[code] if code >= 0 else None for code in found.antenna]
    assert names == [None, *(slot.antenna for slot in slots), None]


def test_a_fair_campaign_is_not_complained_of():
    rng = np.random.default_rng(4)
    slots = plan(200)
    reports = with_antennas(reported(slots, rng=rng), slots)
    assert check_slots(reports, slots, names=("ring", "dipole")) == ()


def test_reports_stamped_late_show_as_carry_over():
    rng = np.random.default_rng(4)
    slots = plan(200)
    reports = with_antennas(reported(slots, rng=rng, late=40.0, difference=8.0), slots)
    (told,) = check_slots(reports, slots, names=("ring", "dipole"))
    assert told.startswith("just after a change the difference is ")


def test_reports_that_name_another_antenna_than_the_plan_are_told():
    rng = np.random.default_rng(4)
    slots = plan(200)
    reports = with_antennas(reported(slots, rng=rng), slots)
    an_hour_late = [replace(slot, start=slot.start + 120.0, end=slot.end + 120.0) for slot in slots]
    told = check_slots(reports, an_hour_late, names=("ring", "dipole"))
    assert "name another antenna than the plan" in told[0]
    capitals = replace(reports, antennas=tuple(name.upper() for name in reports.antennas))
    assert check_slots(capitals, slots, names=("ring", "dipole")) == ()


def test_reports_that_are_all_stamped_late_in_their_slot_are_told():
    rng = np.random.default_rng(4)
    slots = plan(200)
    reports = reported(slots, rng=rng)
    stamped = replace(reports, time=np.floor(reports.time / 120.0) * 120.0 + 90.0)
    (told,) = check_slots(with_antennas(stamped, slots), slots, names=("ring", "dipole"))
    assert "stamped 90 s into their slot" in told
    in_time = replace(reports, time=np.floor(reports.time / 120.0) * 120.0)
    assert check_slots(with_antennas(in_time, slots), slots, names=("ring", "dipole")) == ()


def test_unequal_activity_is_told():
    rng = np.random.default_rng(4)
    slots = plan(200)
    reports = with_antennas(reported(slots, rng=rng, share_of_b=0.3), slots)
    assert "ring has 1200 reports" in " ".join(check_slots(reports, slots, names=("ring", "dipole")))


def days(rng, *, before, after, change):
    """Twenty receivers that hear every hour, the sky another each day."""
    rows = []
    for day in range(before + after):
        sky = rng.normal(0.0, 2.0)
        for hour in range(0, 24, 3):
            for receiver in range(20):
                level = (
                    receiver + sky + 5.0 * np.sin(hour) + rng.normal() + (change if day >= before else 0.0)
                )
                rows.append(
                    (START + 86_400.0 * day + 3600.0 * hour + rng.uniform(0.0, 600.0), receiver, level)
                )
    time, who, snr = (np.array(column) for column in zip(*rows, strict=True))
    return reports_of(time, receiver=who, snr=snr, power=np.full(len(time), 5.0), antenna=np.zeros(len(time)))


def test_history_holds_the_change_with_days_as_what_is_independent():
    rng = np.random.default_rng(6)
    hits = 0
    for _ in range(25):
        reports = days(rng, before=10, after=10, change=-2.0)
        found = against_history(reports, datetime.fromtimestamp(START + 10 * 86_400.0, UTC)).found
        assert found is not None
        hits += found.low <= -2.0 <= found.high
    assert hits >= 21


def test_a_history_of_few_days_says_nothing():
    reports = days(np.random.default_rng(6), before=3, after=10, change=-2.0)
    found = against_history(reports, datetime.fromtimestamp(START + 3 * 86_400.0, UTC))
    assert found.found is None
    assert (found.days_before, found.days_after) == (3, 10)
