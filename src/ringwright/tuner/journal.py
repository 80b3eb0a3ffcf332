# SPDX-License-Identifier: BSD-3-Clause
"""The drive's position over a power cut: lines that are only appended, each with its number and checksum.

Before a move may begin, a line with its goal is safe on the disk; after it, a line with the place of rest. So
whatever byte the power is cut at, the whole lines tell one of two things: the drive rests here, or it was on the way
from here to there and its position is in doubt. A last line cut short was never acted upon, as the move waits for the
whole line. Any other damage is doubt.
"""

import itertools
import zlib
from dataclasses import dataclass

LONGEST_LINE = 120
"""Bytes; a longer line is none of ours."""
_UNPROVED = 2
"""Added to the 0 or 1 of a count that is not or is sure."""


@dataclass(frozen=True, slots=True)
class Kept:
    """Counted position, whether it was sure, where the drive was sent, and the board's start it holds for.

    `is_proved`: no dip met since the last end stop was elsewhere than the table had it.
    """

    at: int
    is_sure: bool
    to: int | None
    boots: int
    is_proved: bool = True


@dataclass(frozen=True, slots=True)
class Remembered:
    """What a journal tells: the last whole line, and whether all before it is as it was written."""

    kept: Kept | None
    number: int
    """Of the last whole line, 0 without one; the next line has the next number."""
    is_whole: bool


def journal_line(kept: Kept, number: int) -> bytes:
    """The line that keeps a position, with its line end."""
    to = "-" if kept.to is None else str(kept.to)
    trust = int(kept.is_sure) + (0 if kept.is_proved else _UNPROVED)
    body = f"{number} {kept.at} {trust} {to} {kept.boots}"
    return f"{body} {zlib.crc32(body.encode()):08x}\n".encode()


def read_journal(data: bytes) -> Remembered:
    """What the lines tell. Never raises: damage is part of what they tell."""
    *whole, rest = data.split(b"\n")
    found = [_read_line(line) for line in whole]
    good = [entry for entry in found if entry is not None]
    if not good:
        return Remembered(None, 0, is_whole=not data)
    follow_on = all(b[0] == a[0] + 1 for a, b in itertools.pairwise(good))
    number, kept = good[-1]
    is_whole = len(good) == len(found) and follow_on and _may_be_cut(rest, number + 1)
    return Remembered(kept, number, is_whole)


def _read_line(line: bytes) -> tuple[int, Kept] | None:
    """Number and content of one line; None if it is not exactly as `journal_line` writes it."""
    if len(line) > LONGEST_LINE:
        return None
    try:
        number, at, trust, to, boots, _ = line.decode("ascii").split(" ")
        kept = Kept(
            int(at),
            bool(int(trust) % _UNPROVED),
            None if to == "-" else int(to),
            int(boots),
            is_proved=int(trust) < _UNPROVED,
        )
        number_read = int(number)
    except ValueError:
        return None
    return (number_read, kept) if journal_line(kept, number_read) == line + b"\n" else None


def _may_be_cut(rest: bytes, number: int) -> bool:
    """Whether what follows the last line end can be the beginning of the next line."""
    head = f"{number} ".encode()
    return rest[: len(head)] == head[: len(rest)] and len(rest) <= LONGEST_LINE
