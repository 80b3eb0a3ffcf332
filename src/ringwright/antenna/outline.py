# SPDX-License-Identifier: BSD-3-Clause
"""Closed plane curves as the corners of a polygon: where a ring's or coupling loop's conductor runs.

Plane coordinates are (across, up), angles count from the top towards across. A curved outline is stood for by a
polygon of the same area, since area is what radiates and couples; `length_factor` gives its loss the true length.
"""

from dataclasses import dataclass, replace
from typing import Self

import numpy as np
from scipy.special import ellipe

from ringwright.errors import DesignError
from ringwright.physics.graph import FloatArray

SAME_NODE = 5e-4
"""Nodes are not cut closer together than this. [m]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outline:
    """A closed polygon that starts at a chosen place.

    `corners`: (n, 2) [m], clockwise from the start; the last joins the first. `true_points`: the same places on the
    true curve (equal for polygons). `length_factor`: true over polygon length. `joints`: (segment, fraction)
    of each place where pieces meet.
    """

    corners: FloatArray
    true_points: FloatArray
    length_factor: float
    joints: tuple[tuple[int, float], ...] = ()

    def with_node(self, turn: float) -> tuple[Self, int]:
        """The same outline with a node at a share of its way round, and that node's index.

        A segment is cut in two there, which moves nothing else, unless a node lies within `SAME_NODE` of the place.
        """
        lengths = np.linalg.norm(np.roll(self.corners, -1, axis=0) - self.corners, axis=1)
        ends = np.insert(np.cumsum(lengths), 0, 0.0)
        place = turn * ends[-1]
        nearest = int(np.argmin(abs(ends - place)))
        if abs(ends[nearest] - place) < SAME_NODE:
            return self, nearest % len(lengths)
        segment = int(np.searchsorted(ends, place)) - 1
        part = float((place - ends[segment]) / lengths[segment])

        def cut(points: FloatArray) -> FloatArray:
            after = points[(segment + 1) % len(points)]
            return np.insert(points, segment + 1, points[segment] + part * (after - points[segment]), axis=0)

        joints = tuple(_in_cut(joint, segment, part) for joint in self.joints)
        return replace(
            self, corners=cut(self.corners), true_points=cut(self.true_points), joints=joints
        ), segment + 1


def _in_cut(joint: tuple[int, float], segment: int, part: float) -> tuple[int, float]:
    """Where a joint lies after its or another segment was cut at a fraction."""
    at, fraction = joint
    if at != segment:
        return (at + 1 if at > segment else at), fraction
    return (at, fraction / part) if fraction < part else (at + 1, (fraction - part) / (1.0 - part))


def ellipse_semi_axes(perimeter: float, aspect: float) -> tuple[float, float]:
    """Half width and half height [m] of an ellipse of a given perimeter; `aspect` is width over height."""
    longer = max(aspect, 1.0 / aspect)
    long_semi_axis = perimeter / (4.0 * float(ellipe(1.0 - 1.0 / longer**2)))
    short_semi_axis = long_semi_axis / longer
    return (long_semi_axis, short_semi_axis) if aspect >= 1.0 else (short_semi_axis, long_semi_axis)


def ellipse_outline(
    half_width: float, half_height: float, *, start: float, count: int, joints: int = 0
) -> Outline:
    """An ellipse as `count` nodes at equal distances along it, from the ray at angle `start` [rad]."""
    fine = np.linspace(0.0, 2.0 * np.pi, 4096, endpoint=False)
    begin = np.arctan2(np.sin(start) / half_width, np.cos(start) / half_height)
    curve = _ellipse(half_width, half_height, begin + np.append(fine, 2.0 * np.pi))
    travelled = np.insert(np.cumsum(np.linalg.norm(np.diff(curve, axis=0), axis=1)), 0, 0.0)
    wanted = np.arange(count) / count * travelled[-1]
    parameter = np.interp(wanted, travelled, np.append(fine, 2.0 * np.pi))
    points = _ellipse(half_width, half_height, begin + parameter)
    corners = points * np.sqrt(np.pi * half_width * half_height / polygon_area(points))
    places = (np.arange(joints) + 0.5) * count / max(joints, 1)
    return Outline(
        corners=corners,
        true_points=points,
        length_factor=float(travelled[-1] / polygon_length(corners)),
        joints=tuple((int(place), float(place % 1.0)) for place in places),
    )


def polygon_outline(points: FloatArray, *, start: float, count: int) -> Outline:
    """A polygon from where the ray at angle `start` from its centroid leaves it, in about `count` segments.

    Every straight piece gets at least two segments and the joints lie at the corners.
    """
    clockwise = points if _signed_area(points) < 0 else points[::-1]
    centred = clockwise - polygon_centroid(clockwise)
    side, begin = _ray_hit(centred, start)
    path = np.concatenate([[begin], np.roll(centred, -(side + 1), axis=0), [begin]])
    pieces = np.linalg.norm(np.diff(path, axis=0), axis=1)
    keep = np.append(True, pieces > 1e-9 * pieces.sum())
    path, pieces = path[keep], pieces[pieces > 1e-9 * pieces.sum()]
    numbers = np.maximum(np.rint(pieces / pieces.sum() * count).astype(int), 2)
    corners = np.concatenate(
        [
            a + (b - a) * np.arange(n)[:, None] / n
            for a, b, n in zip(path[:-1], path[1:], numbers, strict=True)
        ]
    )
    at_corners = np.cumsum(numbers)[: len(points)]
    return Outline(
        corners=corners,
        true_points=corners,
        length_factor=1.0,
        joints=tuple((int(corner) % len(corners), 0.0) for corner in at_corners),
    )


def regular_polygon(sides: int, perimeter: float) -> FloatArray:
    """Corners (sides, 2) [m] with a flat top and, for an even number of sides, a flat bottom."""
    angle = (np.arange(sides) + 0.5) * 2.0 * np.pi / sides
    circumradius = perimeter / sides / (2.0 * np.sin(np.pi / sides))
    return np.asarray(circumradius * np.stack([np.sin(angle), np.cos(angle)], axis=1))


def polygon_length(points: FloatArray) -> float:
    """Length round a closed polygon [m]."""
    return float(np.linalg.norm(points - np.roll(points, 1, axis=0), axis=1).sum())


def polygon_area(points: FloatArray) -> float:
    """Area of a closed polygon [m^2]."""
    return abs(_signed_area(points))


def polygon_centroid(points: FloatArray) -> FloatArray:
    """Centre of the area of a closed polygon [m]."""
    following = np.roll(points, -1, axis=0)
    cross = points[:, 0] * following[:, 1] - following[:, 0] * points[:, 1]
    return np.asarray((points + following).T @ cross / (3.0 * cross.sum()))


def least_distance(points: FloatArray, corners: FloatArray) -> float:
    """From `points` (n, 2) to the nearest place of a closed polygon [m]."""
    along = np.roll(corners, -1, axis=0) - corners
    offset = points[:, None, :] - corners
    place = np.clip(np.sum(offset * along, axis=2) / np.sum(along**2, axis=1), 0.0, 1.0)
    return float(np.linalg.norm(offset - place[..., None] * along, axis=2).min())


def leave_point(outline: Outline, angle: float) -> tuple[FloatArray, FloatArray]:
    """Where the ray at `angle` from the origin meets the true outline, and the inward normal there.

    At a corner, which on a curve is any of its places, the normal is that of both sides' mean direction.
    """
    points = outline.true_points
    side, point = _ray_hit(points, angle)
    tangents = np.roll(points, -1, axis=0) - points
    tangents /= np.linalg.norm(tangents, axis=1)[:, None]
    from_corner = np.linalg.norm(point - points, axis=1)
    corner = int(np.argmin(from_corner))
    is_corner = from_corner[corner] < 1e-6 * polygon_length(points)
    along = tangents[corner - 1] + tangents[corner] if is_corner else tangents[side]
    normal = np.array([along[1], -along[0]]) / np.linalg.norm(along)
    return point, normal if normal @ point < 0 else -normal


def _ellipse(half_width: float, half_height: float, parameter: FloatArray) -> FloatArray:
    return np.stack([half_width * np.sin(parameter), half_height * np.cos(parameter)], axis=1)


def _signed_area(points: FloatArray) -> float:
    following = np.roll(points, -1, axis=0)
    return float(np.sum(points[:, 0] * following[:, 1] - following[:, 0] * points[:, 1]) / 2.0)


def _cross(a: FloatArray, b: FloatArray) -> FloatArray:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])


def _ray_hit(points: FloatArray, angle: float) -> tuple[int, FloatArray]:
    """Side and place where the ray at `angle` from the origin leaves the polygon for good."""
    direction = np.array([np.sin(angle), np.cos(angle)])
    along = np.roll(points, -1, axis=0) - points
    with np.errstate(divide="ignore", invalid="ignore"):  # sides parallel to the ray never meet it
        distance = _cross(points, along) / _cross(direction, along)
        fraction = _cross(points, direction) / _cross(direction, along)
    hits = np.flatnonzero((fraction > -1e-9) & (fraction < 1.0 + 1e-9) & (distance > 0))
    if len(hits) == 0:
        raise DesignError(
            "ring.points: the polygon does not surround its own centre; give a simple closed outline"
        )
    side = int(hits[np.argmax(distance[hits])])
    return side, np.asarray(distance[side] * direction)
