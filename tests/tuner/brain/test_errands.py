# SPDX-License-Identifier: BSD-3-Clause
"""What a person asks for, on a board without fault."""

from dataclasses import replace
from pathlib import Path

import pytest

from ringwright.tuner import board
from ringwright.tuner.brain import (
    AcknowledgementSeen,
    Band,
    FindReference,
    Follow,
    GoTo,
    Jog,
    Listen,
    LoudestNow,
    Nudge,
    NudgeOver,
    Phase,
    Ring,
    Rise,
    Send,
    Tick,
    Tune,
    Why,
    Word,
    begin,
    step,
)
from ringwright.tuner.journal import Kept
from ringwright.tuner.messages import NO_HEARTBEAT, Acknowledgement, Heartbeat
from tests.tuner.brain.ideal_board import Bench, without_stops

RING = Ring(
    bands=(Band(name="40 m", low=7.0e6, high=7.2e6, power_limit=60.0, half_width=4e3, best_swr=1.2),),
    low_end=0,
    high_end=5000,
    has_end_stop=True,
    steps_per_turn=None,
    slack=60,
    speed=400.0,
)
F = 7.16e6  # the straight curve has it at 2600


def test_tuning_meets_the_dip_from_below_and_teaches_the_table():
    bench = Bench(RING, dip_at=2610.0)
    bench.ask(Tune(F))
    bench.until(Phase.TUNED)
    assert abs(bench.at - 2610) <= 2  # 0.05 half-widths
    assert [learnt.frequency for learnt in bench.learnt] == [F]
    assert abs(bench.learnt[0].position - 2610.0) < 3.0
    assert Word.STEPS_LOST not in bench.words()


def test_going_somewhere_needs_no_carrier():
    bench = Bench(RING)
    bench.ask(GoTo(F))
    bench.run(4.0)
    assert (bench.at, bench.power) == (2600, 0.0)
    assert Word.ARRIVED in bench.words()
    assert not any(word is Word.KEY_LOW for word in bench.words())


def test_a_dip_elsewhere_teaches_the_table_and_leaves_a_sure_count_alone():
    bench = Bench(RING, dip_at=2560.0)
    bench.ask(Tune(F))
    bench.until(Phase.TUNED)
    bench.run(1.0)
    assert Word.STEPS_LOST not in bench.words()
    assert abs(bench.at - 2560) <= 2
    assert abs(bench.learnt[0].position - 2560.0) < 3.0
    assert bench.state.is_sure
    assert not bench.state.is_proved  # lost steps would look the same
    assert not bench.learnt[0].overrules
    bench.ask(Rise(60.0))
    assert bench.told[-1].word is Word.RAISE  # it is the dip that was measured, not the count


def test_a_count_that_a_dip_has_questioned_stays_so_over_a_restart_of_the_program():
    bench = Bench(RING, dip_at=2560.0)
    bench.ask(Tune(F))
    bench.until(Phase.TUNED)
    kept = bench.state.kept
    later = begin(RING, bench.state.curve, first_seq=1, now=0.0, kept=kept, is_whole=True)
    assert later.doubt is None
    assert not later.is_proved
    assert begin(RING, bench.state.curve, first_seq=1, now=0.0, kept=None, is_whole=True).is_proved


def test_the_end_stop_proves_the_count_again():
    bench = Bench(RING, dip_at=2560.0)
    bench.ask(Tune(F))
    bench.until(Phase.TUNED)
    bench.ask(FindReference())
    bench.run(2.0)
    assert bench.state.is_proved


def test_a_dip_far_off_right_after_the_end_stop_overrules_the_table():
    bench = Bench(RING, is_sure=False, dip_at=2500.0, spread=20.0)
    bench.ask(Tune(F))  # seeks the end stop first
    bench.until(Phase.TUNED)
    assert bench.words().index(Word.REFERENCED) < bench.words().index(Word.KEY_LOW)
    assert bench.learnt[0].overrules
    assert abs(bench.learnt[0].position - 2500.0) < 3.0
    assert bench.state.is_sure


def test_a_dip_far_from_where_it_was_learnt_is_doubt_and_no_power_is_raised():
    bench = Bench(RING, dip_at=2500.0, spread=20.0)
    bench.ask(Tune(F))
    for _ in range(400):
        bench.run(0.1)
        if bench.state.doubt is not None:
            break
    assert bench.state.doubt is Why.LOST_STEPS
    bench.ask(Rise(60.0))
    assert bench.told[-1].word is Word.REFUSED
    bench.ask(FindReference())
    bench.run(2.0)
    assert bench.state.doubt is None
    assert Word.REFERENCED in bench.words()


def test_without_a_sure_count_the_end_stop_is_sought_first():
    bench = Bench(RING, is_sure=False)
    assert bench.state.doubt is Why.BOARD_DOUBTS
    bench.ask(Tune(F))
    bench.until(Phase.TUNED)
    assert bench.words().index(Word.REFERENCED) < bench.words().index(Word.KEY_LOW)


def test_both_counts_agreeing_are_trusted_over_a_cold_start_of_the_board():
    bench = Bench(RING, is_sure=False, kept=Kept(2500, True, None, 1))
    assert bench.state.is_sure
    assert bench.is_sure


def test_a_journal_that_ends_on_the_way_is_doubt_if_the_board_doubts_too():
    bench = Bench(RING, is_sure=False, kept=Kept(2400, True, 2600, 1))
    assert bench.state.doubt is not None


def nudged(bench):
    return [(tell.value("steps"), tell.value("change")) for tell in bench.told if tell.word is Word.NUDGED]


@pytest.mark.parametrize(("change", "steps"), [(-5e3, -50), (5e3, 50), (20.0, 1)])  # 20 Hz: a step, no less
def test_a_tap_goes_as_far_as_its_label_says_and_stands(change, steps):
    bench = Bench(RING)
    bench.ask(Nudge(change))
    bench.run(0.05)
    bench.ask(NudgeOver())
    bench.run(2.5)
    assert bench.at == 2500 + steps
    assert bench.state.phase is Phase.RESTING
    assert nudged(bench) == [(steps, pytest.approx(100.0 * steps))]
    bench.run(2.0)
    assert bench.at == 2500 + steps


def test_three_taps_go_three_times_as_far():
    bench = Bench(RING)
    for _ in range(3):
        bench.ask(Nudge(5e3))
        bench.run(0.05)
        bench.ask(NudgeOver())
        bench.run(0.05)
    bench.run(3.0)
    assert bench.at == 2650
    assert nudged(bench) == [(150.0, pytest.approx(15e3))]


def test_a_held_button_goes_as_far_again_every_half_second_until_it_is_let_go():
    bench = Bench(replace(RING, slack=2))
    for _ in range(12):  # 2.4 s: begun at 0, 0.5, 1.0, 1.5, 2.0 s
        bench.ask(Nudge(5e3))
        bench.run(0.2)
    bench.ask(NudgeOver())
    bench.run(2.0)
    assert bench.at == 2500 + 5 * 50
    assert nudged(bench) == [(250.0, pytest.approx(25e3))]


def test_nobody_says_any_more_that_it_is_held_and_the_drive_stands():
    bench = Bench(RING)
    bench.ask(Nudge(200e3))
    bench.run(0.9)
    stood = bench.at
    assert stood < 4500
    bench.run(2.0)
    assert bench.at == stood
    assert nudged(bench) == [(stood - 2500, pytest.approx(100.0 * (stood - 2500)))]


def test_a_way_too_long_to_end_is_broken_off_after_the_button_is_let_go():
    bench = Bench(RING)
    bench.ask(Nudge(200e3))  # 5 s
    bench.run(0.2)
    bench.ask(NudgeOver())
    bench.run(3.1)
    stood = bench.at
    assert stood < 4500
    bench.run(2.0)
    assert bench.at == stood


def test_a_tap_does_not_wait_for_a_carrier_to_go():
    bench = Bench(RING)
    bench.ask(Nudge(50e3))
    bench.run(0.2)
    bench.ask(NudgeOver())
    bench.power = 20.0
    bench.run(0.5)
    stood = bench.at
    bench.power = 0.0
    bench.run(2.0)
    assert bench.at == stood
    assert stood < 3000


def test_a_nudge_at_the_end_of_the_travel_is_refused_once():
    bench = Bench(RING, at=5000)
    for _ in range(5):
        bench.ask(Nudge(5e3))
        bench.run(0.2)
    bench.ask(NudgeOver())
    bench.run(0.5)
    assert [tell.value("why") for tell in bench.told if tell.word is Word.REFUSED] == [Why.OUT_OF_TRAVEL]
    assert bench.at == 5000
    assert nudged(bench) == []


def test_a_count_that_is_said_is_gone_to_as_long_as_it_is_said():
    bench = Bench(RING)
    for _ in range(10):
        bench.ask(Jog(2900, 100))
        bench.run(0.2)
    assert 2680 <= bench.at <= 2700  # 2 s at 100 steps/s
    bench.run(0.6)
    stood = bench.at
    bench.run(2.0)
    assert bench.at == stood
    assert bench.state.phase is Phase.RESTING


def test_the_drift_is_followed_while_nobody_transmits_and_not_while_someone_does():
    bench = Bench(RING)
    bench.ask(Tune(F))
    bench.until(Phase.TUNED)
    bench.ask(Follow(True))
    bench.temperature = 60.0  # -100 Hz for each kelvin: 40 steps up
    bench.run(2.0)
    assert bench.power > 0.0
    assert abs(bench.at - 2600) <= 2
    bench.power = 0.0
    bench.run(6.0)
    assert abs(bench.at - 2640) <= 2
    assert Word.FOLLOWED in bench.words()


def test_the_loudest_noise_is_found_and_tuning_begins_there():
    bench = Bench(RING, dip_at=2570.0, spread=60.0)
    bench.noise = lambda at: -100.0 + 20.0 / (1.0 + ((at - 2570.0) / 40.0) ** 2)
    bench.ask(Listen(F))
    bench.run(25.0)
    assert Word.LOUDEST in bench.words()
    assert bench.state.loudest is not None
    assert abs(bench.state.loudest[1] - 2570) < 20
    bench.ask(Tune(F))
    bench.run(0.1)
    assert bench.state.search is not None
    assert bench.state.search.expected == bench.state.loudest[1]
    bench.until(Phase.TUNED)


def test_the_operator_may_hear_it_instead():
    bench = Bench(RING, spread=200.0)
    bench.ask(Listen(F))
    bench.run(4.0)
    bench.ask(LoudestNow())
    assert bench.state.loudest == (F, round(bench.at))
    assert bench.state.phase is Phase.RESTING


def test_a_capacitor_without_ends_is_tuned_in_the_nearest_turn():
    bench = Bench(without_stops(RING), at=12_300, dip_at=12_605.0)
    bench.ask(Tune(F))
    bench.until(Phase.TUNED)
    assert abs(bench.at - 12_605) <= 2
    assert abs(bench.learnt[0].position - 2605.0) < 3.0


def test_a_rise_on_the_bench_reaches_what_was_asked_for():
    bench = Bench(RING)
    bench.ask(Tune(F))
    bench.until(Phase.TUNED)
    bench.ask(Rise(60.0))
    bench.until(Phase.AT_POWER)
    assert bench.power == 60.0
    raised = [tell.value("power") for tell in bench.told if tell.word is Word.RAISE]
    assert raised == [5.0, 30.0, 60.0]


def test_each_power_is_looked_at_for_a_second_before_the_next():
    bench = Bench(RING)
    bench.ask(Tune(F))
    bench.until(Phase.TUNED)
    bench.ask(Rise(60.0))
    seen: dict[float, float] = {}
    while bench.state.phase is not Phase.AT_POWER:
        seen.setdefault(bench.power, bench.now)
        bench.run(0.05)
    assert seen[30.0] - seen[5.0] >= 1.0
    assert seen[60.0] - seen[30.0] >= 1.0


def heartbeats(commands):
    return [
        command for command in commands if isinstance(command, Send) and command.line.order == Heartbeat()
    ]


@pytest.mark.parametrize("why", ["not newer than what was seen", NO_HEARTBEAT])
def test_a_heartbeat_that_a_newer_order_overtook_is_said_again_at_once(why):
    bench = Bench(RING)
    bench.run(1.0)
    state, seq = bench.state, bench.state.contact.beat_seq
    if seq < 0:  # acknowledged already: the next one is not
        state, commands = step(state, Tick(), bench.now + 0.6)
        (beat,) = heartbeats(commands)
        seq = beat.line.seq
    refused = Acknowledgement(seq=900, answers=seq, is_done=False, why=why)
    _, commands = step(state, AcknowledgementSeen(refused), bench.now + 0.7)
    assert len(heartbeats(commands)) == 1


def test_a_board_says_no_heartbeat_in_the_words_that_the_brain_knows():
    assert f'"{NO_HEARTBEAT}"' in Path(board.__file__).read_text(encoding="utf-8")
