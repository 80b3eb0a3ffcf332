# SPDX-License-Identifier: BSD-3-Clause
"""What a sheet is made of, as data for the typesetter."""

from collections.abc import Iterable, Sequence
from typing import Any

from ringwright.sheet.sketch import Sketch

Block = dict[str, Any]


def heading(text: str, level: int = 2) -> Block:
    return {"kind": "heading", "level": level, "text": text}


def paragraph(text: str) -> Block:
    return {"kind": "paragraph", "text": text}


def quiet(text: str) -> Block:
    return {"kind": "quiet", "text": text}


def caution(text: str) -> Block:
    """With a triangle, where the eye is."""
    return {"kind": "caution", "text": text}


def checks(items: Iterable[str]) -> Block:
    """With a box to tick."""
    return {"kind": "checks", "items": list(items)}


def facts(rows: Iterable[tuple[str, str]]) -> Block:
    return {"kind": "facts", "rows": [list(row) for row in rows]}


def table(
    head: Sequence[str],
    rows: Iterable[Sequence[str]],
    *,
    align: str,
    widths: Sequence[float] | None = None,
    title: str = "",
    blank: bool = False,
) -> Block:
    """`align` has a letter for each column: l, c or r; `widths` in shares, 0 for as wide as needed; `blank` for tables
    that are filled in by hand."""
    return {
        "kind": "table",
        "title": title,
        "head": list(head),
        "rows": [list(row) for row in rows],
        "align": list(align),
        "widths": list(widths or [0] * len(head)),
        "blank": blank,
    }


def drawing(sketch: Sketch, caption: str = "") -> Block:
    return {
        "kind": "drawing",
        "svg": sketch.svg(),
        "width": sketch.width,
        "height": sketch.height,
        "alt": sketch.title,
        "caption": caption,
    }


def pair(first: Block, second: Block) -> Block:
    """Two drawings side by side."""
    return {"kind": "pair", "drawings": [first, second]}


def aside(picture: Block, beside: Block) -> Block:
    """Facts beside a drawing."""
    return {"kind": "aside", "drawing": picture, "facts": beside}


def kept(items: Iterable[Block]) -> Block:
    """What stands on one page together."""
    return {"kind": "kept", "items": list(items)}


def new_page() -> Block:
    return {"kind": "page"}
