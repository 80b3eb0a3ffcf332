# SPDX-License-Identifier: BSD-3-Clause
"""The capacitor in its box: what goes to what, and what must stay how far from what."""

from ringwright.sheet.build import Build
from ringwright.sheet.sketch import COPPER, FAINT, INK, QUIET, Sketch

WIDTH, HEIGHT = 178.0, 88.0


def box_view(build: Build) -> Sketch:
    """Not to scale: the distances are written."""
    mechanics, measures = build.mechanics, build.measures
    sketch = Sketch(WIDTH, HEIGHT, title="Wiring of the capacitor's box, not to scale, with its clearances")
    clear = mechanics.clearance
    x, y, w, h = 46.0, 14.0, 86.0, 56.0
    sketch.shape([(x, y), (x + w, y), (x + w, y + h), (x, y + h)], ink=COPPER, width=0.5, dash="2.2 1")
    sketch.text("box of plastic, no metal walls", (x + w / 2.0, y - 7.5), bold=True)
    across, up, depth = (measures.length(side) for side in clear.box)
    sketch.text(f"outside {across} wide, {up} high, {depth} deep", (x + w / 2.0, y - 3.0), ink=QUIET)
    middle = y + h / 2.0
    _plates(sketch, x + w / 2.0, middle)
    left, right = x + 26.0, x + w - 26.0
    for end, wall in ((left, 4.0), (right, WIDTH - 4.0)):
        sketch.line([(wall, middle), (end, middle)], ink=INK, width=3.4)
        sketch.line([(wall, middle), (end, middle)], ink="#ecd9c8", width=2.8)
    for strap in ((left, x + w / 2.0 - 7.0), (x + w / 2.0 + 7.0, right)):
        sketch.line([(strap[0], middle), (strap[1], middle)], ink=COPPER, width=1.4)
    sketch.text("ring's end", (18.0, middle - 4.0))
    sketch.text("ring's end", (WIDTH - 18.0, middle - 4.0))
    sketch.text("short wide straps", (x + w / 2.0 + 8.5, middle - 3.6), anchor="start")
    sketch.dimension((x + w / 2.0, y), (x + w / 2.0, middle - 10.0 + 0.5), "", off=-4.0)
    sketch.text(f"{measures.at_least(clear.wall)} or more", (x + w / 2.0 + 4.0, y + 6.5), anchor="start")
    sketch.text("from hot metal to every wall", (x + w / 2.0 + 4.0, y + 10.1), anchor="start", ink=QUIET)
    sketch.caution((x + 9.0, y + 9.0), size=6.0)
    sketch.text(f"{measures.at_least(clear.air)} of air at least", (x + 2.5, middle + 15.0), anchor="start")
    sketch.text("between the ends' bare metal", (x + 2.5, middle + 18.6), anchor="start", ink=QUIET)
    _drive(sketch, build, at=(x + w / 2.0, middle, y + h))
    sketch.text("drain hole", (x + w - 2.0, y + h - 1.8), anchor="end", ink=QUIET)
    return sketch


def _plates(sketch: Sketch, x: float, y: float) -> None:
    for side in (-1.0, 1.0):
        sketch.line([(x + side * 1.6, y - 8.0), (x + side * 1.6, y + 8.0)], ink=INK, width=0.9)
        sketch.line([(x + side * 1.6, y), (x + side * 7.0, y)], ink=INK, width=0.5)
    sketch.line([(x - 6.0, y + 8.0), (x + 6.0, y - 8.0)], ink=INK, width=0.3)
    sketch.shape([(x + 6.0, y - 8.0), (x + 4.2, y - 7.4), (x + 5.3, y - 5.9)], ink=INK, width=0.1, fill=INK)


def _drive(sketch: Sketch, build: Build, *, at: tuple[float, float, float]) -> None:
    """The shaft to a motor or a knob, below the box."""
    design, mechanics, measures = build.design, build.mechanics, build.measures
    x, y, floor = at
    clear = mechanics.clearance
    sketch.line([(x, y + 9.0), (x, floor + 5.0)], ink="#9c8b6f", width=2.0)
    word = "motor" if design.drive is not None else "insulated knob or rod"
    sketch.shape(
        [(x - 9.0, floor + 5.0), (x + 9.0, floor + 5.0), (x + 9.0, floor + 13.0), (x - 9.0, floor + 13.0)],
        ink=INK,
        fill="#f4f4f4",
    )
    sketch.text(word if design.drive is not None else "knob", (x, floor + 10.0))
    sketch.line([(x + 2.0, floor + 2.5), (x + 16.0, floor + 7.0)], ink=FAINT, width=0.2)
    dry, damp = measures.at_least(clear.creepage_dry), measures.at_least(clear.creepage_damp)
    sketch.text(
        f"insulating shaft: {dry} of surface dry, {damp} damp", (x + 16.5, floor + 8.0), anchor="start"
    )
    if design.drive is None:
        sketch.text(f"{word}, never a metal one", (x + 16.5, floor + 12.0), anchor="start", ink=QUIET)
