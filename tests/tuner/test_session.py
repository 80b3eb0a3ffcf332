# SPDX-License-Identifier: BSD-3-Clause
"""A session: brain, link and clock together on a simulated twin; control, STOP and what is told."""

import json
import re
from dataclasses import replace

import pytest

from ringwright.tuner.brain import (
    GoTo,
    Nudge,
    NudgeOver,
    Phase,
    PressStop,
    Release,
    Tell,
    Tune,
    Why,
    Word,
)
from ringwright.tuner.session import TURN
from ringwright.tuner.session_control import PATIENCE, Control
from ringwright.tuner.session_words import phase_words, told_words
from ringwright.tuner.twin_link import AT_REST, PULLED
from tests.tuner.sessions import Bench

FREQUENCY = 10.125e6


@pytest.fixture
def bench():
    made = Bench()
    made.run(1.0)
    return made


@pytest.fixture(scope="module")
def tuned():
    """From cold to tuned."""
    made = Bench()
    made.run(1.0)
    made.session.ask(Tune(FREQUENCY), viewer=made.me)
    made.run_until(lambda: made.phase is Phase.TUNED, at_most=120.0)
    return made


def moving(bench):
    board = bench.twin.world.board
    return board is not None and board.moving


def test_a_cold_twin_is_tuned_and_the_pair_learnt(tuned):
    twin = tuned.twin.world
    assert (
        twin.facts.ring.reflected_share(FREQUENCY, twin.train.rotor, twin.warmth.kelvin) < 0.02
    )  # SWR below 1.33
    (table,) = tuned.tables
    assert table.points[0].frequency == FREQUENCY
    assert tuned.session.curve.sigma(FREQUENCY) < 0.02 * Bench().session.curve.sigma(FREQUENCY)
    (ended,) = tuned.ended
    assert ended.told.word.value == "tuned"
    assert len(ended.search.readings) > 5
    assert twin.monitor.acts == {}
    tuned.session.stop()
    tuned.run(0.2)
    assert len(tuned.ended) == 1  # what has ended ends once
    tuned.session.ask(Release(), viewer=tuned.me)
    tuned.run(0.2)


def test_what_is_told_is_json_with_words(tuned):
    kinds = {document["type"] for document in tuned.said}
    assert kinds >= {"state", "search", "told", "table", "control"}
    for document in tuned.said:
        json.dumps(document, allow_nan=False)
    told = [document["words"] for document in tuned.said if document["type"] == "told"]
    assert "Key 4 W on 10.1250 MHz now." in told
    assert any(words.startswith("Tuned to 10.1250 MHz, SWR 1.") for words in told)


def test_a_pulled_cable_is_told_within_a_second_and_the_drive_rests_within_one_and_a_half(bench):
    bench.session.ask(GoTo(FREQUENCY), viewer=bench.me)
    bench.run_until(lambda: moving(bench), at_most=5.0)
    bench.run(0.5)  # the last that is heard of it is that it turns
    bench.twin.pull(is_pulled=True)
    pulled = bench.clock.now()
    told = bench.run_until(lambda: "link lost" in bench.words(), at_most=2.0)
    assert told <= 1.0
    bench.run_until(lambda: not moving(bench), at_most=2.0)
    bench.run(TURN)
    notes = [document["words"] for document in bench.said if document.get("word") == "note"]
    assert notes == ["Going to 10.1250 MHz: about 20 s.", PULLED, AT_REST]
    assert (
        bench.clock.now() - pulled <= 1.5 + 0.5
    )  # 1.5 s after the last heartbeat, which may have just been sent
    bench.run(1.0)
    assert [each for each in bench.said if each["type"] == "state"][-1]["moving"] is False
    assert bench.session.state.phase is Phase.AWAY
    bench.twin.pull(is_pulled=False)
    bench.run_until(lambda: bench.phase is Phase.RESTING, at_most=5.0)
    bench.session.ask(GoTo(FREQUENCY), viewer=bench.me)
    bench.run_until(lambda: "arrived" in bench.words(), at_most=120.0)


def test_stop_passes_the_queue_and_needs_no_control(bench):
    bench.session.ask(GoTo(FREQUENCY), viewer=bench.me)
    bench.run_until(lambda: moving(bench), at_most=5.0)
    other = bench.session.join("second page")
    for _ in range(50):
        bench.session.ask(GoTo(7.1e6), viewer=bench.me)
    bench.session.ask(PressStop(), viewer=other)
    bench.run_until(lambda: not moving(bench), at_most=0.5)
    assert bench.phase is Phase.STOPPED
    bench.session.ask(GoTo(FREQUENCY), viewer=bench.me)
    bench.run(1.0)
    assert not moving(bench)
    bench.session.ask(Release(), viewer=bench.me)
    bench.run(0.5)
    bench.session.ask(GoTo(FREQUENCY), viewer=bench.me)
    bench.run_until(lambda: moving(bench), at_most=2.0)


def test_a_viewer_moves_nothing_until_it_has_taken_control(bench):
    other = bench.session.join("second page")
    bench.session.ask(GoTo(FREQUENCY), viewer=bench.me)
    bench.run_until(lambda: moving(bench), at_most=5.0)
    goal = bench.session.state.goal.to
    bench.session.ask(GoTo(5.36e6), viewer=other)
    bench.run(0.2)
    assert bench.session.state.goal.to == goal
    assert any("first page holds control" in str(document.get("words")) for document in bench.said)
    bench.session.take(other)
    bench.run(0.2)
    assert bench.session.control.holder_name == "second page"
    bench.session.ask(GoTo(7.1e6), viewer=bench.me)
    bench.run(0.2)
    assert any("second page holds control" in str(document.get("words")) for document in bench.said)


def test_the_page_in_control_gone_for_three_seconds_while_moving_is_stop(bench):
    bench.session.ask(GoTo(FREQUENCY), viewer=bench.me)
    bench.run_until(lambda: moving(bench), at_most=5.0)
    bench.session.leave(bench.me)
    gone = bench.run_until(lambda: bench.phase is Phase.STOPPED, at_most=5.0, is_there=False)
    assert PATIENCE - 0.2 <= gone <= PATIENCE + 0.2
    bench.run(0.3, is_there=False)
    assert not moving(bench)
    assert bench.session.control.holder is None


def test_the_page_in_control_gone_while_at_rest_only_gives_control_back(bench):
    bench.session.take(bench.me)
    bench.run(PATIENCE + 0.5, is_there=False)
    assert bench.session.control.holder is None
    assert bench.phase is Phase.RESTING


def test_a_nudge_lives_only_as_long_as_it_is_said_again(bench):
    bench.session.ask(GoTo(FREQUENCY), viewer=bench.me)
    bench.run_until(lambda: "arrived" in bench.words(), at_most=120.0)
    before = bench.twin.world.train.motor
    for _ in range(5):
        bench.session.ask(Nudge(-500.0), viewer=bench.me)
        bench.run(0.2)
    assert bench.phase is Phase.NUDGING
    bench.run(1.5)
    assert not moving(bench)
    assert bench.phase is not Phase.NUDGING
    assert bench.twin.world.train.motor > before  # towards more capacitance
    bench.session.ask(NudgeOver(), viewer=bench.me)
    bench.run(0.2)
    rest = bench.twin.world.train.motor
    bench.run(1.0)
    assert bench.twin.world.train.motor == rest


@pytest.mark.parametrize("change", [-5e3, 5e3])
def test_a_tap_moves_the_ring_itself_as_far_as_the_label_says_either_way(bench, change):
    bench.session.ask(GoTo(FREQUENCY), viewer=bench.me)
    bench.run_until(lambda: "arrived" in bench.words(), at_most=120.0)
    bench.run(1.0)
    before = bench.twin.world.stance().resonance
    bench.session.ask(Nudge(change), viewer=bench.me)
    bench.run(0.1)
    bench.session.ask(NudgeOver(), viewer=bench.me)
    bench.run_until(lambda: "nudged" in bench.words(), at_most=5.0)
    bench.run(1.0)
    # The built ring is a little other than the table, and half a step is rounded away.
    assert bench.twin.world.stance().resonance - before == pytest.approx(change, abs=0.4e3)
    assert "Nudged by" in [each["words"] for each in bench.said if each["type"] == "told"][-1]


def test_a_long_way_says_how_long_it_takes_and_nothing_is_ready_beside_a_doubt(bench):
    bench.session.ask(Tune(FREQUENCY), viewer=bench.me)
    bench.run_until(lambda: bench.session.state.phase is Phase.TRAVELLING, at_most=5.0)
    bench.run(0.2)
    state = [each for each in bench.said if each["type"] == "state"][-1]
    assert re.fullmatch(r"going, 10\.1250 MHz, about \d+ s", state["words"])
    took = bench.run_until(lambda: bench.phase is Phase.ASKING, at_most=60.0)
    assert took == pytest.approx(state["way_s"], rel=0.1)  # ramps are left out
    bench.run_until(lambda: bench.phase is Phase.TUNED, at_most=60.0)
    bench.run(1.0)
    for each in bench.said:
        assert each["type"] != "state" or each["sure"] or "ready" not in each["words"]
    state = replace(bench.session.state, doubt=Why.LOST_STEPS)
    assert phase_words(state) == "tuned, position not sure yet"


def test_who_was_asked_to_transmit_is_told_to_stop_when_the_session_ends(bench):
    bench.session.ask(Tune(FREQUENCY), viewer=bench.me)
    bench.run_until(lambda: bench.phase is Phase.SEARCHING, at_most=60.0)
    bench.session.close()
    assert bench.words()[-2:] == ["stopped", "key up"]


def test_a_ring_too_far_off_for_power_says_what_would_do(bench):
    words = told_words(Tell(Word.REFUSED, (("why", Why.SWR_TOO_HIGH),)))
    assert bench.parts.ring.most_swr == 2.0
    assert "SWR is above 2" in words
    assert "stop transmitting" in words


def test_one_who_comes_later_is_told_how_things_stand(tuned):
    tuned.run(1.0)  # the first dip has set the count, which the board is told
    first, control, search = tuned.session.beginning()
    assert first["type"] == "state"
    assert first["phase"] in {"tuned", "resting"}
    assert first["sure"] is True
    assert control["holder_name"] == "first page"
    assert search["dip"]["depth"] > 0.5
    # Though the count was put right, the dip is drawn where the drive stands.
    assert search["dip"]["centre_steps"] == pytest.approx(first["position_steps"], abs=5.0)


def test_control_is_dropped_by_one_who_only_looked_on():
    control = Control()
    one, two = (control.join(name, now=0.0) for name in ("one", "two"))
    assert control.may(one, now=0.0)
    assert not control.may(two, now=0.0)
    control.leave(two)
    assert not control.may(two, now=0.0)
    control.take(two, now=0.0)  # who has left takes nothing
    assert control.holder == one
    control.leave(one)
    assert not control.is_gone(now=PATIENCE - 0.1)
    assert control.is_gone(now=PATIENCE + 0.1)
