# SPDX-License-Identifier: BSD-3-Clause
"""A drawing as a picture of dots. The same drawing gives the same bytes: no font of this machine."""

import re
from importlib.resources import as_file, files

from ringwright.sheet.glyphs import printable
from ringwright.sheet.sketch import FAMILY

DOTS_PER_INCH = 192.0
"""Two dots for each of the drawing's units, of which 96 make an inch (CSS Values and Units 3, W3C)."""
_FONT = re.compile(r"font-family='[^']*'")


def png_of(drawing: str, dots_per_inch: float = DOTS_PER_INCH) -> bytes:
    """An SVG file as PNG, its words in the sheet's own font."""
    import typst  # 80 MB of library: only where something is drawn

    svg = printable(_FONT.sub(f"font-family='{FAMILY}'", drawing))
    with as_file(files(__package__)) as folder:
        png = typst.compile(
            str(folder / "picture.typ"),
            root=str(folder),
            font_paths=[str(folder / "fonts")],
            ignore_system_fonts=True,
            sys_inputs={"drawing": svg},
            format="png",
            ppi=dots_per_inch,
        )
    assert isinstance(png, bytes)
    return png
