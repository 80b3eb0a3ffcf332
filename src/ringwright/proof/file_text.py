# SPDX-License-Identifier: BSD-3-Clause
"""From the bytes of a sweep file to lines and numbers, refusing what is no plain text."""

import math
import re

from ringwright.errors import SweepFileError
from ringwright.units import shown

LARGEST_FILE = 16_000_000
"""[bytes]: a hundred thousand points of a two-port; larger is no sweep."""
_LINE_END = re.compile("\r\n|\r|\n")
_NUMBER = re.compile(r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?", re.ASCII)
_DECIMAL_COMMA = re.compile(r"[+-]?\d+,\d+(?:[eE][+-]?\d+)?", re.ASCII)
_UTF16 = (b"\xff\xfe", b"\xfe\xff")


def text_lines(content: bytes, source: str) -> list[str]:
    """The lines of a text file."""
    if len(content) > LARGEST_FILE:
        raise too_large(source, len(content))
    if content.startswith(_UTF16):
        raise SweepFileError(source, 1, "the file is UTF-16 text; save it as plain text (ASCII or UTF-8)")
    control = re.search(rb"[\x00-\x08\x0e-\x1f\x7f]", content)
    if control:
        line = len(_LINE_END.findall(content[: control.start()].decode("latin-1"))) + 1
        raise SweepFileError(
            source, line, "the file is binary, not a text of numbers; export the sweep as text"
        )
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("latin-1")  # comments in an old code page harm nobody; numbers are ASCII below
    if not text.strip():
        raise SweepFileError(source, 1, "the file is empty; save the sweep again")
    return _LINE_END.split(text)


def too_large(source: str, size: int) -> SweepFileError:
    """The complaint about a file of `size` bytes."""
    return SweepFileError(
        source,
        1,
        f"the file has {size / 1e6:.0f} MB, at most {LARGEST_FILE / 1e6:.0f} MB are read; export one sweep of at most "
        f"100 000 points",
    )


def numbers(tokens: list[str], *, source: str, line: int) -> list[float]:
    """All tokens as finite numbers, or the first that is none named."""
    try:
        values = [float(token) for token in tokens]
    except ValueError:
        values = [math.nan]
    joined = "".join(tokens)
    # float() also reads underscores, other scripts' digits and nan; none of them is a number in a file.
    if all(map(math.isfinite, values)) and joined.isascii() and "_" not in joined:
        return values
    bad = next(token for token in tokens if not _is_number(token))
    raise SweepFileError(source, line, unreadable(bad))


def unreadable(token: str) -> str:
    """The complaint about a token that is no finite number."""
    if _DECIMAL_COMMA.fullmatch(token):
        return (
            f"{shown(token)} has a comma; write the decimal sign as a point, {shown(token.replace(',', '.'))}"
        )
    if token.casefold().lstrip("+-") in {"nan", "inf", "infinity"} or _NUMBER.fullmatch(token):
        return f"{shown(token)} is not a finite number; delete the row or sweep again"
    return f"{shown(token)} is not a number; correct it or delete the row"


def _is_number(token: str) -> bool:
    return bool(_NUMBER.fullmatch(token)) and math.isfinite(float(token))
