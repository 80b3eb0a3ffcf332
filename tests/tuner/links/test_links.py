# SPDX-License-Identifier: BSD-3-Clause
"""One set of tests for every way to a board: simulated, through a real terminal, through a real broker."""

import itertools
import time
from typing import Any

import pytest

from ringwright.errors import LinkError, LinkMessageError
from ringwright.tuner.clock import SystemClock
from ringwright.tuner.compose import simulated
from ringwright.tuner.links.address import Access, BrokerAddress, SerialAddress
from ringwright.tuner.links.open import meet, open_link
from ringwright.tuner.messages import Acknowledgement, Hello, HostLine, Status
from ringwright.tuner.messages_text import host_text, parse_board_line
from tests.tuner.links.far_ends import PASSWORD, USER, BrokerEnd, SerialPlace, TwinAtTheFarEnd, gather, until
from tests.tuner.sessions import octagon

_numbers = itertools.count(time.time_ns() // 1_000_000)
_names = itertools.count()


class SimulatedEnd:
    """The twin's own link."""

    def __init__(self) -> None:
        self.link = _twin()

    def cut(self):
        self.link.pull(is_pulled=True)

    def mend(self):
        self.link.pull(is_pulled=False)

    def close(self):
        pass


class SerialEnd:
    """The same twin behind a pseudo-terminal."""

    def __init__(self, folder) -> None:
        self.place = SerialPlace(folder)
        self.board = TwinAtTheFarEnd(_twin().world, say=self.place.say)
        self.place.hear = self.board.hear
        self.cut, self.mend = self.place.cut, self.place.mend
        self.link = open_link(Access(SerialAddress(str(self.place.port))))

    def close(self):
        self.board.close()
        self.place.close()


class BrokerPlace:
    """The same twin at a broker."""

    def __init__(self, broker) -> None:
        self._port, self._name = broker.port, f"ring-{next(_names)}"
        self.end: BrokerEnd | None = None
        self.board = TwinAtTheFarEnd(_twin().world, say=self._say)
        self.mend()
        self.link = open_link(Access(address(broker, self._name), PASSWORD))

    def _say(self, line):
        if self.end is not None:
            self.end.publish(line)

    def cut(self):
        end, self.end = self.end, None
        assert end is not None
        end.leave()

    def mend(self):
        self.end = BrokerEnd(self._port, self._name, hear=self.board.hear)

    def close(self):
        self.board.close()
        if self.end is not None:
            self.end.leave(politely=True)


def _twin():
    twin = simulated(*octagon(), clock=SystemClock(), seed=3).twin
    assert twin is not None
    return twin


def address(broker, name):
    return BrokerAddress(host="127.0.0.1", port=broker.port, user=USER, name=name, is_tls=False)


@pytest.fixture(
    params=[
        "simulated",
        "serial",
        pytest.param("broker", marks=pytest.mark.needs("mosquitto", "mosquitto_passwd")),
    ]
)
def end(request, tmp_path):
    made: SimulatedEnd | SerialEnd | BrokerPlace
    match request.param:
        case "simulated":
            made = SimulatedEnd()
        case "serial":
            made = SerialEnd(tmp_path)
        case _:
            made = BrokerPlace(request.getfixturevalue("broker"))
    until(lambda: made.link.is_open)
    yield made
    made.link.close()
    made.close()


class TestEveryLink:
    """What a session expects of its line."""

    def said(self, end):
        """What came, as messages."""
        lines = end.link.received()
        assert all("\n" not in line for line in lines)
        return [parse_board_line(line) for line in lines]

    def answer(self, end, order):
        """Say something, again and again as it may be lost, until it is acknowledged."""
        found: list[Any] = []

        def is_answered():
            seq = next(_numbers)
            end.link.send(host_text(HostLine(seq, order)))
            until(lambda: gather(found, self.said(end)))
            return any(isinstance(each, Acknowledgement) and each.is_done for each in found)

        until(is_answered)
        return found

    def test_an_order_is_answered_and_statuses_come_in_their_order(self, end):
        found = self.answer(end, Hello())
        until(lambda: sum(isinstance(each, Status) for each in gather(found, self.said(end))) > 5)
        numbers = [each.seq for each in found]
        if isinstance(end, SimulatedEnd):  # whose cable repeats lines and lets them overtake, as radio does
            numbers = sorted(set(numbers))
        assert numbers == sorted(set(numbers))

    def test_nonsense_does_no_harm_on_the_way_there(self, end):
        for nonsense in ("", "{}", "\x00\xff", "x" * 5000, '{"v":2,"do":"move"}', "[" * 900):
            end.link.send(nonsense)
        self.answer(end, Hello())

    def test_a_cut_line_carries_nothing_and_is_there_again_when_it_is_mended(self, end):
        self.answer(end, Hello())
        end.cut()
        if not isinstance(end, SimulatedEnd):  # a radio that hears nothing does not know why
            until(lambda: not end.link.is_open)
            with pytest.raises(LinkError):
                end.link.reopen()
        end.link.send(host_text(HostLine(next(_numbers), Hello())))
        end.link.received()
        end.mend()
        until(lambda: end.link.is_open)
        self.answer(end, Hello())

    def test_one_who_wants_to_know_is_told(self, end):
        calls = []
        end.link.notify(lambda: calls.append(1))
        self.answer(end, Hello())
        assert calls or isinstance(end, SimulatedEnd)  # whose time stands still while nobody looks

    def test_it_is_met_and_given_back_twice(self, end):
        status = meet(end.link, name="the board", wall_milliseconds=lambda: next(_numbers))
        assert not status.is_moving
        end.link.close()
        end.link.close()
        assert not end.link.is_open
        end.link.send("nothing more")


def test_a_line_of_no_text_is_one_that_no_parser_takes(tmp_path):
    end = SerialEnd(tmp_path)
    try:
        until(lambda: end.link.is_open)
        end.board.close()
        end.link.received()
        end.place.write(b"\xff\xfe{\n\x80\n")
        lines: list[str] = []
        until(lambda: len(gather(lines, end.link.received())) >= 2)
        for line in lines[-2:]:
            with pytest.raises(LinkMessageError):
                parse_board_line(line)
    finally:
        end.link.close()
        end.close()
