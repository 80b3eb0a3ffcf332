# SPDX-License-Identifier: BSD-3-Clause
"""A ring to scale: conductor as thick as it is, its current as a ribbon, the gap's kilovolts, a door for scale."""

from collections.abc import Callable, Iterator

import numpy as np

from ringwright.antenna.charts.svg import ACCENT, FAINT, INK, curve, element, group, line, text
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.geometry import Address, Wires
from ringwright.antenna.prediction import BandPrediction
from ringwright.physics.graph import FloatArray

_RIBBON = 16.0  # width of the largest current's ribbon
_DOOR = (0.9, 2.0)  # metres; a door one knows
_MARGIN = 36.0
_CORE = 12.0  # a core's sign, not to scale


def ring_drawing(band: BandPrediction, *, width: float, height: float) -> str:
    """The ring above the earth as seen along its axis, the door beside it."""
    wires = band.point.wires
    address = wires.graph.address
    flat = _seen_along_axis(wires, wires.graph.nodes[wires.graph.segments])
    ring = flat[address == Address.RING]
    radius = float(ring[..., 0].max())
    door_at = radius + 0.25
    scale = min(
        (height - 2.0 * _MARGIN) / max(float(ring[..., 1].max()), _DOOR[1]),
        (width - 2.0 * _MARGIN) / (radius + door_at + _DOOR[0]),
    )

    def place(points: FloatArray) -> FloatArray:
        x = _MARGIN + (points[..., 0] + radius) * scale
        return np.stack([x, height - _MARGIN - points[..., 1] * scale], axis=-1)

    thick = 2.0 * float(wires.graph.radius[address == Address.RING][0]) * scale
    parts = [
        *_ground(place(np.array([[-radius, 0.0], [door_at + _DOOR[0], 0.0]]))),
        _door(place(np.array([[door_at, _DOOR[1]], [door_at + _DOOR[0], 0.0]]))),
        *_ribbon(place(ring), abs(band.point.current[address == Address.RING, 0])),
        _outline(place(ring), thick),
        *_coupling(wires, place, scale=scale),
        *_gap(
            place(ring[0, 0]),
            FIGURES["tuning.capacitor_voltage_peak_v"].text(band.tuning.capacitor_voltage_peak),
        ),
    ]
    return group({}, parts)


def _seen_along_axis(wires: Wires, points: FloatArray) -> FloatArray:
    return np.stack([points @ wires.across, points[..., 2]], axis=-1)


def _coupling(wires: Wires, place: Callable[[FloatArray], FloatArray], *, scale: float) -> Iterator[str]:
    """The loop, the arm of a tapped coupling, or a transformer's core across the ring's conductor."""
    if wires.core is not None:
        x, y = place(_seen_along_axis(wires, wires.graph.nodes[wires.feed]))
        size = {"x": x - _CORE / 2.0, "y": y - _CORE / 2.0, "width": _CORE, "height": _CORE}
        yield element("rect", size | {"fill": INK, "rx": 3.0})
        turns = f"core, {wires.core.primary_turns} to {wires.core.passes} turns"
        yield text(turns, float(x), float(y) - _CORE, size=11.0, anchor="middle", fill=FAINT)
        return
    own = np.flatnonzero(wires.graph.address == Address.COUPLING)
    width = 2.0 * float(wires.graph.radius[own[0]]) * scale
    starts, ends = wires.graph.segments[own].T
    path = place(_seen_along_axis(wires, wires.graph.nodes[np.append(starts, ends[-1])]))
    yield curve(path[:, 0], path[:, 1], width=max(width, 1.0))


def _ground(ends: FloatArray) -> Iterator[str]:
    (x1, y1), (x2, _) = ends
    yield line(x1, y1, x2, y2=y1, stroke=INK, width=1.2)
    for x in np.arange(x1, x2, 9.0):
        yield line(float(x), y1 + 7.0, float(x) + 6.0, y2=y1 + 1.0)


def _door(corners: FloatArray) -> str:
    (left, top), (right, bottom) = corners
    shape = {
        "x": left,
        "y": top,
        "width": right - left,
        "height": bottom - top,
        "fill": "none",
        "stroke": FAINT,
    }
    knob = element("circle", {"cx": left + 6.0, "cy": (top + bottom) / 2.0, "r": 2.0, "fill": FAINT})
    words = text("a door, 2 m", (left + right) / 2.0, top - 6.0, size=11.0, anchor="middle", fill=FAINT)
    return group({}, [element("rect", shape), knob, words])


def _ribbon(segments: FloatArray, current: FloatArray) -> Iterator[str]:
    """Each segment as wide as its current."""
    widths = _RIBBON * current / current.max()
    for ((x1, y1), (x2, y2)), width in zip(segments, widths, strict=True):
        ends = {"x1": x1, "y1": y1, "x2": x2, "y2": y2}
        yield element(
            "line", {**ends, "stroke": ACCENT, "stroke-opacity": "0.3", "stroke-width": float(width)}
        )


def _outline(segments: FloatArray, width: float) -> str:
    closed = np.concatenate([segments[:, 0], segments[:1, 0]])
    return curve(closed[:, 0], closed[:, 1], width=max(width, 1.0))


def _gap(at: FloatArray, voltage: str) -> Iterator[str]:
    x, y = (float(value) for value in at)
    yield element("rect", {"x": x - 5.0, "y": y - 5.0, "width": 10.0, "height": 10.0, "fill": "#ffffff"})
    for side in (-3.0, 3.0):
        yield line(x + side, y - 8.0, x + side, y2=y + 8.0, stroke=INK, width=1.6)
    yield text(f"\N{BLACK UP-POINTING TRIANGLE} {voltage} peak", x, y - 13.0, size=13.0, anchor="middle")
