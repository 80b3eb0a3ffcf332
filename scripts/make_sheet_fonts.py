# SPDX-License-Identifier: BSD-3-Clause
"""Make the sheet's fonts from the pages' own: `python -m scripts.make_sheet_fonts`.

The typesetter reads no compressed and no variable fonts, so that the web client's family is cut at two weights, its
alphabets are put into one file each, and, since the licence reserves the original's name for unaltered files, it gets
another. Needs fonttools and brotli, which nothing else here does, and web-client/node_modules.
"""

import sys
from pathlib import Path

SOURCE = Path("web-client/node_modules/@fontsource-variable/source-serif-4")
TARGET = Path("src/ringwright/sheet/fonts")
ALPHABETS = ("latin", "latin-ext", "greek", "cyrillic")
FAMILY = "Ringwright Serif"
WEIGHTS = {"Regular": 400, "Bold": 650}
_DROPPED = ("GPOS", "GSUB", "GDEF", "STAT", "HVAR", "MVAR", "avar", "gasp", "DSIG")


def main() -> int:
    from fontTools.merge import Merger  # type: ignore[import-untyped]  # ships no types
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]  # ships no types
    from fontTools.varLib.instancer import instantiateVariableFont  # type: ignore[import-untyped]  # ships no types

    TARGET.mkdir(exist_ok=True)
    for style, weight in WEIGHTS.items():
        parts = []
        for alphabet in ALPHABETS:
            font = TTFont(SOURCE / "files" / f"source-serif-4-{alphabet}-wght-normal.woff2")
            instantiateVariableFont(font, {"wght": weight}, inplace=True)
            for table in _DROPPED:
                if table in font:
                    del font[table]
            font.flavor = None
            part = TARGET / f"{alphabet}.part"
            font.save(part)
            parts.append(part)
        merged = Merger().merge([str(part) for part in parts])
        _rename(merged, style, weight)
        merged["head"].created = merged["head"].modified = 0
        merged.recalcTimestamp = False
        merged.save(TARGET / f"ringwright-serif-{style.lower()}.ttf")
        for part in parts:
            part.unlink()
    licence = (SOURCE / "LICENSE").read_text(encoding="utf-8")
    said = merged["name"].getDebugName(0)
    (TARGET / "OFL.txt").write_text(
        f"{said}\nCut from Source Serif 4 and renamed.\n\n{licence}", encoding="utf-8"
    )
    return 0


def _rename(font: object, style: str, weight: int) -> None:
    copyright_line = font["name"].getDebugName(0)  # type: ignore[index]  # tables are untyped
    names = font["name"]  # type: ignore[index]  # tables are untyped
    names.names = []
    for number, text in {
        0: copyright_line,
        1: FAMILY,
        2: style,
        3: f"{FAMILY} {style}",
        4: f"{FAMILY} {style}",
        6: f"RingwrightSerif-{style}",
        13: "SIL Open Font License, Version 1.1",
    }.items():
        names.setName(text, number, 3, 1, 0x409)
    font["OS/2"].usWeightClass = weight if style == "Regular" else 700  # type: ignore[index]  # tables are untyped
    font["OS/2"].fsSelection = 0x40 if style == "Regular" else 0x20  # type: ignore[index]  # tables are untyped
    font["head"].macStyle = 0 if style == "Regular" else 1  # type: ignore[index]  # tables are untyped


if __name__ == "__main__":
    sys.exit(main())
