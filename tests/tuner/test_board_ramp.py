# SPDX-License-Identifier: BSD-3-Clause
"""The board's motion against the kinematics of constant acceleration, and against what a motor can follow."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.tuner.board_motion import BRAKE_MS, Motion
from ringwright.tuner.board_ramp import Ramp

STEPS = st.integers(1, 100_000)
SPEEDS = st.integers(10, 5000)
PULLS = st.integers(50, 50_000)


def test_a_long_way_takes_way_over_speed_and_speed_over_acceleration():
    """T = d/v + v/a for a trapezium of speeds (constant acceleration, any textbook of mechanics)."""
    ramp = Ramp(0, 5000, speed=1000, acceleration=2000)
    assert ramp.end == pytest.approx(1000.0 * (5000 / 1000 + 1000 / 2000), abs=1.0)


def test_a_short_way_takes_twice_the_root_of_way_over_acceleration():
    """T = 2 sqrt(d/a) where the speed is never reached (as above)."""
    ramp = Ramp(0, 100, speed=1000, acceleration=2000)
    assert ramp.end == pytest.approx(2000.0 * math.sqrt(100 / 2000), abs=1.0)


def test_half_a_t_squared():
    """s = a t^2 / 2 while it speeds up (as above)."""
    ramp = Ramp(0, 5000, speed=1000, acceleration=2000)
    assert [ramp.gone(ms) for ms in (100, 200, 400)] == [10, 40, 160]
    assert ramp.pace(400) == pytest.approx(800.0)


@given(STEPS, SPEEDS, PULLS)
def test_a_motion_never_goes_back_nor_faster_than_it_may(distance, speed, pull):
    ramp = Ramp(7, distance, speed=speed, acceleration=pull)
    times = [7 + (ramp.end - 7) * part // 200 for part in range(201)]
    gone = [ramp.gone(ms) for ms in times]
    assert gone[0] == 0
    assert gone[-1] == distance
    looks = itertools.pairwise(zip(times, gone, strict=True))
    for (early, before), (late, after) in looks:
        assert 0 <= after - before <= speed * (late - early) / 1000.0 + 1.001
    assert all(0.0 <= ramp.pace(ms) <= speed * (1.0 + 1e-9) for ms in times)


@given(STEPS, SPEEDS, PULLS, st.floats(0.0, 1.0))
def test_the_pace_changes_no_faster_than_the_motor_follows(distance, speed, pull, begun):
    pace = begun * speed
    ramp = Ramp(0, distance, speed=speed, acceleration=pull, pace=pace)
    allowed = max(pull, pace * pace / (2.0 * distance))  # harder only where the way is too short
    for ms in range(0, ramp.end, max(1, ramp.end // 100)):
        later = min(ms + 10, ramp.end)
        change = abs(ramp.pace(later) - ramp.pace(ms))
        assert change <= allowed * 0.001 * (later - ms + 1) * (1.0 + 1e-6) + 1e-9


@given(
    st.lists(st.tuples(st.integers(-3000, 3000), st.integers(1, 900)), min_size=1, max_size=12),
    SPEEDS,
    PULLS | st.none(),
)
def test_new_goals_on_the_way_end_at_the_last_one_and_lose_no_step(goals, speed, pull):
    motion = Motion(0)
    ms, owed = 0, 0
    for goal, wait in goals:
        if goal != motion.at or motion.moving:
            motion.begin(goal, ms, speed=speed, acceleration=pull)
        ms += wait
        motion.advance(ms)
        owed, motion.owed = owed + motion.owed, 0
    while motion.moving:
        ms = max(ms + 1, motion.end())
        motion.advance(ms)
    assert motion.at == owed + motion.owed
    assert motion.at == goals[-1][0]


@given(st.integers(100, 50_000), SPEEDS, PULLS, st.integers(1, 5000))
def test_brakes_stand_within_their_time_and_on_this_side_of_the_goal(distance, speed, pull, after):
    motion = Motion(0)
    motion.begin(distance, 0, speed=speed, acceleration=pull)
    if motion.advance(after):
        return
    motion.brake(after, acceleration=pull, room=10**9)
    motion.advance(after + BRAKE_MS + 1)
    assert not motion.moving
    assert 0 <= motion.at <= distance
    assert not motion.was_hard


def test_brakes_without_room_stop_at_once_and_say_so():
    motion = Motion(0)
    motion.begin(5000, 0, speed=2000, acceleration=4000)
    motion.advance(1000)
    assert not motion.brake(1000, acceleration=4000, room=10)
    assert motion.was_hard
    at = motion.at
    motion.advance(2000)
    assert motion.at <= at + 10
