# SPDX-License-Identifier: BSD-3-Clause
"""What a notebook's small tables are made of: plain HTML with its own styles, without scripts and requests.

Colours of text and rules are the notebook's, light or dark; only the watt bar brings its own, with letters that are
readable on them. All text is escaped here.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

from ringwright.antenna.figures.addresses import ADDRESS_MARKS, AddressMark

CAUTION = "Kilovolts at the capacitor: never touch or adjust the ring while transmitting."
"""Beside whatever leads to a ring."""
_TABLE = "border-collapse:collapse;margin:.8em 0;font-variant-numeric:tabular-nums"
_CELL = "white-space:nowrap;padding:.15em .5em;border-bottom:1px solid rgba(128,128,128,.4)"
_WORDS, _FIGURES = f"text-align:left;{_CELL}", f"text-align:right;{_CELL}"
_STARTS = frozenset("+-<0123456789")
_BAR = "display:flex;width:17em;max-width:100%;height:1.2em;font-size:80%;line-height:1.5em;text-align:left"
_PLAIN = "display:block;width:11em;height:.7em;background:rgba(128,128,128,.25)"
_NARROWEST = 5.0  # per cent; a letter is nearly as wide
_UNNAMED = AddressMark("unexplained", "?", "#767676", ink="#FFFFFF", words="unexplained")
_MARKS = {mark.name: mark for mark in (*ADDRESS_MARKS, _UNNAMED)}


@dataclass(frozen=True, slots=True)
class Markup:
    """HTML that was made here already; a plain string is text."""

    html: str


Cell = str | Markup


def card(title: str, *parts: Markup, cautions: Sequence[str] = (CAUTION,)) -> str:
    """A title, what stands under it, and what can hurt."""
    body = "".join(part.html for part in parts)
    warned = "".join(f"<p>&#9650; {escape(caution)}</p>" for caution in cautions)
    return f'<div style="overflow-x:auto"><p><b>{escape(title)}</b></p>{body}{warned}</div>'


def paragraph(text: str) -> Markup:
    """A sentence or two."""
    return Markup(f"<p>{escape(text)}</p>")


def listed(texts: Iterable[str]) -> Markup:
    """One point a text; nothing where there is none."""
    points = "".join(f"<li>{escape(text)}</li>" for text in texts)
    return Markup(f"<ul>{points}</ul>" if points else "")


def table(heads: Sequence[str], rows: Iterable[Sequence[Cell]]) -> Markup:
    """Rows under their headings; columns of figures stand to the right, words and bars to the left."""
    body = [tuple(row) for row in rows]
    styles = [_FIGURES if _are_figures(place, body) else _WORDS for place in range(len(heads))]
    head = "".join(
        f'<th scope="col" style="{style}">{escape(text)}</th>'
        for text, style in zip(heads, styles, strict=True)
    )
    lines = "".join(f"<tr>{''.join(map(_cell, row, styles))}</tr>" for row in body)
    return Markup(f'<table style="{_TABLE}"><tr>{head}</tr>{lines}</table>')


def _are_figures(place: int, rows: Sequence[Sequence[Cell]]) -> bool:
    cells = [row[place] for row in rows]
    return place > 0 and any(isinstance(cell, str) and cell[:1] in _STARTS for cell in cells if cell)


def _cell(cell: Cell, style: str) -> str:
    inner = cell.html if isinstance(cell, Markup) else escape(cell)
    return f'<td style="{style}">{inner}</td>'


def watt_bar(shares: Iterable[tuple[str, float, str]]) -> Markup:
    """One bar of names as in `watts_pct` or "unexplained", per cent, and figures as text; in the order of the marks."""
    known = {name: (share, words) for name, share, words in shares if share > 0.0}
    segments = "".join(_segment(mark, *known[name]) for name, mark in _MARKS.items() if name in known)
    told = "; ".join(f"{mark.words} {known[name][1]}" for name, mark in _MARKS.items() if name in known)
    return Markup(f'<div role="img" aria-label="{escape(told, quote=True)}" style="{_BAR}">{segments}</div>')


def _segment(mark: AddressMark, share: float, words: str) -> str:
    style = f"width:{share:.3f}%;background:{mark.colour};color:{mark.ink};overflow:hidden"
    label = escape(f"{mark.words} {words}", quote=True)
    letter = mark.letter if share >= _NARROWEST else ""
    return f'<span style="{style}" title="{label}">{letter}</span>'


def plain_bar(share: float) -> Markup:
    """A share from 0 to 1 as a bar in one ink."""
    width = f"{100.0 * min(max(share, 0.0), 1.0):.1f}%"
    inner = (
        f'<span style="display:block;height:100%;width:{width};background:currentColor;opacity:.65"></span>'
    )
    return Markup(f'<span style="{_PLAIN}" title="{width}">{inner}</span>')
