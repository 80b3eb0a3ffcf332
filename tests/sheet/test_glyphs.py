# SPDX-License-Identifier: BSD-3-Clause
"""No character is dropped in silence: what the font lacks is said in words."""

from importlib.resources import files

import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

from ringwright.sheet.glyphs import FONTS, covered, printable


def test_what_the_sheet_uses_is_there():
    assert set("ΩµμφδАБаб°²±×−–ŁódźőçÑß'\"<>&#*@ 0123456789") <= covered()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Süd 40 m", "Süd 40 m"),
        ("漢", "[cjk unified ideograph-6f22]"),
        ("a\u2192b", "a[rightwards arrow]b"),
        ("\u2126", "Ω"),
        ("\ufb01ne", "fine"),
        ("two\nlines", "two\nlines"),
    ],
)
def test_what_is_not_there_is_put_into_words(text, words):
    assert printable(text) == words
    assert set(printable(text)) <= covered() | {"\n"}


def test_the_character_maps_agree_with_a_general_font_library():
    for name in FONTS:
        path = files("ringwright.sheet").joinpath("fonts", name)
        best = TTFont(str(path)).getBestCmap()
        assert covered() <= set(map(chr, best))


def test_the_licence_lies_beside_the_fonts():
    text = files("ringwright.sheet").joinpath("fonts", "OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in text
    assert "Reserved Font Name" in text
