# SPDX-License-Identifier: BSD-3-Clause
"""The ring on its stand from the side, to scale: heights, feet, where the wind pushes."""

import numpy as np

from ringwright.antenna.building import StandKind
from ringwright.antenna.geometry import Address
from ringwright.physics.graph import FloatArray
from ringwright.sheet.build import Build
from ringwright.sheet.drawings.outlines import ring_section
from ringwright.sheet.drawings.scale import bar_length, fitted, scale_bar
from ringwright.sheet.sketch import COPPER, FAINT, INK, QUIET, THIN, Sketch

WIDTH, HEIGHT = 86.0, 100.0
_PERSON = 1.75  # [m]
_LEAST_DIMENSION = 16.0  # mm, that a dimension's words stand beside its arrows


def stand_view(build: Build) -> Sketch:
    """Seen along the ring's plane; a ring that lies, from one side."""
    mechanics, measures, wires = build.mechanics, build.measures, build.prediction.bands[0].point.wires
    sketch = Sketch(WIDTH, HEIGHT, title="The ring on its stand, seen from the side, to scale")
    stand, graph = mechanics.stand, wires.graph
    level = wires.axis if abs(wires.axis[2]) < 0.7 else wires.across
    sideways = np.array([level[0], level[1], 0.0]) / np.hypot(level[0], level[1])

    def seen(points: FloatArray) -> FloatArray:
        return np.stack([(points - wires.centre) @ sideways, points[..., 2]], axis=-1)

    ring = seen(graph.nodes[graph.segments[graph.address == Address.RING]])
    lowest, highest = float(ring[..., 1].min()), float(ring[..., 1].max())
    half = max(stand.foot_circle / 2.0, float(abs(ring[..., 0]).max()), 0.5)
    person = half + 0.45
    view = fitted(
        (-half - 0.1, stand.floor), (person + 0.25, max(highest, stand.floor + _PERSON)),
        left_top=(15.0, 8.0), room=(WIDTH - 18.0, HEIGHT - 26.0),
    )  # fmt: skip
    ground = view((0.0, stand.floor))[1]
    sketch.line([[3.0, ground], [WIDTH - 3.0, ground]], ink=INK, width=0.5)
    _person(sketch, view((person, stand.floor)), view.mm(_PERSON))
    mast = max(view.mm(stand.mast_diameter), 0.5)
    sketch.line(view([(0.0, stand.floor), (0.0, lowest)]), ink=QUIET, width=mast)
    if stand.kind is StandKind.STANDING:
        reach, up = stand.foot_circle / 2.0, min(0.4 * stand.foot_circle, (lowest - stand.floor) * 0.6)
        for side in (-1.0, 1.0):
            sketch.line(view([(0.0, stand.floor + up), (side * reach, stand.floor)]), ink=QUIET, width=0.6)
        a, b = view((-reach, stand.floor)), view((reach, stand.floor))
        sketch.dimension(a, b, measures.distance(stand.foot_circle), off=-6.0)
        sketch.text("circle of the feet", [(a[0] + b[0]) / 2.0, a[1] + 10.5], ink=QUIET)
    thick = max(view.mm(ring_section(build.design)[1]), 0.5)
    for start, end in view(ring):
        sketch.line([start, end], ink=INK, width=thick + 0.2)
    for start, end in view(ring):
        sketch.line([start, end], ink="#ecd9c8", width=max(thick - 0.1, 0.1))
    gap = view(seen(graph.nodes[wires.gap][None]))[0]
    _, up, depth = mechanics.clearance.box
    box = [
        gap + np.array([a * view.mm(depth) / 2.0, b * view.mm(up) / 2.0])
        for a, b in ((1, 1), (1, -1), (-1, -1), (-1, 1))
    ]
    sketch.shape(box, ink=COPPER, width=0.3, fill="#ffffff", dash="1.4 0.7")
    left, foot = 13.0, view((0.0, lowest))[1]
    tall = measures.distance(lowest - stand.floor)
    has_room = ground - foot > _LEAST_DIMENSION
    sketch.dimension((left, ground), (left, foot), tall if has_room else "", off=4.0)
    if not has_room:
        sketch.text(tall, (left - 3.0, foot - 3.0))
    sketch.line([(left, view((0.0, lowest))[1]), tuple(view((0.0, lowest)))], ink=FAINT, width=THIN)
    length, words = bar_length(view, is_imperial=measures.is_imperial)
    scale_bar(sketch, view, at=(4.0, HEIGHT - 2.5), words=words, metres=length)
    return sketch


def _person(sketch: Sketch, at: FloatArray, tall: float) -> None:
    """Somebody of 1.75 m, to compare."""
    x, y = at
    head = tall * 0.065
    sketch.circle((x, y - tall + head), head, ink=QUIET, width=THIN, fill="#eeeeee")
    w, s = tall * 0.12, tall * 0.86
    right = [(w, s), (w * 0.9, tall * 0.5), (w * 0.7, 0.0), (w * 0.15, 0.0)]
    body = [*right, (0.0, tall * 0.45), *((-across, up) for across, up in reversed(right))]
    sketch.shape([(x + across, y - up) for across, up in body], ink=QUIET, width=THIN, fill="#eeeeee")
