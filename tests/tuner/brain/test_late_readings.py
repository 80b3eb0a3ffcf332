# SPDX-License-Identifier: BSD-3-Clause
"""A status that newer ones overtook on the line still tells of its place, once."""

from dataclasses import replace

from ringwright.tuner.brain import Band, Phase, Ring, StatusSeen, Tune, step
from ringwright.tuner.messages import STALE
from tests.tuner.brain.ideal_board import Bench

RING = Ring(
    bands=(Band(name="40 m", low=7.0e6, high=7.2e6, power_limit=60.0, half_width=4e3, best_swr=1.2),),
    low_end=0,
    high_end=5000,
    has_end_stop=True,
    steps_per_turn=None,
    slack=20,
    speed=400.0,
)


def searching():
    """On the way up, with some readings; the board's last status but two gets lost and is handed over."""
    bench = Bench(RING, spread=300.0)
    bench.ask(Tune(7.16e6))
    bench.until(Phase.SEARCHING)
    bench.run(0.3)
    last = bench.state.contact.status
    assert last is not None
    assert last.over[0] < last.over[1]
    start, end = last.over
    late = replace(
        last,
        seq=last.seq - 1,
        milliseconds=last.milliseconds - 25,
        at=end - (end - start) // 2,
        over=(start, end - (end - start) // 2),
    )
    return bench, late


def readings_after(bench, *statuses):
    state = bench.state
    before = len(state.search.readings)
    for status in statuses:
        state, _ = step(state, StatusSeen(status), bench.now)
    return len(state.search.readings) - before


def test_an_overtaken_status_counts_as_evidence_once():
    bench, late = searching()
    assert readings_after(bench, late) == 1
    assert readings_after(bench, late, late) == 1


def test_the_newest_status_said_twice_counts_once():
    bench, _ = searching()
    assert readings_after(bench, bench.state.contact.status) == 0


def test_what_is_stale_or_of_a_drive_going_down_counts_for_nothing():
    bench, late = searching()
    old = replace(late, milliseconds=late.milliseconds - round(1000.0 * STALE))
    down = replace(late, over=late.over[::-1])
    unkeyed = replace(late, forward_power=0.0, reflected_power=0.0)
    assert readings_after(bench, old, down, unkeyed) == 0
