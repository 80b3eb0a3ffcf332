# SPDX-License-Identifier: BSD-3-Clause
"""The map as a file: the world round one's own place, dots by area, and the rings of the predicted pattern over it."""

from collections.abc import Iterator

import numpy as np

from ringwright.air.azimuthal import HALF_ROUND, land, polar
from ringwright.air.locator import Place
from ringwright.air.world import World
from ringwright.antenna.charts.svg import ACCENT, FAINT, INK, circle, curve, element, group, line, page, text
from ringwright.physics.checks import FloatArray

RADIUS, _MARGIN, _HEAD = 360.0, 34.0, 44.0
RINGS_KM = (2_000, 5_000, 10_000, 15_000)
LARGEST_DOT = 16.0
_LAND = "#b9b3a8"
_SHOWN_DB = 20.0
"""Decibels below the strongest direction at the middle of the predicted pattern's rings."""
_PATTERN_SHARE = 0.9


def map_drawing(
    title: str, home: Place, world: World, *, pattern: tuple[FloatArray, FloatArray] | None = None
) -> str:
    """An SVG file; `pattern` is true bearings [deg] and gains [dB] of the prediction."""
    middle = _MARGIN + RADIUS

    def content() -> Iterator[str]:
        yield text(title, _MARGIN, 26.0, size=16.0)
        yield group(
            {"transform": f"translate({middle:g},{middle + _HEAD:g})"},
            [*_globe(home), *_dots(world), *(_pattern(*pattern) if pattern else ()), *_letters()],
        )
        yield text(
            _legend(world, has_pattern=pattern is not None), _MARGIN, 2.0 * middle + _HEAD - 6.0, size=11.0
        )

    return page(2.0 * middle, 2.0 * middle + _HEAD + 8.0, title, content=content())


def dot_radius(count: int, most: int) -> float:
    """Area by number, the busiest place as large as a dot may be."""
    return float(max(1.2, LARGEST_DOT * np.sqrt(count / max(most, 1))))


def pattern_radius(gain_db: FloatArray) -> FloatArray:
    """Share of the disc at which a gain is drawn: the strongest at the outer ring, 20 dB less in the middle."""
    below = np.clip(gain_db - np.max(gain_db), -_SHOWN_DB, 0.0)
    return np.asarray(_PATTERN_SHARE * (1.0 + below / _SHOWN_DB))


def _globe(home: Place) -> Iterator[str]:
    yield circle(0.0, 0.0, RADIUS, stroke=INK, width=0.8)
    for x, y in land(home):
        yield curve(x * RADIUS, -y * RADIUS, stroke=_LAND, width=0.8)
    for kilometres in RINGS_KM:
        radius = kilometres * 1e3 / HALF_ROUND * RADIUS
        yield circle(0.0, 0.0, radius, stroke=FAINT, width=0.4)
        yield text(f"{kilometres:,} km".replace(",", " "), 3.0, radius - 3.0, size=9.0, fill=FAINT)
    for bearing in range(0, 360, 30):
        x, y = np.sin(np.deg2rad(bearing)) * RADIUS, -np.cos(np.deg2rad(bearing)) * RADIUS
        yield line(0.94 * x, 0.94 * y, x, y2=y, width=0.4)


def _dots(world: World) -> Iterator[str]:
    x, y = polar(world.distance, world.bearing)
    most = int(world.count.max()) if len(world.count) else 1
    for east, north, count in zip(x, y, world.count, strict=True):
        yield element(
            "circle",
            {
                "cx": east * RADIUS,
                "cy": -north * RADIUS,
                "r": dot_radius(int(count), most),
                "fill": ACCENT,
                "fill-opacity": 0.45,
                "stroke": ACCENT,
                "stroke-width": 0.5,
            },
        )


def _pattern(bearing: FloatArray, gain_db: FloatArray) -> Iterator[str]:
    order = np.argsort(bearing)
    angle, radius = np.deg2rad(bearing[order]), pattern_radius(gain_db[order]) * RADIUS
    for below in (0.0, -5.0, -10.0, -15.0):
        ring = _PATTERN_SHARE * (1.0 + below / _SHOWN_DB) * RADIUS
        yield circle(0.0, 0.0, ring, stroke=INK, width=0.25)
        yield text(f"{below:g} dB".replace("-", "−"), -3.0, -ring - 2.0, size=8.5, anchor="end")
    closed = np.append(angle, angle[0]), np.append(radius, radius[0])
    yield curve(closed[1] * np.sin(closed[0]), -closed[1] * np.cos(closed[0]), width=1.2, dash="5 3")


def _letters() -> Iterator[str]:
    for letter, x, y in (("N", 0.0, -RADIUS - 8.0), ("S", 0.0, RADIUS + 16.0), ("E", RADIUS + 12.0, 4.0)):
        yield text(letter, x, y, anchor="middle")
    yield text("W", -RADIUS - 12.0, 4.0, anchor="middle")


def _legend(world: World, *, has_pattern: bool) -> str:
    most = int(world.count.max()) if len(world.count) else 0
    total = int(world.count.sum())
    words = f"{total} reports from {len(world.count)} places; the area of a dot is their number, the largest {most}."
    return words + (" Dashed: predicted pattern, decibels below its best." if has_pattern else "")
