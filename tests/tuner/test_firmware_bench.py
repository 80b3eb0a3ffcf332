# SPDX-License-Identifier: BSD-3-Clause
"""The firmware under real MicroPython, on a pseudo-terminal."""

import time

import pytest
import serial

from ringwright.errors import LinkMessageError
from ringwright.tuner.messages import Acknowledgement, Status, StoppedBy
from ringwright.tuner.messages_text import parse_board_line
from tests.tuner.bench import BenchBoard
from tests.tuner.lines import sealed_line

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
    assert wire.ask("move", to=1600, speed=None).is_done
    assert wire.rests().at == 1600
    assert bench.truth()["motor"] == 1600
    assert wire.ask("move", to=5000, speed=None).is_done
    wire.until(lambda said: isinstance(said, Status) and said.is_moving and said.at > 1700)
    assert wire.ask("stop").is_done
    stopped = wire.rests()
    assert (stopped.stopped_by, stopped.is_sure) == (StoppedBy.STOP, True)
    assert bench.truth()["motor"] == stopped.at
