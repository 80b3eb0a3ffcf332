# SPDX-License-Identifier: BSD-3-Clause
"""A cut through a site as a drawing to scale: zones of limits, conductors, earth, people."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from html import escape
from itertools import cycle

import numpy as np

from ringwright.physics.graph import FloatArray

# Okabe and Ito's colour-blind-safe set, each with its own dashes: nothing is told by colour alone.
_INKS = (("#0072B2", "none"), ("#D55E00", "6 3"), ("#009E73", "2 3"), ("#CC79A7", "8 3 2 3"))
_WIDTH = 340  # [user units] of a drawing
_ROOM = 1.1  # around what is drawn
_GRID = (0.5, 1.0, 2.0, 5.0, 10.0)  # [m], the scale bar's lengths


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Dot:
    """A person on a drawing, at (2,) [m] of it."""

    name: str
    at: FloatArray
    passes: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SiteDrawing:
    """What a cut shows, all in its own coordinates (n, 2) [m], right and up.

    `zones` are closed lines by limit, even-odd; `conductors` lines; `floor` [m] the earth's place, None if not seen.
    """

    title: str
    zones: tuple[tuple[str, tuple[FloatArray, ...]], ...]
    conductors: tuple[FloatArray, ...]
    people: tuple[Dot, ...]
    floor: float | None


def draw(drawing: SiteDrawing) -> str:
    """The drawing as one SVG element."""
    low, high = _extent(drawing)
    scale = _WIDTH / float(high[0] - low[0])
    height = float(high[1] - low[1]) * scale

    def place(points: FloatArray) -> FloatArray:
        return np.stack([points[..., 0] - low[0], high[1] - points[..., 1]], axis=-1) * scale

    parts = [
        f'<svg viewBox="0 0 {_WIDTH} {height + 18:.0f}" role="img" aria-label="{escape(drawing.title)}">',
        f"<title>{escape(drawing.title)}</title>",
    ]
    for (label, rings), (colour, dashes) in zip(drawing.zones, cycle(_INKS), strict=False):
        path = " ".join(_path(place(ring), closed=True) for ring in rings)
        parts.append(
            f'<path d="{path}" fill="{colour}" fill-opacity="0.13" fill-rule="evenodd" stroke="{colour}" '
            f'stroke-dasharray="{dashes}"><title>{escape(label)}</title></path>'
        )
    parts += [f'<path d="{_path(place(line), closed=False)}" class="metal"/>' for line in drawing.conductors]
    if drawing.floor is not None:
        y = float(place(np.array([0.0, drawing.floor]))[1])
        parts.append(f'<line x1="0" x2="{_WIDTH}" y1="{y:.1f}" y2="{y:.1f}" class="earth"/>')
    parts += [_dot(place(dot.at), dot) for dot in drawing.people]
    parts += [_scale_bar(scale, height + 8.0), "</svg>"]
    return "".join(parts)


def legend(labels: Iterable[str]) -> str:
    """The zones' inks with their limits, as an HTML list."""
    rows = [
        f'<li><svg viewBox="0 0 40 10" class="ink"><line x1="0" x2="40" y1="5" y2="5" stroke="{colour}" '
        f'stroke-width="2" stroke-dasharray="{dashes}"/></svg> {escape(label)}</li>'
        for label, (colour, dashes) in zip(labels, cycle(_INKS), strict=False)
    ]
    return f'<ul class="legend">{"".join(rows)}</ul>'


def _extent(drawing: SiteDrawing) -> tuple[FloatArray, FloatArray]:
    points = np.concatenate(list(_points(drawing)))
    low, high = points.min(axis=0), points.max(axis=0)
    room = max(float((high - low).max()), 1.0) * (_ROOM - 1.0)
    return low - room, high + room


def _points(drawing: SiteDrawing) -> Iterator[FloatArray]:
    yield from drawing.conductors
    for _, rings in drawing.zones:
        yield from rings
    for dot in drawing.people:
        yield dot.at[None]
    if drawing.floor is not None:
        yield np.array([[0.0, drawing.floor]])


def _path(points: FloatArray, *, closed: bool) -> str:
    steps = " L".join(f"{x:.1f} {y:.1f}" for x, y in points)
    return f"M{steps}{' Z' if closed else ''}"


def _dot(at: FloatArray, dot: Dot) -> str:
    x, y = float(at[0]), float(at[1])
    shape = (
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3.5" class="passes"/>'
        if dot.passes
        else f'<path d="M{x - 4:.1f} {y - 4:.1f} l8 8 m0 -8 l-8 8" class="fails"/>'
    )
    anchor, shift = ("end", -7) if x > _WIDTH * 0.6 else ("start", 7)
    return (
        f'{shape}<text x="{x + shift:.1f}" y="{y + 4:.1f}" text-anchor="{anchor}">{escape(dot.name)}</text>'
    )


def _scale_bar(scale: float, y: float) -> str:
    length = max((step for step in _GRID if step * scale < _WIDTH / 2), default=_GRID[0])
    end = 4.0 + length * scale
    return (
        f'<path d="M4 {y - 3:.0f} v6 m0 -3 H{end:.1f} m0 -3 v6" class="scale"/>'
        f'<text x="{end + 5:.1f}" y="{y + 4:.0f}">{length:g} m</text>'
    )
