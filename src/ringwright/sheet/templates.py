# SPDX-License-Identifier: BSD-3-Clause
"""Templates at 1:1, cut into tiles that overlap: arc of the ring, coupling loop, corners, drilling."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np

from ringwright.antenna.building import CornerKind
from ringwright.antenna.design import CouplingKind, RingShape
from ringwright.physics.graph import FloatArray
from ringwright.sheet.build import Build
from ringwright.sheet.drawings.corner_view import corner_pieces, elbow_pieces
from ringwright.sheet.drawings.outlines import coupling_axis, coupling_section, ring_axis, ring_section
from ringwright.sheet.sketch import COPPER, FAINT, INK, QUIET, THIN, Sketch
from ringwright.sheet.typeset import PAPERS

OVERLAP = 12.0
"""Of neighbouring tiles. [mm]"""
BAR = 100.0
"""Length of the bar that every page is checked by. [mm]"""
_MARGIN, _HEAD, _FOOT = 10.0, 13.0, 11.0
_ROOM = 6.0  # round what is drawn
_WHOLE = 450.0  # of a loop; what is larger is drawn as a quarter
_DOWN = np.array([1e3, -1e3])  # metres right and up to millimetres right and down
_LONGEST = 700.0  # of an arc's template along either side; more of it only repeats

Paint = Callable[[Sketch, FloatArray], None]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Template:
    """Something to be drawn at 1:1 between `low` and `high` [mm, x right, y down].

    `paint` draws it on a sketch whose left upper corner lies at the given place; `places` (n, 2) are points of it, so
    that empty tiles are left out.
    """

    title: str
    advice: str
    low: FloatArray
    high: FloatArray
    places: FloatArray
    paint: Paint


def tiles_of(build: Build, *, paper: str) -> tuple[dict[str, Any], ...]:
    """All tiles of all templates of a design, in order."""
    return tuple(tile for template in templates(build) for tile in _tiles(template, paper))


def templates(build: Build) -> Iterator[Template]:
    """Those that a design has use for."""
    if build.design.ring.shape in (RingShape.CIRCLE, RingShape.OVAL):
        yield _arc(build)
    for number, (turning, _) in enumerate(build.mechanics.cuts.corners, start=1):
        yield _corner(build, turning, number)
    if build.design.coupling.kind is CouplingKind.LOOP:
        yield _loop(build)
        yield _spacer(build)
    yield _wall(build)


def _arc(build: Build) -> Template:
    curve = ring_axis(build.design)[:-1] * _DOWN
    return _quarter("the ring", "Arc of the ring", curve, thick=ring_section(build.design)[0] * 1e3)


def _quarter(what: str, title: str, curve: FloatArray, *, thick: float) -> Template:
    """A quarter of a closed curve, from its top, or as much of it as is of use: the rest repeats or mirrors."""
    middle = curve.mean(axis=0)
    right_top = (curve[:, 0] >= middle[0] - 1e-6) & (curve[:, 1] <= middle[1] + 1e-6)
    angles = np.arctan2(curve[right_top, 0] - middle[0], middle[1] - curve[right_top, 1])
    whole = curve[right_top][np.argsort(angles)]
    quarter = whole[np.abs(whole - whole[0]).max(axis=1) <= _LONGEST]
    lines = _edges(quarter, thick)
    words = (
        f"A quarter of {what}"
        if len(quarter) == len(whole)
        else f"Part of the curve of {what}, which goes on"
    )

    def paint(sketch: Sketch, corner: FloatArray) -> None:
        _paint_edges(sketch, lines, corner)

    advice = f"{words}; dashed the axis, full the conductor's edges."
    return _template(title, advice, np.concatenate(lines), paint=paint)


def _edges(axis: FloatArray, thick: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Inner edge, axis and outer edge of a conductor along an axis."""
    tangent = np.gradient(axis, axis=0)
    tangent /= np.linalg.norm(tangent, axis=1)[:, None]
    aside = np.stack([tangent[:, 1], -tangent[:, 0]], axis=1) * thick / 2.0
    return axis - aside, axis, axis + aside


def _paint_edges(
    sketch: Sketch, lines: tuple[FloatArray, FloatArray, FloatArray], corner: FloatArray
) -> None:
    for line in (lines[0], lines[2]):
        sketch.line(line - corner, ink=INK, width=0.3)
    sketch.line(lines[1] - corner, ink=COPPER, width=0.2, dash="6 1.2 1 1.2")


def _loop(build: Build) -> Template:
    """The whole coupling loop; of a large one a quarter."""
    found = coupling_axis(build.design)
    assert found is not None
    assert build.design.coupling.conductor is not None
    centre = found[0][:-1].mean(axis=0)
    axis, feed = (found[0] - centre) * _DOWN, (found[1] - centre) * _DOWN
    thick = coupling_section(build.design)[0] * 1e3
    if float(np.ptp(axis, axis=0).max()) > _WHOLE:
        return _quarter("the coupling loop", "Coupling loop", axis[:-1], thick=thick)
    lines = _edges(axis, thick)
    gap = build.design.building.connector_gap * 1e3

    def paint(sketch: Sketch, corner: FloatArray) -> None:
        _paint_edges(sketch, lines, corner)
        sketch.circle(feed - corner, gap / 2.0, ink=QUIET, width=0.25, dash="1.5 1")
        for way in (np.array([4.0, 0.0]), np.array([0.0, 4.0])):
            sketch.line([-way - corner, way - corner], ink=QUIET, width=THIN)

    advice = "Bend along it; dashed the axis. The dashed circle is the space for the connector."
    return _template("Coupling loop", advice, np.concatenate(lines), paint=paint)


def _corner(build: Build, turning: float, number: int) -> Template:
    thick = ring_section(build.design)[0]
    building, length = build.design.building, max(0.08, 3.0 * thick)
    is_mitre = building.corners is CornerKind.MITRE
    found = (
        corner_pieces(thick, turning, length=length)
        if is_mitre
        else elbow_pieces(thick, turning, length=length + building.take_off, take_off=building.take_off)
    )
    pieces = [piece * _DOWN for piece in found]
    degrees = f"{round(math.degrees(abs(turning)) * 10) / 10:g}°"
    end = 2.0 * thick * 1e3

    def paint(sketch: Sketch, corner: FloatArray) -> None:
        for piece in pieces:
            sketch.shape(piece - corner, ink=INK, width=0.3)
        if is_mitre:
            sketch.line(np.array([pieces[0][1], pieces[0][2]]) - corner, ink=COPPER, width=0.5)
        far = np.array([math.cos(turning), math.sin(turning)]) * end
        sketch.line(
            np.array([[-end, 0.0], [0.0, 0.0], far]) - corner, ink=COPPER, width=0.2, dash="6 1.2 1 1.2"
        )

    which = f" {number}" if len(build.mechanics.cuts.corners) > 1 else ""
    ends = build.measures.length(building.take_off)
    saw = (
        " The thick line is the saw cut."
        if is_mitre
        else f" The tubes end, square, {ends} before the axes cross."
    )
    advice = f"The conductor turns by {degrees}; lay both pieces on it while you join them.{saw}"
    return _template(f"Corner{which}", advice, np.concatenate(pieces), paint=paint)


def _spacer(build: Build) -> Template:
    """A plate that holds the coupling loop's conductor at its clearance beside the ring's, midway between turns."""
    ring_hole, own_hole = (np.array(find(build.design)) * 1e3 for find in (ring_section, coupling_section))
    ring = build.design.ring
    apart = build.design.coupling.clearance * 1e3 + (ring_hole[0] + own_hole[0]) / 2.0
    turns = (np.arange(ring.turns) - (ring.turns - 1) / 2.0) * (ring.turn_spacing or 0.0) * 1e3
    edge, tall = 12.0, max(turns[-1] + ring_hole[1] / 2.0, own_hole[1] / 2.0)
    low = np.array([-ring_hole[0] / 2.0 - edge, -tall - edge])
    high = np.array([apart + own_hole[0] / 2.0 + edge, tall + edge])
    loop = (np.array([apart, 0.0]), own_hole)
    holes = (*((np.array([0.0, place]), ring_hole) for place in turns), loop)
    return _plate(build, "Drilling: spacer of the coupling loop", (low, high), holes=holes)


def _wall(build: Build) -> Template:
    """Where the ring's ends pass the box's side walls, and where the shaft does: one hole each, at its middle."""
    across, up, depth = (side * 1e3 for side in build.mechanics.clearance.box)
    del across
    hole = np.array(ring_section(build.design))[::-1] * 1e3
    half = np.array([depth, up]) / 2.0
    return _plate(
        build,
        "Drilling: side wall of the box",
        (-half, half),
        holes=((np.zeros(2), hole),),
    )


def _plate(
    build: Build,
    title: str,
    edges: tuple[FloatArray, FloatArray],
    *,
    holes: tuple[tuple[FloatArray, FloatArray], ...],
) -> Template:
    """A plate with holes, each at its place with its width and height [mm]: round ones, and slots for strip."""
    low, high = edges
    measures = build.measures
    outline = np.array([low, [high[0], low[1]], high, [low[0], high[1]]])

    def paint(sketch: Sketch, corner: FloatArray) -> None:
        sketch.shape(outline - corner, ink=QUIET, width=0.25, dash="3 1.5")
        for centre, size in holes:
            _hole(sketch, centre - corner, size)
            words = " x ".join(measures.fine(side * 1e-3) for side in dict.fromkeys(size.tolist()))
            sketch.text(words, centre - corner + np.array([0.0, size[1] / 2.0 + 8.0]))
        for one, other in pairwise(centre for centre, _ in holes):
            apart = measures.fine(float(np.linalg.norm(other - one)) * 1e-3)
            sketch.dimension(one - corner, other - corner, apart, off=float(holes[0][1][1]) / 2.0 + 5.0)

    advice = "Centre-punch, drill small first; dashed the plate's edge."
    return _template(title, advice, outline, paint=paint)


def _hole(sketch: Sketch, centre: FloatArray, size: FloatArray) -> None:
    """Round where it is as high as wide, else a slot; a cross through its middle."""
    half = size / 2.0
    if size[0] == size[1]:
        sketch.circle(centre, float(half[0]), ink=INK, width=0.3)
    else:
        corners = ((-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0))
        sketch.shape([centre + half * np.array(each) for each in corners], ink=INK, width=0.3)
    for way in np.diag(half + 4.0):
        sketch.line([centre - way, centre + way], ink=QUIET, width=THIN)


def _template(title: str, advice: str, places: FloatArray, *, paint: Paint) -> Template:
    return Template(
        title=title,
        advice=advice,
        low=places.min(axis=0) - _ROOM,
        high=places.max(axis=0) + _ROOM,
        places=places,
        paint=paint,
    )


def _tiles(template: Template, paper: str) -> Iterator[dict[str, Any]]:
    """Left to right, top to bottom; those on which nothing lies are left out."""
    _, width, height = PAPERS[paper]
    window = np.array([width - 2.0 * _MARGIN, height - 2.0 * _MARGIN - _HEAD - _FOOT])
    step = window - OVERLAP
    size = template.high - template.low
    columns, rows = (max(1, math.ceil((side - OVERLAP) / one)) for side, one in zip(size, step, strict=True))
    spare = np.array([columns, rows]) * step + OVERLAP - size
    start = template.low - spare / 2.0
    for row in range(rows):
        for column in range(columns):
            corner = start + np.array([column, row]) * step
            inside = (template.places > corner) & (template.places < corner + window)
            if not inside.all(axis=1).any():
                continue
            place = (
                f"{_letter(row)}{column + 1} of {_letter(rows - 1)}{columns}"
                if columns * rows > 1
                else "one page"
            )
            sketch = _tile(template, corner, window, grid=(columns, rows), at=(column, row))
            yield {
                "title": template.title,
                "place": place,
                "advice": "Print at 100 %, not fitted to the page; the bars must measure 100 mm and 2 in. "
                f"{template.advice}",
                "svg": sketch.svg(),
                "width": sketch.width,
                "height": sketch.height,
            }


def _letter(number: int) -> str:
    return chr(ord("A") + number)


def _tile(
    template: Template, corner: FloatArray, window: FloatArray, *, grid: tuple[int, int], at: tuple[int, int]
) -> Sketch:
    """One page's part, its frame, the marks to lay the next one on, and the bar below."""
    sketch = Sketch(float(window[0]), float(window[1]) + _FOOT, title=template.title)
    with sketch.clipped(float(window[0]), float(window[1])):
        template.paint(sketch, corner)
    wide, high = window
    sketch.shape([(0.1, 0.1), (wide - 0.1, 0.1), (wide - 0.1, high), (0.1, high)], ink=FAINT, width=0.15)
    for axis, (count, number) in enumerate(zip(grid, at, strict=True)):
        for is_after in (False, True):
            if (number == 0 and not is_after) or (number == count - 1 and is_after):
                continue
            _overlap_mark(sketch, window, axis=axis, is_after=is_after)
    _bar(sketch, float(high) + 6.5)
    return sketch


def _overlap_mark(sketch: Sketch, window: FloatArray, *, axis: int, is_after: bool) -> None:
    """The line that lies on the neighbour's edge, with crosses that must meet its crosses."""
    place = float(window[axis]) - OVERLAP if is_after else OVERLAP
    edge = float(window[axis]) if is_after else 0.0
    across = float(window[1 - axis])

    def at(along: float, aside: float) -> tuple[float, float]:
        return (aside, along) if axis == 0 else (along, aside)

    sketch.line([at(0.0, place), at(across, place)], ink=QUIET, width=THIN, dash="4 2")
    for along in (across * 0.25, across * 0.75):
        middle = (place + edge) / 2.0
        sketch.line([at(along - 3.0, middle), at(along + 3.0, middle)], ink=INK, width=0.2)
        sketch.line([at(along, middle - 3.0), at(along, middle + 3.0)], ink=INK, width=0.2)
        sketch.circle(at(along, middle), 1.5, ink=INK, width=0.2)


def _bar(sketch: Sketch, y: float) -> None:
    """100 mm and 2 in, to check the printer by."""
    sketch.line([(1.0, y), (1.0 + BAR, y)], ink=INK, width=0.3)
    for number in range(11):
        tall = 2.4 if number in (0, 5, 10) else 1.4
        sketch.line([(1.0 + 10.0 * number, y - tall), (1.0 + 10.0 * number, y)], ink=INK, width=0.25)
    sketch.text("100 mm", (BAR + 2.5, y), anchor="start")
    inch = 25.4
    start = BAR + 18.0
    sketch.line([(start, y), (start + 2 * inch, y)], ink=INK, width=0.3)
    for number in range(5):
        sketch.line(
            [
                (start + number * inch / 2.0, y - (2.4 if number % 2 == 0 else 1.4)),
                (start + number * inch / 2.0, y),
            ],
            ink=INK,
            width=0.25,
        )
    sketch.text("2 in", (start + 2 * inch + 2.0, y), anchor="start")
