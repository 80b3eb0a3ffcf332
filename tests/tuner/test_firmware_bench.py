# SPDX-License-Identifier: BSD-3-Clause
"""The firmware under real MicroPython, on a pseudo-terminal."""

import json
import queue
import random
import time

import pytest
import serial
from paho.mqtt.client import Client
from paho.mqtt.enums import CallbackAPIVersion

from ringwright.errors import LinkMessageError
from ringwright.tuner.messages import Acknowledgement, BoardSettings, Status, StoppedBy
from ringwright.tuner.messages_text import parse_board_line
from tests.tuner.bench import BenchBoard
from tests.tuner.lines import sealed_line
from tests.tuner.links.far_ends import PASSWORD, USER, Broker

pytestmark = pytest.mark.needs("micropython")
LONGEST = 30.0
"""Seconds that a slow machine may take for what a board does at once."""


class Wire:
    """Speaks to a board line by line."""

    def __init__(self, port):
        self.port = serial.Serial(port, timeout=0.5)
        self.seq = 0
        self.status: Status | None = None

    def say(self, do, **fields):
        self.seq += 1
        self.port.write((sealed_line(seq=self.seq, do=do, **fields) + "\n").encode())
        return self.seq

    def hear(self):
        """One line of the board, if it comes."""
        line = self.port.readline().decode().strip()
        if not line:
            return None
        try:
            said = parse_board_line(line)
        except LinkMessageError:  # cut where nobody read for a while
            return None
        if isinstance(said, Status):
            self.status = said
        return said

    def ask(self, do, **fields):
        """An order and its answer."""
        seq = self.say(do, **fields)
        return self.until(lambda said: isinstance(said, Acknowledgement) and said.answers == seq)

    def until(self, is_it, *, beating=True):
        end, beat = time.monotonic() + LONGEST, 0.0
        while time.monotonic() < end:
            if beating and time.monotonic() > beat:
                beat = time.monotonic() + 0.4
                self.say("heartbeat")
            said = self.hear()
            if said is not None and is_it(said):
                return said
        raise AssertionError(f"it never came; last {self.status}")

    def rests(self, **options):
        return self.until(lambda said: isinstance(said, Status) and not said.is_moving, **options)

    def goes(self, to):
        """There, as a program does it: said again if a slow machine let the heartbeat run out."""
        end = time.monotonic() + LONGEST
        while time.monotonic() < end:
            self.ask("heartbeat")
            self.ask("move", to=to, speed=None)
            if self.rests().at == to:
                return
        raise AssertionError(f"it did not arrive; last {self.status}")

    def ready(self):
        """Ends, heartbeat and a reading are there."""
        self.until(lambda said: isinstance(said, Status))
        self.ask("heartbeat")
        assert self.ask("ends", low=0, high=6000).is_done

    def close(self):
        self.port.close()


@pytest.fixture
def bench(tmp_path):
    with BenchBoard(tmp_path) as board:
        yield board


@pytest.fixture
def wire(bench):
    wire = Wire(bench.port)
    yield wire
    wire.close()


def test_a_board_moves_stops_and_remembers(bench, wire):
    wire.ready()
    assert wire.ask("position", sure=True, **{"is": 1000}).is_done
    wire.goes(1600)
    assert bench.truth()["motor"] == 1600
    assert wire.ask("move", to=5000, speed=None).is_done
    wire.until(lambda said: isinstance(said, Status) and said.is_moving and said.at > 1700)
    assert wire.ask("stop").is_done
    stopped = wire.rests()
    assert (stopped.stopped_by, stopped.is_sure) == (StoppedBy.STOP, True)
    assert bench.truth()["motor"] == stopped.at


def test_a_board_that_nobody_leads_any_more_stands_and_inhibits(bench, wire):
    wire.ready()
    wire.ask("position", sure=True, **{"is": 1000})
    wire.ask("inhibit", on=False)
    assert wire.ask("move", to=6000, speed=500).is_done
    stopped = wire.until(lambda said: isinstance(said, Status) and not said.is_moving, beating=False)
    assert (stopped.stopped_by, stopped.is_inhibited, stopped.is_sure) == (StoppedBy.HEARTBEAT, True, True)
    truth = bench.truth()
    assert (truth["motor"], truth["inhibit"]) == (stopped.at, True)


def test_a_supply_cut_in_a_move_leaves_a_doubt_and_one_at_rest_leaves_none(bench, wire):
    wire.ready()
    wire.ask("position", sure=True, **{"is": 300})
    wire.ask("set", key="speed", value=500)
    wire.goes(400)
    boots = wire.status.boots
    bench.kill()
    bench.start()
    anew = wire.until(lambda said: isinstance(said, Status) and said.boots == boots + 1)
    assert (anew.at, anew.is_sure, anew.is_inhibited, anew.ends) == (400, True, True, None)
    wire.ask("settings")
    told = wire.until(lambda said: isinstance(said, BoardSettings))
    assert (told.values["speed"], told.values["firmware"]) == (500, "2.0")
    wire.ready()
    wire.ask("move", to=2000, speed=None)
    wire.until(lambda said: isinstance(said, Status) and said.at > 430)
    bench.kill()
    bench.start()
    anew = wire.until(lambda said: isinstance(said, Status) and said.boots == boots + 2)
    assert not anew.is_sure
    wire.ready()
    assert wire.ask("reference").is_done
    found = wire.rests()
    assert (found.at, found.is_sure) == (-40, True)
    assert bench.truth()["motor"] == -40


def test_a_carrier_above_the_limit_stops_it_and_the_meter_reads_watts(bench, wire):
    wire.ready()
    wire.ask("position", sure=True, **{"is": 1000})
    wire.ask("limit", tuning_power_w=5.0)
    wire.ask("inhibit", on=False)
    bench.carrier(4.0)
    # Folded back to a quarter, so far off; a reading taken while the carrier comes up says less.
    read = wire.until(lambda said: isinstance(said, Status) and said.forward_power > 0.9)
    assert read.forward_power == pytest.approx(1.0, rel=0.1)
    assert read.forward_mv == pytest.approx(200.0, rel=0.05)
    stopped = None
    while stopped is None or stopped.stopped_by is StoppedBy.HEARTBEAT:  # as a slow machine may have it
        bench.carrier(4.0)
        wire.until(lambda said: isinstance(said, Status) and said.forward_power < 5.0)
        wire.ask("heartbeat")
        wire.ask("move", to=3000 if stopped is None else 1000, speed=None)
        wire.until(lambda said: isinstance(said, Status) and said.is_moving)
        bench.carrier(100.0)
        stopped = wire.rests()
    assert (stopped.stopped_by, stopped.is_sure) == (StoppedBy.POWER, True)
    assert bench.truth()["motor"] == stopped.at


def test_garbage_on_the_line_is_nothing_to_it(bench, wire):
    rng = random.Random(7)
    wire.ready()
    wire.ask("position", sure=True, **{"is": 1000})
    before = bench.truth()["pulses"]
    for _ in range(60):
        good = sealed_line(seq=rng.randrange(10**6), do="move", to=rng.randrange(6000), speed=None).encode()
        place = rng.randrange(len(good) - 1)
        bad = good[:place] + bytes([good[place] ^ 1 << rng.randrange(7)]) + good[place + 1 :]
        wire.port.write(
            rng.choice([bad, rng.randbytes(rng.randrange(1, 200)), b"\x03\x04", b"[" * 1500]) + b"\n"
        )
    assert wire.ask("hello").is_done
    assert wire.status.at == 1000
    assert bench.truth()["pulses"] == before
    wire.goes(1100)


@pytest.mark.needs("mosquitto", "mosquitto_passwd")
def test_the_firmware_speaks_to_a_broker_by_itself(tmp_path):
    """The board's own client against Debian's broker, looked at by a general client: state, will, a retained order."""
    broker = Broker(tmp_path)
    broker.start()
    heard: queue.SimpleQueue[tuple[str, str, bool]] = queue.SimpleQueue()
    mine = Client(CallbackAPIVersion.VERSION2)
    mine.username_pw_set(USER, PASSWORD)
    mine.on_message = lambda _client, _data, m: heard.put((m.topic, m.payload.decode(), m.retain))
    mine.connect("127.0.0.1", broker.port)
    stale = sealed_line(seq=10**9, do="position", sure=True, **{"is": 4711})
    mine.publish("ringwright/loft/order", stale, retain=True)
    mine.subscribe("ringwright/loft/#")
    mine.loop_start()
    place = {"address": "127.0.0.1", "port": broker.port, "user": USER, "password": PASSWORD, "name": "loft"}

    def until(is_it):
        while True:
            topic, payload, retained = heard.get(timeout=LONGEST)
            if is_it(topic.rsplit("/", 1)[-1], payload, retained):
                return parse_board_line(payload) if '"here"' not in payload else json.loads(payload)

    try:
        with BenchBoard(tmp_path / "board", broker=place) as board:
            assert until(lambda topic, payload, _: topic == "here" and payload)["here"] is True
            state = until(lambda topic, payload, _: topic == "state" and payload)
            assert isinstance(state, Status)
            assert state.at == 0  # the old order was not obeyed
            mine.publish(
                "ringwright/loft/order", sealed_line(seq=5, do="position", sure=True, **{"is": 1000})
            )
            answer = until(lambda topic, payload, _: topic == "said" and '"answers"' in payload)
            assert (answer.answers, answer.is_done) == (5, True)
            later = until(lambda topic, payload, _: topic == "state" and '"sure": true' in payload)
            assert later.at == 1000
            board.kill()
            assert until(lambda topic, payload, _: topic == "here" and "false" in payload)["here"] is False
    finally:
        mine.loop_stop()
        mine.disconnect()
        broker.kill()
