# SPDX-License-Identifier: BSD-3-Clause
"""Zones where a limit is exceeded, as outlines on a cut through the site: few points while a hand moves, more at rest.

The field over the limit is sampled on a grid whose lines crowd at the ring. Between its points the logarithm is taken
as straight, which puts an outline outside the true one: it errs to the safe side.
"""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from contourpy import FillType, contour_generator

from ringwright.antenna.geometry import Wires
from ringwright.desk.site.view import Section
from ringwright.physics.graph import FloatArray
from ringwright.safety.limits import ExposureLimit

RatioAt = Callable[[FloatArray], FloatArray]
"""Field over limit (n, limits), the worse of E and H, at points (n, 3) [m]."""

QUICK, FINE = 22, 44  # cells of the grid each way
CROWDED = 2.0  # lines stand sinh(2)/2 = 1.8 times closer at the ring than on the average
MARGIN = 1.12  # of the grid around the farthest ray
RAYS = 16
FIRST, STEP = 0.7, 1.45  # [m] and times as far along each ray
FARTHEST = 95.0  # [m] from any conductor; fields hold to 100 m
AT_ONCE = 4  # circles
QUIET = 0.8  # of the limit: a whole circle below it ends the search


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cut:
    """A plane through `origin` (3,) [m], spanned by unit vectors `right` and `up` (3,).

    Nothing lies below `floor` [m] (None: no floor), and nothing is sought beyond `reach` [m] each way.
    """

    name: str
    origin: FloatArray
    right: FloatArray
    up: FloatArray
    floor: float | None
    reach: float

    def points(self, across: FloatArray, upwards: FloatArray) -> FloatArray:
        """Places (n, 3) [m] from coordinates in the cut (n,) [m]."""
        return np.asarray(self.origin + across[:, None] * self.right + upwards[:, None] * self.up)

    @property
    def lowest(self) -> float:
        """Least coordinate upwards in the cut [m]."""
        if self.floor is None or self.up[2] == 0.0:
            return -np.inf
        return float(self.floor - self.origin[2])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Zone:
    """One limit's zone on a cut: closed lines (n, 2) [m] from the cut's origin, even-odd, rims and holes alike."""

    limit: ExposureLimit
    rings: tuple[FloatArray, ...]


def section_cut(wires: Wires, section: Section, floor: float | None) -> Cut:
    """The upright cut through the ring's centre. Of a flat ring both directions lie in its plane."""
    up = np.array([0.0, 0.0, 1.0])
    right = np.cross(up, wires.across) if section is Section.AXIS else wires.across
    reach = _reach(wires, wires.centre)
    return Cut(name=section.value, origin=wires.centre, right=right, up=up, floor=floor, reach=reach)


def plan_cut(wires: Wires, height: float, floor: float | None) -> Cut:
    """The level cut at a height [m]: x to the right, y upwards."""
    x, y, _ = np.eye(3)
    origin = np.array([wires.centre[0], wires.centre[1], height])
    reach = _reach(wires, origin)
    return Cut(name="plan", origin=origin, right=x, up=y, floor=floor, reach=reach)


def _reach(wires: Wires, origin: FloatArray) -> float:
    """How far [m] each way from an origin every place of a square is within the fields' reach of every conductor."""
    spread = float(np.linalg.norm(wires.graph.nodes - origin, axis=1).max())
    return max((FARTHEST - spread) / float(np.sqrt(2.0)), FIRST)


def zones(cut: Cut, ratio_at: RatioAt, limits: tuple[ExposureLimit, ...], *, cells: int) -> tuple[Zone, ...]:
    """Each limit's zone on a cut."""
    if not limits:
        return ()
    across = _lines(_extent(cut, ratio_at), cells)
    upwards = np.unique(np.maximum(across, cut.lowest))
    right, up = np.meshgrid(across, upwards)
    ratio = ratio_at(cut.points(right.ravel(), up.ravel())).reshape(*right.shape, len(limits))
    excess = np.log(np.maximum(ratio, 1e-12))
    return tuple(
        Zone(limit=limit, rings=_rings(across, upwards, excess[..., number]))
        for number, limit in enumerate(limits)
    )


def _extent(cut: Cut, ratio_at: RatioAt) -> float:
    """A distance [m] from the cut's origin that its zones stay within."""
    turn = np.arange(RAYS) * 2.0 * np.pi / RAYS
    radius, found = FIRST, FIRST
    while radius < cut.reach:
        radii = np.minimum(radius * STEP ** np.arange(AT_ONCE), cut.reach).repeat(RAYS)
        across, up = radii * np.tile(np.cos(turn), AT_ONCE), radii * np.tile(np.sin(turn), AT_ONCE)
        in_air = up >= cut.lowest
        worst = ratio_at(cut.points(across[in_air], up[in_air])).max(axis=1)
        found = max(found, STEP * float(radii[in_air][worst > 1.0].max(initial=0.0)))
        if worst[radii[in_air] == radii[-1]].max() < QUIET:
            break
        radius = STEP * float(radii[-1])
    return min(MARGIN * found, cut.reach)


def _lines(extent: float, cells: int) -> FloatArray:
    return np.asarray(extent * np.sinh(np.linspace(-CROWDED, CROWDED, cells + 1)) / np.sinh(CROWDED))


def _rings(x: FloatArray, y: FloatArray, excess: FloatArray) -> tuple[FloatArray, ...]:
    filled = contour_generator(x, y, excess, fill_type=FillType.OuterOffset).filled(0.0, np.inf)
    return tuple(
        np.asarray(points[start:end])
        for points, offsets in zip(*filled, strict=True)
        for start, end in pairwise(offsets)
    )
