# SPDX-License-Identifier: BSD-3-Clause
"""Line drawings in millimetres of paper: the same SVG for the printed sheet, the page and a file."""

import math
from collections.abc import Iterator
from contextlib import contextmanager
from html import escape

import numpy as np
from numpy.typing import ArrayLike

from ringwright.physics.graph import FloatArray

FAMILY = "Ringwright Serif"
INK, QUIET, FAINT, COPPER = "#1b1b1b", "#666666", "#c8c8c8", "#a4562a"
THIN, LINE, BOLD = 0.18, 0.35, 0.6
"""Widths of strokes. [mm]"""
SMALL, PLAIN = 2.6, 3.2
"""Heights of letters. [mm]"""
_ARROW = 1.6


class Sketch:
    """A drawing that grows; places are (x right, y down) [mm] of it."""

    def __init__(self, width: float, height: float, *, title: str) -> None:
        self.width, self.height, self.title = width, height, title
        self._parts: list[str] = []

    def line(self, points: ArrayLike, *, ink: str = INK, width: float = LINE, dash: str = "") -> None:
        """An open line through (n, 2) points."""
        self._path(points, closed=False, ink=ink, width=width, dash=dash, fill="none")

    def shape(
        self, points: ArrayLike, *, ink: str = INK, width: float = LINE, fill: str = "none", dash: str = ""
    ) -> None:
        """A closed line through (n, 2) points."""
        self._path(points, closed=True, ink=ink, width=width, dash=dash, fill=fill)

    def circle(
        self,
        centre: ArrayLike,
        radius: float,
        *,
        ink: str = INK,
        width: float = LINE,
        fill: str = "none",
        dash: str = "",
    ) -> None:
        """A circle."""
        x, y = np.asarray(centre, dtype=float)
        self._parts.append(
            f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(radius)}" fill="{fill}" stroke="{ink}" '
            f'stroke-width="{width}"{_dash(dash)}/>'
        )

    def text(
        self,
        words: str,
        at: ArrayLike,
        *,
        size: float = SMALL,
        anchor: str = "middle",
        ink: str = INK,
        turn: float = 0.0,
        bold: bool = False,
    ) -> None:
        """One line of words with its baseline's `anchor` at a place, `turn` degrees clockwise."""
        x, y = np.asarray(at, dtype=float)
        turned = f' transform="rotate({_n(turn)} {_n(x)} {_n(y)})"' if turn else ""
        weight = ' font-weight="bold"' if bold else ""
        self._parts.append(
            f'<text x="{_n(x)}" y="{_n(y)}" font-family="{FAMILY}, serif" font-size="{size}" text-anchor="{anchor}" '
            f'fill="{ink}"{weight}{turned}>{escape(words)}</text>'
        )

    def dimension(self, start: ArrayLike, end: ArrayLike, words: str, *, off: float = 0.0) -> None:
        """A dimension between two places, drawn `off` [mm] to the left of the way from the first to the second."""
        a, b = np.asarray(start, dtype=float), np.asarray(end, dtype=float)
        along = (b - a) / max(float(np.linalg.norm(b - a)), 1e-9)
        aside = np.array([along[1], -along[0]])
        p, q = a + off * aside, b + off * aside
        reach = aside * (1.5 if off >= 0.0 else -1.5)
        for place, foot in ((p, a), (q, b)):
            if abs(off) > 2.0:
                self.line([foot + reach * 0.5, place + reach], ink=QUIET, width=THIN)
        is_short = float(np.linalg.norm(q - p)) < 4.0 * _ARROW
        self._arrows(p, q, along, outside=is_short)
        turn = math.degrees(math.atan2(along[1], along[0]))
        if not -90.0 <= turn < 90.0:
            turn -= math.copysign(180.0, turn)
        up = np.array([math.sin(math.radians(turn)), -math.cos(math.radians(turn))])
        self.text(words, (p + q) / 2.0 + up * 1.0, turn=turn)

    def caution(self, at: ArrayLike, *, size: float = 4.0) -> None:
        """A triangle with its mark."""
        x, y = np.asarray(at, dtype=float)
        h = size * 0.87
        self.shape(
            [[x, y - h * 0.6], [x + size / 2, y + h * 0.4], [x - size / 2, y + h * 0.4]],
            ink=COPPER,
            width=0.4,
        )
        self.line([[x, y - h * 0.25], [x, y + h * 0.1]], ink=COPPER, width=0.5)
        self.circle([x, y + h * 0.25], 0.25, ink=COPPER, width=0.1, fill=COPPER)

    def leader(self, tip: ArrayLike, to: ArrayLike, words: str, *, anchor: str = "start") -> None:
        """Words beside a place, with a thin line that ends on it."""
        a, b = np.asarray(tip, dtype=float), np.asarray(to, dtype=float)
        self.line([a, b], ink=QUIET, width=THIN)
        self.circle(a, 0.4, ink=QUIET, width=THIN, fill=QUIET)
        shift = {"start": 0.8, "end": -0.8, "middle": 0.0}[anchor]
        self.text(words, b + np.array([shift, 0.9 if anchor != "middle" else -0.8]), anchor=anchor)

    @contextmanager
    def clipped(self, width: float, height: float) -> Iterator[None]:
        """What is drawn meanwhile ends at a frame from the left upper corner."""
        self._parts.append(
            f'<clipPath id="frame"><rect x="0" y="0" width="{_n(width)}" height="{_n(height)}"/></clipPath>'
            '<g clip-path="url(#frame)">'
        )
        yield
        self._parts.append("</g>")

    def svg(self) -> str:
        """The drawing, as wide and high as it says in millimetres."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(self.width)}mm" height="{_n(self.height)}mm" '
            f'viewBox="0 0 {_n(self.width)} {_n(self.height)}" role="img" aria-label="{escape(self.title)}">'
            f"<title>{escape(self.title)}</title>{''.join(self._parts)}</svg>\n"
        )

    def _path(self, points: ArrayLike, *, closed: bool, ink: str, width: float, dash: str, fill: str) -> None:
        places = np.asarray(points, dtype=float)
        steps = " L".join(f"{_n(x)} {_n(y)}" for x, y in places)
        self._parts.append(
            f'<path d="M{steps}{" Z" if closed else ""}" fill="{fill}" stroke="{ink}" stroke-width="{_n(width)}" '
            f'stroke-linejoin="round"{_dash(dash)}/>'
        )

    def _arrows(self, p: FloatArray, q: FloatArray, along: FloatArray, *, outside: bool) -> None:
        side = np.array([along[1], -along[0]]) * _ARROW * 0.28
        reach = along * _ARROW * 2.5 if outside else np.zeros(2)
        self.line([p - reach, q + reach], ink=QUIET, width=THIN)
        for tip, into in ((p, along), (q, -along)):
            back = tip + into * (_ARROW if not outside else -_ARROW)
            self.shape([tip, back + side, back - side], ink=QUIET, width=0.05, fill=QUIET)


def arc_points(
    centre: ArrayLike, radius: float, *, start: float, end: float, step: float = 0.5
) -> FloatArray:
    """Places (n, 2) along an arc, angles [rad] from x towards y, chords of about `step`."""
    count = max(8, math.ceil(abs(end - start) * radius / step))
    angles = np.linspace(start, end, count + 1)
    return np.asarray(centre, dtype=float) + radius * np.stack([np.cos(angles), np.sin(angles)], axis=1)


def _dash(pattern: str) -> str:
    return f' stroke-dasharray="{pattern}"' if pattern else ""


def _n(value: float) -> str:
    """A coordinate to a micrometre, so that the same drawing is the same text everywhere."""
    text = f"{float(value):.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
