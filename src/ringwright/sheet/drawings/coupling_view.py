# SPDX-License-Identifier: BSD-3-Clause
"""The coupling loop beside the ring's conductor, to scale."""

import numpy as np

from ringwright.physics.graph import FloatArray
from ringwright.sheet.build import Build
from ringwright.sheet.drawings.outlines import coupling_axis, coupling_section, ring_axis, ring_section
from ringwright.sheet.drawings.ring_view import conductor
from ringwright.sheet.drawings.scale import bar_length, fitted, scale_bar
from ringwright.sheet.sketch import INK, QUIET, Sketch

WIDTH, HEIGHT = 86.0, 70.0


def coupling_view(build: Build) -> Sketch | None:
    """None where the coupling is no loop."""
    design, measures = build.design, build.measures
    loop = coupling_axis(design)
    if loop is None:
        return None
    assert design.coupling.conductor is not None
    sketch = Sketch(WIDTH, HEIGHT, title="The coupling loop beside the ring's conductor, to scale")
    curve, feed = loop
    low, high = curve.min(axis=0), curve.max(axis=0)
    wide, tall = high - low
    thick, ring_thick = coupling_section(design)[0], ring_section(design)[0]
    room = design.coupling.clearance + ring_thick + thick
    view = fitted(low - room, high + room, left_top=(12.0, 6.0), room=(WIDTH - 22.0, HEIGHT - 18.0))
    near = _near(ring_axis(design), curve, reach=0.75 * float(max(wide, tall)) + room)
    for piece in near:
        conductor(sketch, view, piece, thick=ring_thick)
    conductor(sketch, view, curve, thick=thick)
    middle = view(curve.mean(axis=0))
    left, bottom = view(low)
    right, _ = view(high)
    sketch.dimension((left, middle[1]), (right, middle[1]), measures.length(float(wide)), off=0.0)
    if abs(wide - tall) > 1e-3:
        top = view(high)[1]
        sketch.dimension((right, bottom), (right, top), measures.length(float(tall)), off=-8.0)
    if view.mm(float(wide)) > 22.0:
        sketch.text("between axes", middle + np.array([0.0, 4.0]), ink=QUIET)
    at = view(feed)
    sketch.circle(at, 1.3, ink=INK, width=0.35, fill="#ffffff")
    sketch.text("connector", at + np.array([0.0, -3.4 if at[1] < middle[1] else 5.6]))
    length, words = bar_length(view, is_imperial=measures.is_imperial)
    scale_bar(sketch, view, at=(4.0, HEIGHT - 2.5), words=words, metres=length)
    clear = f"{measures.length(design.coupling.clearance)} between surfaces"
    sketch.text(
        clear if design.coupling.place.value == "opposite gap" else "in the ring's centre",
        (WIDTH / 2.0, HEIGHT - 6.5),
    )
    return sketch


def _near(axis: FloatArray, curve: FloatArray, *, reach: float) -> list[FloatArray]:
    """The stretches of the ring's axis near the loop."""
    fine = _divided(axis)
    centre = curve.mean(axis=0)
    inside = np.abs(fine - centre).max(axis=1) < reach
    edges = np.flatnonzero(np.diff(inside.astype(int)))
    pieces = np.split(fine, edges + 1)
    return [
        piece for piece in pieces if len(piece) > 1 and np.abs(piece[len(piece) // 2] - centre).max() < reach
    ]


def _divided(axis: FloatArray) -> FloatArray:
    steps = np.linspace(0.0, 1.0, 200, endpoint=False)[None, :, None]
    a, b = axis[:-1, None, :], axis[1:, None, :]
    return np.concatenate([(a + (b - a) * steps).reshape(-1, 2), axis[-1:]]) if len(axis) < 100 else axis
