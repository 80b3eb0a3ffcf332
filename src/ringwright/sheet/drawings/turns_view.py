# SPDX-License-Identifier: BSD-3-Clause
"""A ring of several turns from its edge, to scale: how they stand side by side, and how their leads run to the gap."""

import numpy as np

from ringwright.antenna.geometry import Address
from ringwright.physics.graph import FloatArray
from ringwright.sheet.build import Build
from ringwright.sheet.drawings.outlines import ring_section
from ringwright.sheet.drawings.scale import bar_length, fitted, scale_bar
from ringwright.sheet.sketch import COPPER, FAINT, INK, QUIET, THIN, Sketch

WIDTH, HEIGHT = 86.0, 100.0


def turns_view(build: Build) -> Sketch | None:
    """None of one turn. Along the ring's plane, the gap on top; as it is solved: nodes of ring and coupling."""
    ring, measures = build.design.ring, build.measures
    if ring.turns == 1:
        return None
    assert ring.turn_spacing is not None
    wires = build.prediction.bands[0].point.wires
    graph = wires.graph
    to_gap = graph.nodes[wires.gap] - wires.centre
    to_gap -= (to_gap @ wires.axis) * wires.axis
    up = to_gap / np.linalg.norm(to_gap)

    def seen(address: Address) -> FloatArray:
        points = graph.nodes[graph.segments[graph.address == address]] - wires.centre
        return np.stack([points @ wires.axis, points @ up], axis=-1)

    own, loop = seen(Address.RING), seen(Address.COUPLING)
    sketch = Sketch(WIDTH, HEIGHT, title="The turns side by side, seen from the edge, to scale")
    low, high = own.reshape(-1, 2).min(axis=0), own.reshape(-1, 2).max(axis=0)
    view = fitted(low, high, left_top=(24.0, 12.0), room=(WIDTH - 48.0, HEIGHT - 32.0))
    wide = max(view.mm(ring_section(build.design)[1]), 0.5)
    for strokes, ink in ((own, INK), (loop, COPPER)):
        for start, end in view(strokes):
            sketch.line([start, end], ink=ink, width=wide if ink == INK else 0.8)
    for start, end in view(own):
        sketch.line([start, end], ink="#ecd9c8", width=max(wide - 0.3, 0.1))
    foot = view((low[0], low[1]))[1]
    turns = [(number - (ring.turns - 1) / 2.0) * ring.turn_spacing for number in range(ring.turns)]
    left, right = view((turns[0], low[1])), view((turns[1], low[1]))
    for place in (left, right):
        sketch.line([place, place + np.array([0.0, 5.0])], ink=FAINT, width=THIN)
    sketch.dimension((left[0], foot + 4.5), (right[0], foot + 4.5), "", off=0.0)
    sketch.text(f"{measures.length(ring.turn_spacing)} from axis to axis", (WIDTH / 2.0, foot + 9.0))
    top = view((high[0], high[1]))
    rim = view((high[0], high[1] - ring.turn_lead))
    sketch.dimension((top[0] + 4.0, rim[1]), (top[0] + 4.0, top[1]), "", off=0.0)
    sketch.text(
        f"leads {measures.length(ring.turn_lead)} out",
        (top[0] + 6.0, (top[1] + rim[1]) / 2.0),
        anchor="start",
    )
    sketch.text("capacitor", (view((0.0, 0.0))[0], 6.0), bold=True)
    if loop.size:
        sketch.leader(view(loop.reshape(-1, 2).mean(axis=0)), (4.0, HEIGHT - 24.0), "coupling, midway")
    length, words = bar_length(view, is_imperial=measures.is_imperial)
    scale_bar(sketch, view, at=(4.0, HEIGHT - 2.5), words=words, metres=length)
    sketch.text("seen from the edge", (WIDTH - 3.0, HEIGHT - 2.0), anchor="end", ink=QUIET)
    return sketch
