# SPDX-License-Identifier: BSD-3-Clause
"""The ring in its plane, to scale, with its dimensions."""

import numpy as np

from ringwright.antenna.design import CouplingKind
from ringwright.physics.graph import FloatArray
from ringwright.sheet.build import Build
from ringwright.sheet.drawings.outlines import (
    coupling_axis,
    coupling_section,
    ring_axis,
    ring_section,
    without_gap,
)
from ringwright.sheet.drawings.scale import View, bar_length, fitted, scale_bar
from ringwright.sheet.sketch import COPPER, INK, QUIET, Sketch

WIDTH, HEIGHT = 178.0, 166.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 21.0, 21.0, 13.0, 17.0


def ring_view(build: Build) -> Sketch:
    """Front view, along the ring's axis."""
    design, mechanics, measures = build.design, build.mechanics, build.measures
    sketch = Sketch(WIDTH, HEIGHT, title="The ring seen along its axis, to scale")
    axis = ring_axis(design)
    thick = ring_section(design)[0]
    low, high = axis.min(axis=0) - thick / 2.0, axis.max(axis=0) + thick / 2.0
    view = fitted(low, high, left_top=(_LEFT, _TOP), room=(WIDTH - _LEFT - _RIGHT, HEIGHT - _TOP - _BOTTOM))
    conductor(sketch, view, without_gap(axis, mechanics.cuts.gap), thick=thick)
    _box(sketch, view, build)
    loop = coupling_axis(design)
    if loop is not None:
        assert design.coupling.conductor is not None
        conductor(sketch, view, loop[0], thick=coupling_section(design)[0])
        sketch.circle(view(loop[1]), 1.1, ink=INK, width=0.3, fill="#ffffff")
    _dimensions(sketch, view, build)
    length, words = bar_length(view, is_imperial=measures.is_imperial)
    scale_bar(sketch, view, at=(4.0, HEIGHT - 3.0), words=words, metres=length)
    return sketch


def conductor(sketch: Sketch, view: View, axis: FloatArray, *, thick: float) -> None:
    """A conductor as thick as it is, with its axis where there is room for it."""
    wide = max(view.mm(thick), 0.5)
    places = view(axis)
    sketch.line(places, ink=INK, width=wide + 0.3)
    sketch.line(places, ink="#ecd9c8", width=wide - 0.1)
    if wide > 2.0:
        sketch.line(places, ink=COPPER, width=0.12, dash="2 0.6 0.4 0.6")


def _box(sketch: Sketch, view: View, build: Build) -> None:
    """The capacitor's box, outside the ring's ends, turned as the gap lies."""
    design, mechanics = build.design, build.mechanics
    at = ring_axis(design)[0]
    across, up, _ = mechanics.clearance.box
    outward = at / max(float(np.linalg.norm(at)), 1e-9)
    along = np.array([outward[1], -outward[0]])
    lead = design.ring.turn_lead if design.ring.turns > 1 else 0.0
    middle = at + lead * outward
    corners = [
        middle + a * across / 2.0 * along + b * up / 2.0 * outward
        for a, b in ((1, 1), (1, -1), (-1, -1), (-1, 1))
    ]
    sketch.shape(view(corners), ink=COPPER, width=0.3, fill="#ffffff", dash="1.6 0.8")
    places = view(np.array(corners))
    tip = places[int(np.argmax(places[:, 0]))]
    sketch.caution(view(middle), size=min(4.0, max(2.4, view.mm(min(across, up)) * 0.6)))
    height = float(np.clip(view(middle)[1] - view.mm(up) / 2.0 - 4.0, 4.0, HEIGHT - 20.0))
    to = (min(max(float(tip[0]) + 8.0, WIDTH - 50.0), WIDTH - 20.0), height)
    sketch.leader(tip, to, "box: kilovolts")


def _dimensions(sketch: Sketch, view: View, build: Build) -> None:
    design, mechanics, measures = build.design, build.mechanics, build.measures
    axis = ring_axis(design)
    low, high = axis.min(axis=0), axis.max(axis=0)
    left, bottom = view(low)
    right, top = view(high)
    size = high - low
    sketch.dimension((left, bottom), (right, bottom), measures.length(float(size[0])), off=-9.0)
    sketch.dimension((left, bottom), (left, top), measures.length(float(size[1])), off=12.0)
    sketch.text("between axes", [(left + right) / 2.0, bottom + 13.5], ink=QUIET)
    thick = ring_section(design)[0]
    # At the right, where no dimension stands.
    number = int(np.argmax(axis[:, 0] - 0.3 * abs(axis[:, 1] - 0.35 * high[1])))
    tip = view(axis[number])
    to = tip + np.array([-12.0, 12.0])
    words = f"{measures.fine(max(ring_section(design)))} {design.ring.conductor.kind.value}"
    sketch.leader(tip - np.array([view.mm(thick) / 2.0, 0.0]), to, words, anchor="end")
    loop = coupling_axis(design)
    if loop is None:
        kind = "arm to the tap" if design.coupling.kind is CouplingKind.TAPPED else "transformer"
        opposite = view(_opposite(axis))
        sketch.leader(
            opposite, (float(opposite[0]) + 14.0, float(opposite[1]) - 12.0), f"{kind}, see its table"
        )
        return
    places = view(loop[0])
    middle = places.mean(axis=0)
    wide, tall = np.ptp(loop[0], axis=0)
    assert design.coupling.diameter is not None
    is_round = abs(wide - tall) < 1e-3
    words = f"{measures.length(design.coupling.diameter)} loop" if is_round else "loop, see its drawing"
    sketch.text(
        words,
        middle + np.array([0.0, 1.0])
        if view.mm(float(wide)) > 24.0
        else middle - np.array([0.0, view.mm(float(tall)) / 2.0 + 4.0]),
    )
    sketch.text(
        f"gap {measures.length(mechanics.cuts.gap)}",
        view(axis[0]) + _inwards(axis[0]) * (view.mm(mechanics.clearance.box[1]) / 2.0 + 4.0),
    )


def _inwards(at: FloatArray) -> FloatArray:
    """On paper, from the gap towards the ring's centre."""
    away = at / max(float(np.linalg.norm(at)), 1e-9)
    return np.array([-away[0], away[1]])


def _opposite(axis: FloatArray) -> FloatArray:
    travelled = np.insert(np.cumsum(np.linalg.norm(np.diff(axis, axis=0), axis=1)), 0, 0.0)
    half = travelled[-1] / 2.0
    return np.array([np.interp(half, travelled, axis[:, number]) for number in (0, 1)])
