# SPDX-License-Identifier: BSD-3-Clause
"""Blocks of a sheet as a PDF. The same blocks give the same bytes: no date, no font of this machine."""

import json
from collections.abc import Sequence
from importlib.resources import as_file, files
from typing import Any

from ringwright.sheet.glyphs import printable

PAPERS = {"a4": ("a4", 210.0, 297.0), "letter": ("us-letter", 215.9, 279.4)}
"""By the name a person says: the typesetter's name, width and height [mm]."""


def typeset(
    blocks: Sequence[dict[str, Any]],
    *,
    title: str,
    footer: str,
    paper: str,
    tiles: Sequence[dict[str, Any]] = (),
) -> bytes:
    """The PDF. Data reaches the typesetter as JSON, never as markup."""
    import typst  # 80 MB of library: only where something is printed

    data = {"title": title, "footer": footer, "paper": PAPERS[paper][0], "blocks": blocks, "tiles": tiles}
    text = json.dumps(_printable(data), ensure_ascii=False, allow_nan=False)
    with as_file(files(__package__)) as folder:
        pdf = typst.compile(
            str(folder / "sheet.typ"),
            root=str(folder),
            font_paths=[str(folder / "fonts")],
            ignore_system_fonts=True,
            sys_inputs={"data": text},
            format="pdf",
        )
    assert isinstance(pdf, bytes)
    return pdf


def _printable(value: Any) -> Any:
    if isinstance(value, str):
        return printable(value)
    if isinstance(value, dict):
        return {key: _printable(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_printable(each) for each in value]
    return value
