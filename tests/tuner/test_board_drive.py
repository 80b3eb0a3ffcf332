# SPDX-License-Identifier: BSD-3-Clause
"""A board whose motor has mass: ramps, end stops, pulses that came late, flash that is full."""

import json
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.tuner.board import Board
from ringwright.tuner.board_journal import Journal
from ringwright.tuner.board_motion import BRAKE_MS
from ringwright.tuner.board_settings import DEFAULTS, Settings
from ringwright.tuner.messages import AskSettings, BoardSettings, HostLine, SetSetting, Status
from ringwright.tuner.messages_text import host_text, parse_board_line
from ringwright.tuner.twin.flash import Flash
from tests.tuner.lines import sealed_line
from tests.tuner.test_board_settings import Slots

DRIVE = {
    "speed": 1000,
    "acceleration": 4000,
    "seek_speed": 300,
    "travel": 4000,
    "stop_at": -40,
    "high_stop_at": 4040,
}


class Rig:
    """A board read every 50 ms and led every 500 ms, its motor counted pulse by pulse."""

    def __init__(self, *, at=1000, store=None, settings=None, gap_ms=None, **drive):
        self.store = store or Flash()
        Journal(self.store).note(at, True)
        values = DRIVE | drive if settings is None else settings.values
        self.board = Board(self.store, 0, values, settings=settings, gap_ms=gap_ms)
        self.motor, self.ms, self.seq = at, 0, 0
        self.power, self.last_step = 0.0, 0
        self.read()
        self.says("ends", low=0, high=4000)
        self.says("limit", tuning_power_w=5.0)
        self.says("heartbeat")

    def says(self, do, **fields):
        self.seq += 1
        return json.loads(self.board.receive(sealed_line(seq=self.seq, do=do, **fields), self.ms)[0])

    def move(self, to):
        return self.says("move", to=to, speed=None)

    def read(self):
        return json.loads(self.board.read(self.ms, self.power, 0.0, temperature_c=None, noise_db=None)[0])

    def runs(self, ms, *, beating=True, reading=True, every=1):
        end = self.ms + ms
        while self.ms < end:
            self.ms = min(self.ms + every, end)
            pulses = self.board.tick(self.ms)
            self.board.settle()
            self.motor += pulses
            if pulses:
                self.last_step = self.ms
            if reading and self.ms % 50 == 0:
                self.read()
            if beating and self.ms % 500 == 0:
                self.says("heartbeat")


def test_a_move_with_ramps_ends_where_it_should():
    rig = Rig()
    rig.move(3000)
    rig.runs(3000)
    assert rig.motor == rig.board.at == 3000
    assert 2.0 < rig.last_step / 1000.0 <= 2.3  # d/v + v/a = 2.25 s


@pytest.mark.parametrize("do", ["stop", "power", "heartbeat", "reading", "ends"])
def test_whatever_stops_it_it_stands_in_time_and_keeps_its_count(do):
    rig = Rig()
    rig.move(3900)
    rig.runs(500)
    began = rig.ms
    if do == "stop":
        rig.says("stop")
    elif do == "power":
        rig.power = 6.0
        rig.read()
    elif do == "ends":
        rig.says("ends", low=0, high=3000)
    rig.runs(2000, beating=do != "heartbeat", reading=do != "reading")
    allowed = {"stop": BRAKE_MS, "power": BRAKE_MS, "ends": BRAKE_MS, "heartbeat": 1500, "reading": 500}[do]
    assert rig.last_step <= began + allowed
    assert not rig.board.moving
    assert rig.board.stopped_by == {"ends": "end", "reading": "power"}.get(do, do)
    assert rig.board.sure
    assert rig.motor == rig.board.at
    assert (Journal(rig.store).at, Journal(rig.store).sure) == (rig.motor, True)


def test_ends_drawn_in_right_before_it_stop_it_there_and_leave_a_doubt():
    rig = Rig()
    rig.move(3900)
    rig.runs(1000)
    rig.says("ends", low=0, high=rig.board.at + 3)
    rig.runs(200)
    assert rig.board.ends is not None
    assert rig.motor <= rig.board.ends[1]
    assert not rig.board.sure


def test_a_turn_on_the_way_slows_down_first_and_stays_between_the_ends():
    rig = Rig()
    rig.move(3000)
    rig.runs(600)
    assert rig.move(500)["ok"]
    at = rig.board.at
    rig.runs(100)
    assert rig.board.at > at  # still on its way out of the swing
    rig.runs(4000)
    assert rig.motor == rig.board.at == 500


def test_the_end_stop_puts_the_count_right_at_the_speed_for_seeking():
    rig = Rig(at=300)
    rig.says("reference")
    rig.runs(1000)
    assert 200 < 300 - rig.motor <= 300
    rig.board.low_switch(rig.ms, True)
    status = rig.read()
    assert (status["at"], status["sure"], status["moving"], status["low_stop"]) == (-40, True, False, True)


@pytest.mark.parametrize(("to", "switch", "stop"), [(0, "low_switch", "low"), (4000, "high_switch", "high")])
def test_an_end_stop_met_by_surprise_stops_it_and_puts_the_count_in_doubt(to, switch, stop):
    rig = Rig(at=2000)
    rig.move(to)
    rig.runs(500)
    getattr(rig.board, switch)(rig.ms, True)
    at = rig.motor + rig.board.tick(rig.ms)
    rig.runs(500)
    assert rig.motor == at
    assert (rig.board.stopped_by, rig.board.sure) == ("end", False)
    assert rig.move(to)["why"] == f"the {stop} end stop is closed"
    assert rig.move(2000)["ok"]


def test_an_end_stop_where_it_is_expected_leaves_no_doubt():
    rig = Rig(at=60, switch_slack=40)
    rig.move(0)
    rig.runs(100)
    assert rig.board.at > 0
    rig.board._motion.at = 0
    rig.board.low_switch(rig.ms, True)
    assert (rig.board.stopped_by, rig.board.sure) == ("end", True)


def test_pulses_that_are_late_are_not_made_up_for():
    """A motor that stood while the program was busy is started from rest, and never late after its heartbeat."""
    rig = Rig(gap_ms=20)
    rig.move(3000)
    rig.runs(600)
    motor = rig.motor
    rig.ms += 400
    rig.motor += rig.board.tick(rig.ms)
    assert rig.motor == motor
    rig.read()
    rig.runs(50)
    assert 0 < rig.motor - motor <= 6  # a t^2 / 2 = 5
    rig.runs(3000)
    assert rig.motor == rig.board.at == 3000
    rig.move(0)
    rig.runs(100)
    motor = rig.motor
    rig.ms += 1700
    rig.motor += rig.board.tick(rig.ms)
    assert rig.motor == motor
    assert (rig.board.moving, rig.board.stopped_by) == (False, "heartbeat")


def test_a_move_begun_right_at_the_end_of_another_is_a_doubt_until_it_rests():
    rig = Rig()
    rig.move(1100)
    while rig.board.moving:
        rig.ms += 1
        rig.board.tick(rig.ms)
    rig.says("heartbeat")
    rig.read()
    assert rig.move(2000)["ok"]  # before it was written that it stands
    rig.board.settle()
    assert not Journal(rig.store).sure
    rig.runs(3000)
    assert (Journal(rig.store).at, Journal(rig.store).sure) == (2000, True)


def test_where_it_rests_is_written_once_the_last_pulses_are_made():
    rig = Rig()
    rig.move(1010)
    rig.ms += 300
    rig.says("hello")  # the drive's time is up, its pulses are still to be made
    assert (rig.board.moving, rig.board.owed) == (False, 10)
    rig.board.settle()
    assert not Journal(rig.store).sure
    assert rig.board.tick(rig.ms) == 10
    rig.board.settle()
    assert (Journal(rig.store).at, Journal(rig.store).sure) == (1010, True)


class FullFlash(Flash):
    is_full = False

    def write(self, sector, offset, octets):
        if self.is_full:
            raise OSError(28)
        super().write(sector, offset, octets)


def test_a_full_journal_forbids_to_move_and_leaves_a_doubt_never_a_lie():
    store = FullFlash()
    rig = Rig(store=store)
    store.is_full = True
    assert rig.move(1500)["why"] == "the position cannot be written to flash"
    rig.runs(500)
    assert rig.motor == 1000
    store.is_full = False
    rig.move(1500)
    rig.runs(100)
    store.is_full = True
    rig.runs(2000)
    assert rig.motor == rig.board.at == 1500
    assert not Board(
        store.__class__.__mro__[1](), 0, DRIVE
    ).sure  # a board that never knew is not sure either
    store.is_full = False
    assert Board(store, 0, DRIVE).sure is False


@pytest.mark.parametrize(("forward", "reflected"), [(float("nan"), 0.0), (0.0, float("inf")), (1e12, 0.0)])
def test_a_reading_that_is_no_number_is_none(forward, reflected):
    rig = Rig()
    rig.move(3000)
    assert rig.board.read(rig.ms, forward, reflected, temperature_c=None, noise_db=None) == []
    rig.runs(600, reading=False)
    assert rig.board.stopped_by == "power"


# Settings over the link.


def settled():
    settings = Settings(Slots(), DRIVE)
    return Rig(settings=settings), settings


def test_settings_are_told_and_set_over_the_link():
    rig, settings = settled()
    ack, told = rig.board.receive(host_text(HostLine(100, AskSettings())), rig.ms)
    assert json.loads(ack)["ok"]
    settings_line = parse_board_line(told)
    assert isinstance(settings_line, BoardSettings)
    values = settings_line.values
    assert values["firmware"] == "2.0"
    assert set(DEFAULTS) <= set(values)
    answer = json.loads(rig.board.receive(host_text(HostLine(101, SetSetting("speed", 250))), rig.ms)[0])
    assert (answer["ok"], answer["newest"]) == (True, 101)
    assert settings.values["speed"] == 250
    rig.seq = 200
    rig.move(1250)
    rig.runs(900)
    assert rig.board.moving  # a second and a little at the new speed
    rig.runs(400)
    assert rig.motor == 1250


def test_settings_are_not_changed_in_motion_nor_under_power():
    rig, settings = settled()
    rig.move(3000)
    rig.runs(100)
    assert rig.says("set", key="speed", value=5)["why"] == "the drive is moving"
    rig.runs(3000)
    rig.power = 6.0
    rig.read()
    assert rig.says("set", key="speed", value=5)["why"] == "forward power is above the tuning limit"
    assert settings.values["speed"] == 1000
    rig.power = 0.0
    rig.read()
    assert rig.says("set", key="speed", value=-5)["why"].startswith("speed must be a whole number")


def test_a_motor_turned_round_or_an_end_stop_put_elsewhere_is_a_doubt():
    for key, value in (("reversed", True), ("stop_at", 10)):
        rig, _ = settled()
        assert rig.says("set", key=key, value=value)["ok"]
        rig.board.settle()
        assert not rig.board.sure
        assert not Journal(rig.store).sure


def test_a_board_without_settings_says_so():
    assert Rig().says("settings")["why"] == "this board keeps no settings"


def test_detector_voltages_go_through_the_points_and_are_told_raw():
    rig, _ = settled()
    rig.says("set", key="forward_points", value=[[400.0, 4.0]])
    rig.says("set", key="reflected_points", value=[[100.0, 0.0], [500.0, 4.0]])
    (line,) = rig.board.read_detectors(rig.ms, 200.04, 300.0, temperature_c=21.0)
    status = parse_board_line(line)
    assert isinstance(status, Status)
    assert (status.forward_power, status.reflected_power) == pytest.approx((1.0, 1.0), rel=1e-3)
    assert (status.forward_mv, status.reflected_mv, status.temperature_c) == (200.0, 300.0, 21.0)


# All of it at random.


@given(st.integers(0, 10**9))
def test_however_seldom_it_is_looked_at_the_ramps_make_the_same_pulses(seed):
    ends = []
    for every in (1, 10_000):
        rng = random.Random(seed)
        rig = Rig()
        for _ in range(8):
            do = rng.choice(["move", "move", "move", "stop", "heartbeat", "read", "ends"])
            if do == "move":
                rig.move(rng.randrange(4000))
            elif do == "ends":
                rig.says("ends", low=rng.randrange(1000), high=rng.randrange(3000, 4000))
            elif do == "read":
                rig.power = rng.choice([0.0, 0.0, 6.0])
                rig.read()
            else:
                rig.says(do)
            target = rig.ms + rng.randrange(600)
            while rig.ms < target:
                due = rig.board.due()
                rig.ms = min(target, rig.ms + every, target if due is None or due <= rig.ms else due)
                rig.motor += rig.board.tick(rig.ms)
        assert rig.motor == rig.board.at
        ends.append((rig.motor, rig.board.moving, rig.board.stopped_by, rig.board.sure))
    assert ends[0] == ends[1]
