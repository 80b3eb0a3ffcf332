# SPDX-License-Identifier: BSD-3-Clause
"""The board by itself: it stops when it should, whoever says otherwise."""

import ast
import copy
import itertools
import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.tuner import board as board_module
from ringwright.tuner import board_journal, board_motion, board_orders, board_ramp, board_settings, line_check
from ringwright.tuner.board import Board
from ringwright.tuner.board_journal import Journal
from ringwright.tuner.line_check import sealed
from ringwright.tuner.messages import Acknowledgement, Ends, Heartbeat, HostLine, Limit, Move, Order, Status
from ringwright.tuner.messages_text import host_text, parse_board_line
from ringwright.tuner.twin.flash import Flash, SupplyLost
from tests.tuner.lines import sealed_line

MODULES = [board_module, board_journal, board_motion, board_orders, board_ramp, board_settings, line_check]
SPEED = 500
DRIVE = {"speed": SPEED, "travel": 2000, "stop_at": -20}


class Rig:
    """A board with a clock, read every 50 ms, whose orders number themselves."""

    def __init__(self, *, at=1000, heard=True, store=None):
        self.store = store or Flash()
        Journal(self.store).note(at, True)
        self.board = Board(self.store, 0, dict(DRIVE))
        self.ms, self.seq, self.pulses = 0, 0, 0
        self.forward, self.lines = 0.0, []
        self.read()
        self.says("ends", low=0, high=2000)
        self.says("limit", tuning_power_w=5.0)
        if heard:
            self.says("heartbeat")

    def read(self, forward=None):
        self.forward = self.forward if forward is None else forward
        lines = self.board.read(self.ms, self.forward, 0.1, temperature_c=None, noise_db=None)
        self.lines += lines
        return json.loads(lines[-1])

    def says(self, do, **fields):
        self.seq += 1
        return self.line(sealed_line(seq=self.seq, do=do, **fields))

    def line(self, text):
        lines = self.board.receive(text, self.ms)
        self.lines += lines
        return json.loads(lines[-1]) if lines else None

    def move(self, to, speed=None):
        return self.says("move", to=to, speed=speed)

    def runs(self, ms, *, beating=True, reading=True, every=1):
        """Let time pass; pulses made in it."""
        made = 0
        end = self.ms + ms
        while self.ms < end:
            self.ms = min(self.ms + every, end)
            made += self.board.tick(self.ms)
            self.board.settle()
            if reading and self.ms % 50 == 0:
                self.read()
            if beating and self.ms % 500 == 0:
                self.says("heartbeat")
        self.pulses += made
        return made


def test_a_move_makes_its_pulses_at_its_speed_and_ends():
    rig = Rig()
    assert rig.move(1200)["ok"]
    assert rig.runs(200) == 100
    assert rig.read()["over"][1] == 1100
    assert rig.runs(400) == 100
    status = rig.read()
    assert (status["at"], status["moving"], status["to"], status["stopped_by"]) == (1200, False, None, None)


def test_a_slower_speed_is_kept_and_a_faster_is_the_drives_own():
    rig = Rig()
    rig.move(1200, speed=50)
    assert rig.runs(1000) == 50
    rig.move(1900, speed=5000)
    assert rig.runs(1000) == SPEED


def test_a_new_goal_on_the_way_does_not_rest():
    rig = Rig()
    rig.move(1200)
    rig.runs(100)
    rig.move(1300)
    rig.runs(100)
    assert rig.board.at == 1100
    rig.move(900)
    assert rig.runs(400) == -200


def test_no_step_1_5_seconds_after_the_last_heartbeat():
    rig = Rig()
    rig.move(2000, speed=100)
    assert rig.runs(1500, beating=False) == 150
    assert rig.runs(1000, beating=False) == 0
    status = rig.read()
    assert (status["stopped_by"], status["inhibit"], status["at"]) == ("heartbeat", True, 1150)
    assert rig.move(1100)["why"] == "no heartbeat"


def test_a_repeated_heartbeat_keeps_nothing_alive():
    rig = Rig()
    rig.move(2000, speed=100)
    rig.says("heartbeat")
    old = sealed_line(seq=rig.seq, do="heartbeat")
    rig.runs(1400, beating=False)
    assert rig.line(old)["ok"] is False
    assert rig.runs(1000, beating=False) == 10


def test_power_above_the_limit_on_its_own_reading_stops_it_and_forbids_moves():
    rig = Rig()
    rig.move(2000)
    rig.runs(100)
    rig.read(5.1)
    assert rig.runs(100, reading=False) == 0
    assert rig.read()["stopped_by"] == "power"
    assert rig.move(1500)["why"] == "forward power is above the tuning limit"
    rig.read(4.9)
    assert rig.move(1500)["ok"]


def test_a_board_nobody_told_a_limit_is_held_by_little_power():
    rig = Rig()
    untold = Board(Flash(), 0, DRIVE | {"stop_at": None})
    assert untold.limit_w <= 1.0
    assert rig.says("limit", tuning_power_w=50.0)["ok"] is False


def test_without_a_fresh_reading_nothing_moves():
    rig = Rig()
    rig.move(2000)
    assert rig.runs(2000, reading=False) == SPEED // 2
    assert rig.move(1900)["why"] == "no fresh reading"


@pytest.mark.parametrize("to", [-1, 2001, 10**9])
def test_beyond_a_soft_end_is_refused(to):
    rig = Rig()
    assert rig.move(to)["why"] == "beyond the soft ends"


def test_ends_drawn_in_stop_a_move_that_would_pass_them():
    rig = Rig()
    rig.move(1500)
    rig.runs(100)
    rig.says("ends", low=0, high=1200)
    assert rig.runs(500) == 0
    assert rig.read()["stopped_by"] == "end"


def test_without_ends_nothing_moves():
    board = Board(Flash(), 0, DRIVE | {"stop_at": None})
    board.read(0, 0.0, 0.0, temperature_c=None, noise_db=None)
    board.receive(sealed_line(seq=1, do="heartbeat"), 0)
    (answer,) = board.receive(sealed_line(seq=2, do="move", to=5, speed=None), 0)
    assert json.loads(answer)["why"] == "no soft ends are set"


@given(seq=st.integers(0, 2**53 - 1))
def test_stop_is_obeyed_whatever_its_number(seq):
    rig = Rig()
    rig.seq = 1_000_000
    rig.move(1500)
    rig.runs(50)
    assert rig.line(sealed_line(seq=seq, do="stop"))["ok"]
    assert rig.runs(500) == 0
    assert rig.read()["stopped_by"] == "stop"


def test_a_move_that_was_overtaken_by_stop_does_nothing():
    rig = Rig()
    late = sealed_line(seq=rig.seq + 1, do="move", to=1500, speed=None)
    rig.seq += 1
    rig.says("stop")
    assert rig.line(late)["ok"] is False
    assert rig.runs(300) == 0


def test_the_end_stop_puts_the_count_right():
    rig = Rig(at=300)
    rig.says("position", sure=False, **{"is": 300})
    assert rig.says("reference")["ok"]
    assert rig.runs(100) == -50
    rig.board.low_switch(rig.ms, True)
    status = rig.read()
    assert (status["at"], status["sure"], status["moving"]) == (-20, True, False)


def test_an_end_stop_that_does_not_come_ends_in_doubt():
    rig = Rig(at=1000)
    rig.says("reference")
    assert rig.runs(10_000, every=10) == -2200
    status = rig.read()
    assert (status["sure"], status["stopped_by"]) == (False, "end")


def test_a_capacitor_that_turns_round_and_round_has_no_reference():
    board = Board(Flash(), 0, DRIVE | {"stop_at": None})
    (answer,) = board.receive(sealed_line(seq=2, do="reference"), 0)
    assert json.loads(answer)["why"] == "this capacitor has no end stop"


def test_position_is_refused_while_moving():
    rig = Rig()
    rig.move(1500)
    assert rig.says("position", sure=True, **{"is": 7})["ok"] is False


def test_every_line_is_one_the_host_reads():
    rig = Rig()
    rig.move(1100)
    rig.runs(300)
    kinds = {type(parse_board_line(line)) for line in rig.lines}
    assert kinds == {Status, Acknowledgement}


def test_every_order_the_host_writes_is_understood():
    rig = Rig()
    orders: list[Order] = [Heartbeat(), Ends(0, 1500), Limit(4.5), Move(1010, 30)]
    for number, order in enumerate(orders, start=100):
        assert rig.line(host_text(HostLine(number, order)))["ok"]


@given(st.text() | st.binary().map(lambda octets: octets.decode("latin-1")))
def test_what_is_no_order_does_nothing(text):
    rig = Rig()
    before = rig.board.at, rig.board.moving, rig.board.ends
    assert rig.line(text) is None
    assert (rig.board.at, rig.board.moving, rig.board.ends) == before


@pytest.mark.parametrize(
    "text",
    [
        '{"v":2,"seq":9,"do":["move"],"to":5,"speed":null}',
        '{"v":2,"seq":true,"do":"stop"}',
        '{"v":true,"seq":9,"do":"stop"}',
        '{"v":2,"seq":9,"do":"move","to":true,"speed":null}',
        '{"v":2,"seq":9,"do":"move","to":5.0,"speed":null}',
        '{"v":2,"seq":9,"do":"move","to":5,"speed":0}',
        '{"v":2,"seq":-1,"do":"stop"}',
        '{"v":2,"seq":9,"do":"move","to":5,"spe?d":null}',
        '{"v":2,"seq":9,"do":"inhibit","on":1}',
        '{"v":3,"seq":9,"do":7}',
        "[" * 500,
    ],
)
def test_a_line_that_is_nearly_an_order_does_nothing(text):
    assert Rig().line(sealed(text)) is None


def test_a_line_that_was_garbled_anywhere_does_nothing():
    """Each character but those of the sum replaced by each digit: a number believed would drive into the stop."""
    text = sealed_line(seq=99, do="move", to=1500, speed=None)
    rig = Rig()
    for place, digit in itertools.product(range(len(text)), "0123456789"):
        garbled = text[:place] + digit + text[place + 1 :]
        if garbled != text:
            assert rig.line(garbled) is None
    assert rig.line(text)["ok"]


@pytest.mark.parametrize(
    "text", ['{"v":1,"seq":9,"do":"stop"}', sealed('{"v":3,"seq":9,"do":"fly","to":"moon"}')]
)
def test_an_order_of_another_version_is_refused_in_words(text):
    answer = Rig().line(text)
    assert (answer["answers"], answer["ok"]) == (9, False)
    assert answer["why"] == "this board speaks protocol version 2"


ACTS = st.lists(
    st.tuples(
        st.sampled_from(["move", "stop", "heartbeat", "read", "ends", "again"]),
        st.integers(-50, 2050),
        st.integers(0, 700),
    ),
    max_size=25,
)


@given(ACTS, st.sampled_from([1, 7, 10_000]))
def test_a_board_ticked_now_and_then_makes_the_same_pulses(acts, seldom):
    """The simulation ticks at events only: where the drive stands must not depend on it."""
    ends = []
    for every in (1, seldom):
        rig = Rig()
        said = [sealed_line(seq=0, do="heartbeat")]
        for do, number, wait in acts:
            if do == "move":
                rig.move(number, speed=number % 300 + 1)
            elif do == "read":
                rig.read(float(number % 8))
            elif do == "ends":
                rig.says("ends", low=0, high=max(0, number))
            elif do == "again":
                rig.line(said[0])
            else:
                rig.says(do)
            target = rig.ms + wait
            while rig.ms < target:  # as the simulation does: not past what the board says is due
                due = rig.board.due()
                ms = min(target, rig.ms + every, target if due is None or due <= rig.ms else due)
                rig.ms = ms
                rig.pulses += rig.board.tick(ms)
        ends.append((rig.pulses, rig.board.at, rig.board.moving, rig.board.stopped_by))
        assert rig.pulses == rig.board.at - 1000
    assert ends[0] == ends[1]


@given(ACTS)
def test_whatever_is_said_the_drive_stays_between_its_ends(acts):
    rig = Rig()
    low, high = 0, 2000
    for do, number, wait in acts:
        if do == "move":
            rig.move(number)
        elif do == "ends" and number >= 0:
            rig.says("ends", low=0, high=number)
            high = number
        elif do in {"stop", "heartbeat"}:
            rig.says(do)
        before = rig.board.at
        rig.runs(wait, every=5)
        after = rig.board.at
        assert after == before or low <= after <= high or abs(after - high) < abs(before - high)


# The journal.


def test_a_cut_in_a_move_leaves_a_doubt_and_a_rest_leaves_none():
    rig = Rig()
    rig.move(1200)
    rig.runs(100)
    anew = Board(copy.deepcopy(rig.store), 0, DRIVE)
    assert (anew.sure, anew.inhibit, anew.ends, anew.boots) == (False, True, None, 2)
    rig.runs(1000)
    anew = Board(rig.store, 0, DRIVE)
    assert (anew.at, anew.sure) == (1200, True)


def test_a_cut_at_any_octet_is_a_doubt_or_the_truth():
    """Through more than two sectors, so that every octet of records and erasures is met."""
    for cut in range(0, 3500, 3):
        store = Flash()
        journal = Journal(store)
        store.cut_after = cut
        at = before = 0
        is_resting = False
        try:
            for number in range(1, 60):
                is_resting = False
                journal.note(at, False)
                before, at = at, 37 * number  # the move itself
                journal.note(at, True)
                is_resting = True
        except SupplyLost:
            pass
        store.cut_after = None
        read = Journal(store)
        assert not read.sure or read.at == at
        assert read.at in {at, before}
        if is_resting:
            assert read.sure
        read.note(4711, True)  # and it goes on from there
        assert (Journal(store).at, Journal(store).sure) == (4711, True)


def test_flash_is_erased_seldom():
    store = Flash()
    journal = Journal(store)
    for number in range(10_000):
        journal.note(number, True)
    assert store.erasures <= 10_000 * board_journal.RECORD / store.size + 1


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__.rsplit(".", 1)[-1])
def test_the_board_is_written_in_what_micropython_runs(module):
    """Nothing that its 1.20 lacks: see "Differences from CPython" in its documentation, from memory."""
    tree = ast.parse(Path(module.__file__).read_text(encoding="utf-8"))
    refused = (ast.Match, ast.NamedExpr, ast.AsyncFunctionDef, ast.YieldFrom, ast.TryStar, ast.Starred)
    assert not [node for node in ast.walk(tree) if isinstance(node, refused)]
    imported = {
        alias.name if isinstance(node, ast.Import) else node.module
        for node in ast.walk(tree)
        if isinstance(node, ast.Import | ast.ImportFrom)
        for alias in node.names
    }
    assert imported <= {"json", "binascii", "struct", "math"} | {module.__name__ for module in MODULES}
    decorators = [
        ast.unparse(name)
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
        for name in node.decorator_list
    ]
    assert set(decorators) <= {"property"}
