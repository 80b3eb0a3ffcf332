# SPDX-License-Identifier: BSD-3-Clause
"""What a reader under fuzzing is: seeds, a way to read, and what its inputs look like to whoever changes them."""

import random
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

from ringwright.errors import RingwrightError

LONGEST_SENTENCE = 600
"""Characters; what is longer is no sentence for a person."""


class FoundError(AssertionError):
    """A reader did what it must not do, short of crashing."""


class Form(Enum):
    """What a mutation may take for granted."""

    LINES = "lines"
    JSON_LINES = "JSON, one value a line"
    OCTETS = "octets"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reader:
    """`read` takes an input that may be anything: it returns, or raises an error of the program's own.

    `finish` puts right what no chance would (a check sum), in half of the inputs that were changed.
    """

    name: str
    seeds: tuple[bytes, ...]
    read: Callable[[bytes], None]
    form: Form = Form.LINES
    tokens: tuple[bytes, ...] = ()
    finish: Callable[[bytes, random.Random], bytes] | None = None
    longest: int = 8192


def look(reader: Reader, data: bytes) -> None:
    """Read an input; whatever leaves this function is a find."""
    try:
        reader.read(data)
    except RingwrightError as exc:
        check_sentence(str(exc))


def check_sentence(text: str) -> None:
    """A refusal is one line that a person can read."""
    if not text.strip() or len(text) > LONGEST_SENTENCE or not text.isprintable():
        raise FoundError(f"no sentence for a person: {text[:900]!r}")


def check(is_so: bool, what: str) -> None:
    """A claim about what a reader returned; `assert` would go with -O."""
    if not is_so:
        raise FoundError(what)
