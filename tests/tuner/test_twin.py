# SPDX-License-Identifier: BSD-3-Clause
"""The simulated twin against closed forms: resonance, windup, diode, warmth, link."""

import math
import random
import statistics
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.tuner.twin.channel import LEAST_DELAY, MOST_DELAY, Channel, ChannelFacts
from ringwright.tuner.twin.drive_train import DriveTrain, TrainFacts
from ringwright.tuner.twin.facts import OperatorFacts, draw_twin
from ringwright.tuner.twin.meter import Meter, MeterFacts, diode_reading, folded_forward
from ringwright.tuner.twin.ring import NumberRing, swr_of
from ringwright.tuner.twin.warmth import Warmth
from ringwright.tuner.twin.world import World

F0, Q = 7.1e6, 800.0


def ring(**changes):
    facts = {"frequency": F0, "place": 1000.0, "per_step": 1e-5, "q": Q, "coupling": 1.0} | changes
    return NumberRing(**facts)


# The resonance.


@pytest.mark.parametrize("half_bandwidths", [0.1, 0.5, 1.0, 2.0, 7.0])
def test_swr_of_a_matched_series_resonator_off_its_resonance(half_bandwidths):
    """z = 1 + j x at x half-power half-bandwidths: |Gamma| = x / sqrt(4 + x^2) (circuit theory, any textbook)."""
    x = half_bandwidths
    size = x / math.sqrt(4.0 + x * x)
    expected = (1.0 + size) / (1.0 - size)
    frequency = F0 * (x / (2.0 * Q) + math.sqrt(1.0 + (x / (2.0 * Q)) ** 2))  # solves Q (f/f0 - f0/f) = x
    share = ring().reflected_share(frequency, 1000.0, 0.0)
    assert swr_of(share) == pytest.approx(expected, rel=1e-9)


def test_widths_of_a_matched_ring():
    """SWR 2 within 0.7071 f0/Q0; half the power passes within 2 f0/Q0: docs/reference/glossary, and any textbook."""
    r, width = ring(), F0 / Q
    assert swr_of(r.reflected_share(F0 + 0.7071 / 2.0 * width, 1000.0, 0.0)) == pytest.approx(2.0, rel=1e-3)
    assert r.reflected_share(F0 + width, 1000.0, 0.0) == pytest.approx(0.5, rel=1e-3)


@pytest.mark.parametrize("coupling", [0.5, 2.0])
def test_a_mismatch_at_resonance_is_the_ratio_of_resistances(coupling):
    assert swr_of(ring(coupling=coupling).reflected_share(F0, 1000.0, 0.0)) == pytest.approx(2.0, rel=1e-9)


def test_a_bandwidth_of_travel_moves_the_resonance_by_a_bandwidth():
    r = ring(per_step=-2e-5)
    steps = r.half_power_steps(F0)
    moved = r.resonance(1000.0 + steps / 2.0, 0.0) - r.resonance(1000.0 - steps / 2.0, 0.0)
    assert -moved == pytest.approx(F0 / Q, rel=1e-6)


# The drive.


def train(backlash=40.0, windup=0.0, **more):
    return DriveTrain(TrainFacts(backlash=backlash, windup=windup, **more), 1000)


def test_play_is_taken_up_before_the_rotor_turns_back():
    t = train()
    assert t.rotor == 980.0
    t.pulses(-39)
    assert t.rotor == 980.0
    t.pulses(-11)
    assert t.rotor == 970.0  # 50 back less the play of 40


def test_a_sticking_rotor_breaks_loose_at_the_windup_and_slips_by_three_tenths():
    """Coulomb friction behind a spring: holds up to the twist w, then slides at 0.7 w (LET_GO, common practice)."""
    t = train(backlash=0.0, windup=100.0)
    assert t.rotor == 930.0
    t.pulses(30)
    assert t.rotor == 930.0
    t.pulses(1)
    assert t.rotor == pytest.approx(961.0)
    t.pulses(50)
    assert t.rotor == pytest.approx(1011.0)  # in motion it follows step by step
    t.rest()
    t.pulses(29)
    assert t.rotor == pytest.approx(1011.0)


def test_coming_from_below_always_ends_at_the_same_place():
    t = train(backlash=33.0, windup=70.0)
    ends = []
    for away in (300, 700, 1200):
        t.pulses(-away)
        t.rest()
        t.pulses(away)
        t.rest()
        ends.append(t.rotor)
    assert ends == pytest.approx([1000 - t.lag()] * 3)


@given(st.lists(st.integers(-300, 300).filter(bool), max_size=30), st.floats(0, 80), st.floats(0, 80))
def test_the_rotor_is_never_further_behind_than_play_and_windup(moves, backlash, windup):
    t = train(backlash=backlash, windup=windup)
    for count in moves:
        t.pulses(count)
        assert abs(t.motor - t.rotor) <= backlash / 2.0 + windup + 1e-9


def test_lost_steps_are_pulses_without_motion():
    t = train(backlash=0.0)
    t.to_lose = 30
    t.pulses(100)
    assert (t.motor, t.to_lose) == (1070, 0)


def test_a_hard_stop_holds_the_motor():
    t = train(backlash=0.0, low=-20.0, high=1500.0)
    t.pulses(9999)
    assert t.motor == 1500
    t.pulses(-9999)
    assert t.motor == -20


# The meter and the transmitter.


def test_a_diode_is_square_law_below_and_right_above():
    """Textbook: in the square-law region the output voltage goes with power; a linear scale reads its square."""
    knee = 0.2
    small = diode_reading(2e-4, knee) / diode_reading(1e-4, knee)
    assert small == pytest.approx(4.0, rel=2e-3)
    assert diode_reading(2.0, knee) < 2.0
    assert diode_reading(100.0, knee) == pytest.approx(100.0, rel=3e-3)


def test_foldback_begins_above_swr_3_and_holds_what_comes_back():
    assert folded_forward(5.0, 0.25) == 5.0  # SWR 3: |Gamma| = 1/2
    assert folded_forward(5.0, 0.5) * 0.5 == pytest.approx(1.25)
    assert folded_forward(5.0, 1.0) == pytest.approx(1.25)


def test_noise_of_the_meter_is_what_is_stated():
    meter = Meter(MeterFacts(period=0.05, noise=0.03, knee=0.0, offset=0.0), random.Random(1))
    read = []
    for _ in range(3000):
        meter.pass_time(0.05, 5.0, 1.0)
        read.append(meter.take()[0])
    assert statistics.fmean(read) == pytest.approx(5.0, rel=3e-3)
    assert statistics.pstdev(read) == pytest.approx(0.15, rel=0.05)


def test_a_reading_averages_over_its_time():
    meter = Meter(MeterFacts(period=0.05, noise=0.0, knee=0.0, offset=0.0), random.Random(1))
    meter.pass_time(0.03, 0.0, 0.0)
    meter.pass_time(0.01, 10.0, 5.0)
    assert meter.take() == pytest.approx((2.5, 1.25))


# Warmth.


def test_warmth_approaches_its_end_by_one_minus_one_over_e_each_time_constant():
    warmth = Warmth(rise=0.4, time_constant=100.0)
    warmth.advance(100.0, 50.0)
    assert warmth.kelvin == pytest.approx(20.0 * (1.0 - math.exp(-1.0)))
    warmth.advance(1e6, 0.0)
    assert warmth.kelvin == pytest.approx(0.0, abs=1e-9)


@given(st.lists(st.floats(0.01, 50.0), min_size=1, max_size=10))
def test_warmth_does_not_depend_on_how_time_is_cut(pieces):
    once, often = Warmth(0.3, 60.0), Warmth(0.3, 60.0)
    once.advance(sum(pieces), 80.0)
    for piece in pieces:
        often.advance(piece, 80.0)
    assert often.kelvin == pytest.approx(once.kelvin, rel=1e-9)


# The link.


def carried(lines, *, keyed=False, **facts):
    came: list[str] = []
    delays: list[float] = []

    def later(delay, call, line):
        delays.append(delay)
        call(line)

    channel = Channel(
        ChannelFacts(delay=0.03, **facts),
        random.Random(2),
        later=later,
        deliver=came.append,
        is_keyed=lambda: keyed,
    )
    for line in lines:
        channel.send(line)
    return came, delays


def test_a_link_loses_repeats_and_delays_as_stated():
    lines = [f"line {number}" for number in range(20_000)]
    came, delays = carried(lines, garbled=0.0)
    assert LEAST_DELAY <= min(delays) <= max(delays) <= MOST_DELAY == 0.2
    assert statistics.fmean(delays) == pytest.approx(0.035, rel=0.03)
    assert len(came) / len(lines) == pytest.approx(0.98 * 1.01, abs=3e-3)
    keyed, _ = carried(lines, keyed=True, garbled=0.0)
    assert len(lines) - len(set(keyed)) > 1.7 * (len(lines) - len(set(came)))


def test_a_garbled_line_is_another_line():
    came, _ = carried(["abcdefgh"] * 2000, garbled=1.0, lost=0.0, repeated=0.0)
    assert sum(line != "abcdefgh" for line in came) > 1900


# All of it.


@pytest.mark.parametrize("number", range(40))
def test_a_random_twin_keeps_to_the_rule_of_the_trial(number):
    facts = draw_twin(random.Random(number))
    steps = facts.ring.half_power_steps(facts.frequency)
    assert isinstance(facts.ring, NumberRing)
    assert 100.0 <= facts.ring.q <= 2000.0
    assert 0.01 <= 1.0 / steps <= 0.2
    assert 0.03 - 1e-9 <= facts.train.backlash / steps <= 20.0 + 1e-9
    assert 0.03 - 1e-9 <= facts.train.windup / steps <= 20.0 + 1e-9
    assert 200 <= facts.speed <= 1000
    assert 0.02 <= facts.meter.period <= 0.1
    assert 0.01 <= facts.meter.noise <= 0.05
    assert abs(facts.table_off) <= 10.0 * steps
    assert facts.low_end < facts.start < facts.high_end


def test_a_keyed_ring_in_tune_warms_and_drifts():
    facts = replace(draw_twin(random.Random(3)), operator=OperatorFacts(patience=1e9))
    world = World(facts, tuning_limit=5.0)
    world.train.rotor = facts.ring.place  # type: ignore[attr-defined]
    world.operator.keys_by_mistake(100.0, 1e9)
    world.run_until(10.0 * facts.cooling)
    share = facts.ring.reflected_share(facts.frequency, world.train.rotor, world.warmth.kelvin)
    accepted = folded_forward(100.0, share) * (1.0 - share)
    assert world.warmth.kelvin == pytest.approx(facts.heat_rise * accepted, rel=0.02)
    assert world.stance().resonance < facts.frequency


def test_a_world_of_one_seed_is_one_world():
    states = []
    for _ in range(2):
        world = World(draw_twin(random.Random(5)), tuning_limit=5.0)
        heard: list[str] = []
        world.listener = heard.append
        world.operator.keys_by_mistake(4.0, 2.0)
        world.run_until(5.0)
        states.append(heard)
    assert states[0] == states[1]
    assert len(states[0]) > 40
