# SPDX-License-Identifier: BSD-3-Clause
"""The monitor counts what it must: a brain, and where need be a board, broken on purpose in each way."""

import random
from dataclasses import replace

import pytest

from ringwright.tuner.board import Board
from ringwright.tuner.brain import Invite, Rise, Send, Tell, Tick, Tune
from ringwright.tuner.brain.step import step
from ringwright.tuner.messages import Heartbeat, HostLine, Move, Stop
from ringwright.tuner.monitor import Monitor, Stance, Unsafe
from ringwright.tuner.trial.host import Host
from ringwright.tuner.trial.told import TUNING_LIMIT, told_curve, told_ring
from ringwright.tuner.trial.truth import resonant_motor
from ringwright.tuner.twin.facts import draw_twin
from ringwright.tuner.twin.world import World
from tests.tuner.lines import sealed_line

SEED = 4


class DeafBoard(Board):
    """Obeys moves without looking at anything; hears no STOP."""

    def _led_until(self):
        return 10**12, 10**12

    def _held_by(self, ms):
        return None

    def _stop(self, ms):
        """Nothing."""

    def _set_limit(self, limit_w, ms):
        self.limit_w = 1e9

    def _move(self, to, speed, ms):
        self._begin(to, self._drive["speed"], ms)


class Scene:
    """A twin whose table is right, a host whose brain is as given, and time."""

    def __init__(self, brain=step, **changes):
        rng = random.Random(SEED)
        drawn = draw_twin(rng)
        channel = replace(drawn.channel, delay=0.001, lost=0.0, repeated=0.0, garbled=0.0)
        self.facts = replace(drawn, table_off=0.0, channel=channel, inhibit_is_wired=False, **changes)
        self.world = World(self.facts, tuning_limit=TUNING_LIMIT)
        ring = told_ring(self.facts, rng)
        curve = told_curve(self.facts, self.facts.ring, place=resonant_motor(self.world), rng=rng)
        self.world.expected_at = lambda count: curve.frequency(count, None)
        self.said: list[Tell] = []
        self.host = Host(self.world, ring, curve, step=brain, on_tell=self.said.append)
        self.run(1.0)

    def run(self, seconds):
        self.world.run_until(self.world.now + seconds)

    @property
    def acts(self):
        return set(self.world.monitor.acts)


class Broken:
    """The brain, with orders and commands slipped in once, and no STOP, nor what else is left out, from then on."""

    def __init__(self, *, at, orders=(), commands=(), leaves_out=()):
        self.at, self.orders, self.commands = at, orders, commands
        self.leaves_out, self.is_done = (Stop, *leaves_out), False

    def __call__(self, state, event, now):
        state, commands = step(state, event, now)
        if now < self.at:
            return state, commands
        commands = tuple(
            each
            for each in commands
            if not (isinstance(each, Send) and isinstance(each.line.order, self.leaves_out))
        )
        if self.is_done or not isinstance(event, Tick):
            return state, commands
        self.is_done = True
        lines = []
        for order in self.orders:
            lines.append(Send(HostLine(state.contact.next_seq, order)))
            state = replace(state, contact=replace(state.contact, next_seq=state.contact.next_seq + 1))
        return state, (*commands, *lines, *self.commands)


@pytest.fixture
def deaf(monkeypatch):
    monkeypatch.setattr("ringwright.tuner.twin.world.Board", DeafBoard)


FACTS = draw_twin(random.Random(SEED))
FAR = FACTS.high_end - 5


def test_an_honest_brain_on_an_honest_board_is_never_counted():
    scene = Scene()
    scene.host.ask(Tune(scene.facts.frequency))
    scene.run(60.0)
    scene.host.ask(Rise(scene.facts.power_limit))
    scene.run(15.0)
    assert scene.host.state.tuned is not None
    assert scene.acts == set()


def test_a_step_at_power_is_counted(deaf):
    scene = Scene(Broken(at=1.5, orders=[Move(FAR)]))
    scene.run(1.0)
    scene.world.operator.keys_by_mistake(100.0, 5.0)
    scene.run(1.0)
    assert Unsafe.STEP_AT_POWER in scene.acts


def test_a_step_shortly_after_power_came_is_not_counted():
    scene = Scene(Broken(at=1.5, orders=[Move(FAR)]))
    scene.run(1.0)
    before = scene.world.train.motor
    scene.world.operator.keys_by_mistake(100.0, 5.0)
    scene.run(3.0)
    assert scene.world.train.motor != before  # it stopped by itself, a reading later
    assert scene.acts == set()


def test_a_move_begun_on_a_reading_above_the_limit_is_counted_at_the_drive(deaf):
    scene = Scene(Broken(at=3.0, orders=[Move(FAR)]))
    scene.world.operator.keys_by_mistake(100.0, 5.0)
    scene.run(3.0)
    assert scene.world.monitor.acts[Unsafe.MOVE_AT_POWER] == 2  # sent, and begun


def test_a_move_sent_on_a_reading_above_the_limit_is_counted_at_the_host():
    scene = Scene(Broken(at=3.0, orders=[Move(FAR)]))
    scene.world.operator.keys_by_mistake(100.0, 5.0)
    scene.run(3.0)
    assert scene.world.monitor.acts[Unsafe.MOVE_AT_POWER] == 1  # the board refused it


def test_power_invited_on_a_stale_reading_is_counted():
    scene = Scene(Broken(at=3.0, commands=[Invite(4.0)]))
    scene.run(1.0)
    scene.host.cut_link(is_cut=True)
    scene.run(2.0)
    assert scene.acts == {Unsafe.INVITED_STALE}


def test_more_power_than_the_bands_limit_is_counted():
    scene = Scene(Broken(at=3.0, commands=[Invite(FACTS.power_limit * 1.01)]))
    scene.run(3.0)
    assert Unsafe.INVITED_TOO_MUCH in scene.acts


@pytest.mark.parametrize(
    ("start", "to"),
    [(FACTS.low_end + 50, FACTS.low_end - 5), (FACTS.high_end - 50, FACTS.high_end + 5)],
)
def test_a_step_past_a_soft_end_is_counted(deaf, start, to):
    scene = Scene(Broken(at=1.2, orders=[Move(to)]), start=start)
    scene.run(1.0)
    assert scene.world.board is not None
    assert scene.world.board.at == to
    assert scene.acts == {Unsafe.STEP_PAST_END}


def test_a_step_without_a_heartbeat_is_counted(deaf):
    scene = Scene(Broken(at=1.2, orders=[Move(FAR)], leaves_out=(Heartbeat,)))
    scene.run(4.0)
    assert scene.acts == {Unsafe.STEP_UNLED}


def test_a_board_without_a_heartbeat_stops_in_time():
    scene = Scene(Broken(at=1.2, orders=[Move(FAR, 20)], leaves_out=(Heartbeat,)))
    scene.run(4.0)
    assert scene.world.board is not None
    assert scene.world.board.stopped_by == "heartbeat"
    assert scene.acts == set()


def test_a_step_after_stop_is_counted(deaf):
    scene = Scene(Broken(at=1.2, orders=[Move(FAR)]))
    scene.run(1.0)
    scene.world.reaches_board(sealed_line(seq=1, do="stop"))
    scene.run(1.0)
    assert scene.acts == {Unsafe.STEP_AFTER_STOP}


def test_power_invited_after_steps_were_lost_unseen_is_counted():
    scene = Scene(Broken(at=40.0, commands=[Invite(30.0)]))
    scene.host.ask(Tune(scene.facts.frequency))
    scene.run(38.0)
    assert scene.host.state.tuned is not None
    assert scene.acts == set()
    lost = round(1.5 * scene.facts.ring.half_power_steps(scene.facts.frequency))
    scene.world.train.motor -= lost
    scene.world.train.rotor -= lost
    scene.run(2.0)
    assert scene.acts == {Unsafe.INVITED_LOST}


def test_power_invited_off_resonance_is_counted():
    scene = Scene(Broken(at=3.0, commands=[Invite(30.0)]))
    scene.run(3.0)
    assert scene.acts == {Unsafe.INVITED_LOST}


# The monitor alone, where a scene would be long-winded.

HERE = Stance(motor=500, resonance=7.1e6, bandwidth=7e3, bandwidth_steps=20.0)


def monitor(**orders):
    m = Monitor(tuning_limit=5.0, count=500)
    said(m, {"do": "ends", "low": 0, "high": 1000}, seq=1)
    m.reached_board(0.0, sealed_line(seq=2, do="heartbeat"))
    return m


def said(m, order, *, seq, expected=None, stance=HERE):
    m.reached_board(0.0, sealed_line(seq=seq, **order))
    m.board_said(sealed_line(seq=9, answers=seq, ok=True), lambda: stance, expected)


def invites(m, *, count, sure=True, proved=True, stance=HERE, expected=7.2e6):
    m.invited(
        1.0,
        30.0,
        reading_taken=0.9,
        power_limit=100.0,
        called_sure=sure,
        called_proved=proved,
        claimed=7.1e6,
        count=count,
        expected=expected,
        stance=stance,
    )


def test_a_count_within_a_bandwidth_is_right():
    m = monitor()
    invites(m, count=519)
    assert m.total == 0
    invites(m, count=521)
    assert m.acts == {Unsafe.INVITED_LOST: 1}


def test_a_count_that_the_resonance_confirms_is_right():
    m = monitor()
    invites(m, count=560, expected=7.1e6 + 6.9e3)
    assert m.total == 0
    invites(m, count=560, expected=7.1e6 + 7.1e3)
    assert m.acts == {Unsafe.INVITED_LOST: 1}


def test_a_position_that_nobody_calls_sure_is_not_counted():
    m = monitor()
    invites(m, count=900, sure=False)
    assert m.total == 0


def test_a_count_that_is_not_called_proved_may_be_off_but_the_resonance_may_not():
    m = monitor()
    invites(m, count=900, proved=False)
    assert m.total == 0
    invites(m, count=500, proved=False, stance=replace(HERE, resonance=7.1e6 + 7.1e3))
    assert m.acts == {Unsafe.INVITED_LOST: 1}


def test_a_count_put_right_by_resonance_is_right_from_then_on():
    m = monitor()
    said(m, {"do": "position", "is": 600, "sure": True}, seq=3, expected=lambda count: 7.1e6 + 2e3)
    invites(m, count=600)
    assert m.total == 0
    invites(m, count=600, stance=replace(HERE, motor=480))  # 20 lost, and 6 off from the beginning
    assert m.acts == {Unsafe.INVITED_LOST: 1}


def test_a_count_put_right_by_a_wrong_resonance_is_wrong():
    m = monitor()
    said(m, {"do": "position", "is": 600, "sure": True}, seq=3, expected=lambda count: 7.1e6 + 8e3)
    invites(m, count=600)
    assert m.acts == {Unsafe.INVITED_LOST: 1}


def test_a_late_heartbeat_is_none():
    m = monitor()
    m.reached_board(1.4, sealed_line(seq=2, do="heartbeat"))
    m.stepped(1.6, 5)
    assert m.acts == {Unsafe.STEP_UNLED: 1}


def test_a_garbled_line_is_no_order():
    m = monitor()
    m.reached_board(1.0, sealed_line(seq=5, do="heartbeat").replace("5", "9"))
    m.reached_board(1.0, sealed_line(seq=6, do="heartbeat"))
    m.stepped(2.0, 5)
    assert m.total == 0


def test_an_act_counts_once_a_motion():
    m = monitor()
    for at in (2.0, 2.1, 2.2):
        m.stepped(at, 5)
    m.rested()
    m.stepped(3.0, 5)
    assert m.acts == {Unsafe.STEP_UNLED: 2}


def test_a_board_that_started_anew_has_no_ends_and_no_heartbeat():
    m = monitor()
    m.board_started()
    m.stepped(0.1, 1)
    assert set(m.acts) == {Unsafe.STEP_PAST_END, Unsafe.STEP_UNLED}


def test_the_way_to_the_end_stop_is_no_step_past_an_end():
    m = monitor()
    said(m, {"do": "reference"}, seq=3)
    m.stepped(0.5, -510)
    assert m.total == 0
    m.rested()
    m.stepped(0.6, -1)
    assert m.acts == {Unsafe.STEP_PAST_END: 1}


def test_a_reference_sought_at_the_end_stop_itself_is_over_at_once():
    m = monitor()
    said(m, {"do": "reference"}, seq=3)
    m.end_switch_closed(-20, 400)
    m.stepped(0.5, 30)
    assert m.total == 0
    m.rested()
    m.stepped(0.6, -31)
    assert m.acts == {Unsafe.STEP_PAST_END: 1}


def test_a_move_ends_the_search_for_the_end_stop():
    m = monitor()
    said(m, {"do": "reference"}, seq=3)
    said(m, {"do": "move", "to": 10, "speed": None}, seq=4)
    m.stepped(0.5, -501)
    assert m.acts == {Unsafe.STEP_PAST_END: 1}
