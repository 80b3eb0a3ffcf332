# SPDX-License-Identifier: BSD-3-Clause
"""Which characters the sheet's font can print, and words in place of those it cannot."""

import struct
import unicodedata
from functools import cache
from importlib.resources import files

FONTS = ("ringwright-serif-regular.ttf", "ringwright-serif-bold.ttf")
_WINDOWS = {(3, 1), (3, 10), (0, 3), (0, 4)}  # platform, encoding of tables by Unicode


def printable(text: str) -> str:
    """The text with each character that has no glyph replaced by its name in brackets."""
    known = covered()
    if all(c in known or c == "\n" for c in text):
        return text
    return "".join(
        c if c in known or c == "\n" else _in_words(c, known) for c in unicodedata.normalize("NFC", text)
    )


@cache
def covered() -> frozenset[str]:
    """Characters that every weight of the font has."""
    sets = [_characters(files(__package__).joinpath("fonts", name).read_bytes()) for name in FONTS]
    return frozenset(map(chr, sets[0].intersection(*sets[1:])))


def _in_words(character: str, known: frozenset[str]) -> str:
    plain = unicodedata.normalize("NFKC", character)
    if plain != character and all(c in known for c in plain):
        return plain
    return f"[{unicodedata.name(character, f'U+{ord(character):04X}').lower()}]"


def _characters(font: bytes) -> set[int]:
    """Code points of a TrueType font's character map, formats 4 and 12."""
    number = struct.unpack_from(">H", font, 4)[0]
    tables = {
        font[at : at + 4]: struct.unpack_from(">II", font, at + 8) for at in range(12, 12 + 16 * number, 16)
    }
    start = tables[b"cmap"][0]
    found: set[int] = set()
    for entry in range(struct.unpack_from(">H", font, start + 2)[0]):
        platform, encoding, offset = struct.unpack_from(">HHI", font, start + 4 + 8 * entry)
        if (platform, encoding) in _WINDOWS:
            found |= _mapped(font, start + offset)
    return found


def _mapped(font: bytes, at: int) -> set[int]:
    kind = struct.unpack_from(">H", font, at)[0]
    if kind == 12:
        groups = struct.unpack_from(">I", font, at + 12)[0]
        spans = (struct.unpack_from(">III", font, at + 16 + 12 * group) for group in range(groups))
        return {code for first, last, _ in spans for code in range(first, last + 1)}
    if kind != 4:
        return set()
    count = struct.unpack_from(">H", font, at + 6)[0] // 2
    ends = struct.unpack_from(f">{count}H", font, at + 14)
    starts = struct.unpack_from(f">{count}H", font, at + 16 + 2 * count)
    return {
        code
        for first, last in zip(starts, ends, strict=True)
        for code in range(first, last + 1)
        if code != 0xFFFF
    }
