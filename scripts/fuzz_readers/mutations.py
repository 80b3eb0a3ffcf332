# SPDX-License-Identifier: BSD-3-Clause
"""Changes that keep an input's form: lines moved and joined, numbers made odd, values of a JSON text replaced.

The fuzzer's own changes are of single octets; behind a grammar few of those get past the first line.
"""

import json
import random
import re
from collections.abc import Sequence
from typing import Any

from scripts.fuzz_readers.reader import Form, Reader

ODD_NUMBERS = (
    b"0", b"-0", b"-1", b"1e999", b"1e-320", b"nan", b"inf", b"9" * 40, b"1_0", b"0x10", b"1.", b".5", b"1,5",
    b"\xd9\xa3", b"2147483648", b"9007199254740993", b"0001", b"+7",
)  # fmt: skip
ODD_TEXT = (
    b"", b" ", b'"', b"'", b"\\", b"\x00", b"\r", b"\xef\xbb\xbf", b"\xff\xfe", b"\xed\xa0\x80", b"\xc2\x85",
    b"\xe2\x80\xa8", b"\x1b[31m", b"#", b";", b",", b"\t", b"=", b"[", b"]]", b"{", b"}", b"<", b">", b"%00", b"%ff",
)  # fmt: skip
_NUMBER = re.compile(rb"[+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?")
_WORD = re.compile(rb"[A-Za-z_]{2,}")
_CHANGES = 4
ODD_VALUES: tuple[object, ...] = (
    None, True, False, 0, -1, 1, 2**31, 2**53 + 1, 10**400, 1e308, 0.5, "", "x", "\ud800", "\x00", "a" * 300, [], {},
    [[]], [None], {"": None}, "1e999", "NaN", -0.0,
)  # fmt: skip


def changed(reader: Reader, data: bytes, rng: random.Random) -> bytes:
    """The input after a few changes that fit its form."""
    for _ in range(rng.randint(1, _CHANGES)):
        match reader.form:
            case Form.JSON_LINES if rng.random() < 0.7:
                data = _json_changed(data, rng)
            case Form.OCTETS if rng.random() < 0.7:
                data = _octets_changed(reader, data, rng)
            case _:
                data = _line_changed(reader, data, rng)
    if reader.finish is not None and rng.random() < 0.5:
        data = reader.finish(data, rng)
    return data[: reader.longest]


def _line_changed(reader: Reader, data: bytes, rng: random.Random) -> bytes:
    lines = data.split(b"\n")
    at = rng.randrange(len(lines))
    others = rng.choice(reader.seeds).split(b"\n") if reader.seeds else [b""]
    match rng.randrange(9):
        case 0:
            del lines[at]
        case 1:
            lines.insert(rng.randrange(len(lines) + 1), lines[at])
        case 2:
            lines.insert(at, rng.choice(others))
        case 3:
            lines[at] = rng.choice(others)
        case 4:
            start = rng.randrange(len(others))
            lines[at:at] = others[start : start + rng.randrange(1, 12)]
        case 5:
            other = rng.randrange(len(lines))
            lines[at], lines[other] = lines[other], lines[at]
        case 6:
            lines[at] = _replaced(lines[at], _NUMBER, rng.choice(ODD_NUMBERS), rng=rng)
        case 7 if reader.tokens:
            lines[at] = _replaced(lines[at], _WORD, rng.choice(reader.tokens), rng=rng)
        case _:
            lines[at] = _pierced(lines[at], rng.choice((*ODD_TEXT, *reader.tokens)), rng)
    return b"\n".join(lines)


def _replaced(line: bytes, what: re.Pattern[bytes], by: bytes, *, rng: random.Random) -> bytes:
    places = [found.span() for found in what.finditer(line)]
    if not places:
        return line + by
    start, end = rng.choice(places)
    return line[:start] + by + line[end:]


def _pierced(line: bytes, by: bytes, rng: random.Random) -> bytes:
    start = rng.randrange(len(line) + 1)
    return line[:start] + by + line[start + rng.choice((0, 0, 1, 4, 40)) :]


def _octets_changed(reader: Reader, data: bytes, rng: random.Random) -> bytes:
    start = rng.randrange(len(data) + 1)
    other = rng.choice(reader.seeds) if reader.seeds else b""
    cut = rng.randrange(len(other) + 1)
    match rng.randrange(4):
        case 0:
            return data[:start] + other[cut:]
        case 1:
            return data[:start] + data[start + rng.randrange(1, 64) :]
        case 2:
            width = rng.choice((1, 2, 4, 8))
            return data[:start] + rng.choice((b"\0", b"\xff", b"\x80")) * width + data[start + width :]
        case _:
            return data[:start] + rng.choice((*ODD_TEXT, *reader.tokens, b"\0")) + data[start:]


def _json_changed(data: bytes, rng: random.Random) -> bytes:
    """One value of one line of JSON replaced, dropped, or put where another stands."""
    lines = data.split(b"\n")
    at = rng.randrange(len(lines))
    try:
        value = json.loads(lines[at])
        places = [*_places(value)]
        if not places:
            return data
        parent, key = rng.choice(places)
        match rng.randrange(4):
            case 0:
                del parent[key]
            case 1:
                other, its = rng.choice(places)
                parent[key] = other[its]
            case 2 if isinstance(parent, dict):
                parent[rng.choice(("x", "", key.upper(), f"{key}_w"))] = parent.pop(key)
            case _:
                parent[key] = rng.choice(ODD_VALUES)
        lines[at] = json.dumps(value, separators=(",", ":")).encode()
    except (ValueError, RecursionError):  # no JSON by now, or one that holds itself
        return data
    return b"\n".join(lines)


def _places(value: object) -> Sequence[tuple[Any, Any]]:
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    found: list[tuple[Any, Any]] = []
    for key, each in inner:
        found += [(value, key), *_places(each)]
    return found
