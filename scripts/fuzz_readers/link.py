# SPDX-License-Identifier: BSD-3-Clause
"""Lines of the link, both ways; in half of the changed lines the check sum is right again."""

import random
from collections.abc import Callable

from ringwright.errors import RingwrightError
from ringwright.tuner.line_check import sealed
from ringwright.tuner.links.lines import LineCutter
from ringwright.tuner.messages import (
    Acknowledgement,
    AskSettings,
    BoardSettings,
    Ends,
    Heartbeat,
    Hello,
    HostLine,
    Inhibit,
    Limit,
    Move,
    Order,
    Position,
    Reference,
    SetSetting,
    Status,
    Stop,
)
from ringwright.tuner.messages_text import board_text, host_text, parse_board_line, parse_host_line
from scripts.fuzz_readers.reader import Form, Reader, check, check_sentence

_ORDERS: tuple[Order, ...] = (
    Hello(), Heartbeat(), Move(400), Move(-3, 120), Stop(), Ends(0, 2000), Limit(5.0), Position(17, True), Reference(),
    Inhibit(False), AskSettings(), SetSetting("speed", 700), SetSetting("forward_points", [[400.0, 4.0]]),
)  # fmt: skip
_STATUS = Status(
    seq=9, at=400, is_sure=True, is_moving=True, to=410, over=(398, 400), forward_power=4.1, reflected_power=0.2,
    temperature_c=21.5, noise_db=None, is_inhibited=False, boots=3, milliseconds=123456, ends=(0, 2000),
    stopped_by=None, forward_mv=405.0, reflected_mv=88.0, low_stop=False, high_stop=None,
)  # fmt: skip
_ANSWERS = (
    _STATUS,
    Acknowledgement(seq=3, answers=17, is_done=False, why="the end stop is closed", newest=17),
    Acknowledgement(seq=4, answers=18, is_done=True, why=None),
    BoardSettings(5, {"speed": 1000, "reversed": False, "forward_points": [[400.0, 4.0]]}),
)


def _seal(data: bytes, rng: random.Random) -> bytes:
    """The check sum made right in every line that is text."""
    lines = data.split(b"\n")
    for at, line in enumerate(lines):
        text = line.decode("utf-8", errors="replace")
        head, found, _ = text.rpartition(',"crc"')
        if rng.random() < 0.9:
            lines[at] = sealed((head if found else text.rstrip("}")) + "}").encode()
    return b"\n".join(lines)


def _each(data: bytes, read: Callable[[str], None]) -> None:
    """Every line by itself, from octets that come in two pieces."""
    cutter = LineCutter()
    middle = len(data) // 2
    for line in cutter.cut(data[:middle]) + cutter.cut(data[middle:] + b"\n"):
        try:
            read(line)
        except RingwrightError as exc:
            check_sentence(str(exc))


def _read_host(text: str) -> None:
    line = parse_host_line(text)
    check(parse_host_line(host_text(line)) == line, f"{line} is another order when written and read again")


def _read_board(text: str) -> None:
    line = parse_board_line(text)
    check(parse_board_line(board_text(line)) == line, f"{line} is another line when written and read again")


_TO_BOARD = tuple(host_text(HostLine(seq, order)).encode() for seq, order in enumerate(_ORDERS, start=100))
_FROM_BOARD = tuple(board_text(line).encode() for line in _ANSWERS)
_TOKENS = (
    b'"v":2,', b'"seq":9,', b'"do":"move"', b'"do":"set"', b"null", b"true", b"-0", b"1e3", b"2.0", b'"ends":[0,1]',
    b"stop", b'"crc":"00000000"',
)  # fmt: skip

READERS = (
    Reader(
        name="orders",
        seeds=(*_TO_BOARD, b"\n".join(_TO_BOARD[:3])),
        read=lambda data: _each(data, _read_host),
        form=Form.JSON_LINES,
        tokens=_TOKENS,
        finish=_seal,
        longest=3000,
    ),
    Reader(
        name="statuses",
        seeds=(*_FROM_BOARD, b"\n".join(_FROM_BOARD[:2])),
        read=lambda data: _each(data, _read_board),
        form=Form.JSON_LINES,
        tokens=_TOKENS,
        finish=_seal,
        longest=3000,
    ),
)
