# SPDX-License-Identifier: BSD-3-Clause
"""Cuts through the zone in which a limit is exceeded, as closed outlines to be drawn."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from contourpy import FillType, contour_generator

from ringwright.antenna.design import Design
from ringwright.antenna.prediction import BandPrediction
from ringwright.antenna.site_fields import site_field
from ringwright.physics.graph import FloatArray
from ringwright.safety.exposure import Yardstick
from ringwright.safety.keepout import BandKeepOut

CELLS = 44  # of the grid, each way
CROWDED = 2.0  # how much closer its lines stand at the ring than halfway out: sinh(2)/2
MARGIN = 1.15  # around the farthest point of all limits


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cut:
    """A plane through the ring's centre `origin` (3,) [m], spanned by unit vectors `right` and `up` (3,)."""

    name: str
    origin: FloatArray
    right: FloatArray
    up: FloatArray

    def on_plane(self, points: FloatArray) -> FloatArray:
        """Coordinates (n, 2) [m] of points (n, 3) seen straight on, counted from the origin."""
        return np.asarray((points - self.origin) @ np.stack([self.right, self.up], axis=1))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outline:
    """One limit's zone on a cut: closed lines (n, 2) [m] that count even-odd, outer rims and holes alike."""

    limit: str
    tier: str
    rings: tuple[FloatArray, ...]


def cuts_of(band: BandPrediction) -> tuple[Cut, ...]:
    """Side view (along the ring's axis and up), front view (the ring's plane) and plan, all through the centre."""
    wires, up = band.point.wires, np.array([0.0, 0.0, 1.0])
    level = wires.across
    ahead = np.cross(up, level)
    return (
        Cut(name="side", origin=wires.centre, right=ahead, up=up),
        Cut(name="front", origin=wires.centre, right=level, up=up),
        Cut(name="plan", origin=wires.centre, right=level, up=ahead),
    )


def outlines(
    design: Design, band: BandPrediction, distances: BandKeepOut, *, cut: Cut
) -> tuple[Outline, ...]:
    """Each limit's zone on a cut, at the design's power; `distances` say how far to look."""
    yardstick = Yardstick.of(design, band.frequency)
    field_at = site_field(design, band.point)
    extent = MARGIN * max(row.distance_max for row in distances.by_limit)
    x, y = _lines(extent), _lines(extent)
    if design.site.earth is not None and cut.up[2] == 1.0:
        y = np.unique(np.maximum(y, -cut.origin[2]))
    right, up = np.meshgrid(x, y)
    points = cut.origin + right.ravel()[:, None] * cut.right + up.ravel()[:, None] * cut.up
    # In the logarithm lines between grid points run outside the true ones: they err to the safe side.
    excess = np.log(yardstick.shares(field_at, points).max(axis=2)).reshape(*right.shape, -1)
    return tuple(
        Outline(limit=limit.name, tier=limit.tier.value, rings=_rings(x, y, excess[..., number]))
        for number, limit in enumerate(yardstick.rows)
    )


def _lines(extent: float) -> FloatArray:
    return np.asarray(extent * np.sinh(np.linspace(-CROWDED, CROWDED, CELLS + 1)) / np.sinh(CROWDED))


def _rings(x: FloatArray, y: FloatArray, excess: FloatArray) -> tuple[FloatArray, ...]:
    filled = contour_generator(x, y, excess, fill_type=FillType.OuterOffset).filled(0.0, np.inf)
    return tuple(
        np.asarray(points[start:end])
        for points, offsets in zip(*filled, strict=True)
        for start, end in pairwise(offsets)
    )
