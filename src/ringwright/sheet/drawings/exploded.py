# SPDX-License-Identifier: BSD-3-Clause
"""The ring taken apart: every piece moved out from the middle, with its name in the cut list."""

import numpy as np

from ringwright.antenna.design import RingShape
from ringwright.physics.graph import FloatArray
from ringwright.safety.mechanics import Mechanics
from ringwright.sheet.build import Build
from ringwright.sheet.drawings.outlines import (
    coupling_axis,
    coupling_section,
    polygon_axis,
    ring_axis,
    ring_section,
    without_gap,
)
from ringwright.sheet.drawings.ring_view import conductor
from ringwright.sheet.drawings.scale import View, fitted
from ringwright.sheet.sketch import COPPER, INK, QUIET, Sketch

WIDTH, HEIGHT = 178.0, 108.0
_APART, _APART_BENT = 0.14, 0.06  # of the ring's size that pieces are moved outwards


def exploded_view(build: Build) -> Sketch:
    """One turn; of several all are alike."""
    design = build.design
    sketch = Sketch(WIDTH, HEIGHT, title="The ring taken apart, each piece with its length as cut")
    axis = ring_axis(design)
    size = np.ptp(axis, axis=0)
    is_bent = design.ring.shape in (RingShape.CIRCLE, RingShape.OVAL)
    shift = (_APART_BENT if is_bent else _APART) * float(size.max())
    view = fitted(
        axis.min(axis=0) - shift,
        axis.max(axis=0) + shift,
        left_top=(22.0, 7.0),
        room=(WIDTH - 44.0, HEIGHT - 14.0),
    )
    thick = ring_section(design)[0]
    if is_bent:
        _bent(sketch, view, build)
    else:
        for piece, words in _sides(build):
            outward = piece.mean(axis=0) / max(float(np.linalg.norm(piece.mean(axis=0))), 1e-9)
            conductor(sketch, view, piece + shift * outward, thick=thick)
            away = np.array([outward[0], -outward[1]])
            place = view(piece.mean(axis=0) + shift * outward) + away * (view.mm(thick) / 2.0 + 2.0)
            anchor = "start" if away[0] > 0.5 else "end" if away[0] < -0.5 else "middle"
            sketch.text(words, place + np.array([0.0, 1.0 + 1.6 * max(away[1], 0.0)]), anchor=anchor)
    _inside(sketch, view, build)
    return sketch


def _sides(build: Build) -> list[tuple[FloatArray, str]]:
    """Axis of each piece and its words."""
    design, mechanics, measures = build.design, build.mechanics, build.measures
    points = np.concatenate([polygon_axis(design), polygon_axis(design)[:1]])
    trimmed = [points[number : number + 2] for number in range(len(points) - 1)]
    gap = mechanics.cuts.gap / 2.0
    for number, keep in ((0, 1), (len(trimmed) - 1, 0)):
        piece = trimmed[number].copy()
        along = piece[keep] - piece[1 - keep]
        piece[1 - keep] = piece[1 - keep] + along / np.linalg.norm(along) * gap
        trimmed[number] = piece
    pieces = mechanics.cuts.pieces
    found = []
    for number, piece in enumerate(trimmed):
        is_gap = number in (0, len(trimmed) - 1)
        length = float(np.linalg.norm(piece[1] - piece[0]))
        alike = [each for each in pieces if each.name == ("side at the gap" if is_gap else "side")] or list(
            pieces
        )
        best = min(alike, key=lambda each: abs(each.axis - length))
        found.append((piece, f"{letter_of(mechanics, best.name, best.cut)}: {measures.length(best.cut)}"))
    return found


def letter_of(mechanics: Mechanics, name: str, cut: float) -> str:
    """Which line of the cut list a piece is: A, B, C ..."""
    for number, piece in enumerate(mechanics.cuts.pieces):
        if piece.name == name and abs(piece.cut - cut) < 1e-9:
            return chr(ord("A") + number)
    return "?"


def _bent(sketch: Sketch, view: View, build: Build) -> None:
    design, mechanics, measures = build.design, build.mechanics, build.measures
    axis = without_gap(ring_axis(design), mechanics.cuts.gap)
    thick = ring_section(design)[0]
    number = mechanics.cuts.pieces[0].count
    for part in np.array_split(np.arange(len(axis)), number):
        piece = axis[part]
        outward = piece[len(piece) // 2] / max(float(np.linalg.norm(piece[len(piece) // 2])), 1e-9)
        conductor(sketch, view, piece + (0.04 * np.ptp(axis) * outward if number > 1 else 0.0), thick=thick)
    at = view(axis[len(axis) // 4])
    words = f"A: {measures.length(mechanics.cuts.pieces[0].cut)} before bending"
    sketch.leader(at, (WIDTH - 44.0, float(at[1]) + 16.0), words)


def _inside(sketch: Sketch, view: View, build: Build) -> None:
    """Box drawn away from the gap, the coupling loop lifted towards the middle."""
    design, mechanics, measures = build.design, build.mechanics, build.measures
    axis = ring_axis(design)
    gap = axis[0]
    outward = gap / max(float(np.linalg.norm(gap)), 1e-9)
    across, up, _ = mechanics.clearance.box
    middle = gap - outward * (0.55 * up + 0.16 * float(np.ptp(axis, axis=0).max()))
    along = np.array([outward[1], -outward[0]])
    corners = [
        middle + a * across / 2.0 * along + b * up / 2.0 * outward
        for a, b in ((1, 1), (1, -1), (-1, -1), (-1, 1))
    ]
    sketch.shape(view(corners), ink=COPPER, width=0.3, fill="#ffffff", dash="1.6 0.8")
    sketch.caution(view(middle), size=3.2)
    sketch.line(view([middle + outward * up / 2.0, gap]), ink=QUIET, width=0.18, dash="1 1")
    lowest = view(np.array(corners))
    sketch.text(
        f"{design.capacitor.kind} capacitor in its box",
        (float(lowest[:, 0].mean()), float(lowest[:, 1].max()) + 4.0),
    )
    loop = coupling_axis(design)
    if loop is None:
        return
    assert design.coupling.conductor is not None
    curve = loop[0]
    from_foot = -outward if np.linalg.norm(curve.mean(axis=0)) > 1e-6 else outward * 0.0
    lifted = curve - from_foot * 0.12 * float(np.ptp(axis, axis=0).max())
    conductor(sketch, view, lifted, thick=coupling_section(design)[0])
    sketch.circle(
        view(loop[1] - from_foot * 0.12 * float(np.ptp(axis, axis=0).max())), 1.1, ink=INK, fill="#ffffff"
    )
    cut = mechanics.cuts.coupling[0].cut
    at = view(lifted).mean(axis=0)
    tall = view.mm(float(np.ptp(curve[:, 1])))
    words = f"coupling loop: {measures.length(cut)}"
    sketch.text(words, at - np.array([0.0, tall / 2.0 + 3.0]))
