# SPDX-License-Identifier: BSD-3-Clause
"""A free polygon that can be built: sides longer than the conductor is thick, none touching or crossing another."""

import math
from itertools import combinations

from ringwright.errors import DesignError

_FLAT = 1e-6
"""Corners this close to one line, over its length, leave no opening."""
Point = tuple[float, float]
Side = tuple[Point, Point]


def hold_buildable(points: tuple[Point, ...], thickness: float) -> None:
    """Raise a `DesignError` if a conductor of this thickness [m] cannot run round these corners [m]."""
    sides = list(zip(points, points[1:] + points[:1], strict=True))
    for number, (start, end) in enumerate(sides, start=1):
        if math.dist(start, end) <= thickness:
            raise DesignError(
                f"ring.points[{number}] and the next corner are closer than the conductor is thick; move or drop one"
            )
    _hold_open(points)
    for (i, one), (j, other) in combinations(enumerate(sides, start=1), 2):
        if _separation(one, other) <= thickness:
            raise DesignError(
                f"ring.points: the sides that start at corners {i} and {j} touch or cross; list the corners in order "
                "round the ring"
            )


def _hold_open(points: tuple[Point, ...]) -> None:
    """Raise a `DesignError` if all corners lie on one straight line, in whatever order."""
    start = points[0]
    end = max(points, key=lambda point: math.dist(start, point))
    reach = math.dist(start, end)
    if all(abs(_turn(start, end, point)) <= _FLAT * reach**2 for point in points):
        raise DesignError(
            "ring.points: all corners lie on one straight line; move one so that the ring is open"
        )


def _separation(one: Side, other: Side) -> float:
    """Distance between two sides; of neighbours, how far their free ends are from each other's line."""
    if not set(one) & set(other) and _cross(one, other):
        return 0.0
    free = [(end, other) for end in one if end not in other] + [(end, one) for end in other if end not in one]
    return min((_distance(point, side) for point, side in free), default=0.0)


def _cross(one: Side, other: Side) -> bool:
    return _sides_of(one, other) < 0 and _sides_of(other, one) < 0


def _sides_of(line: Side, other: Side) -> float:
    """Negative where the ends of `other` lie on different sides of `line`."""
    first, second = (_turn(line[0], line[1], end) for end in other)
    return math.copysign(1.0, first) * math.copysign(1.0, second) if first and second else 0.0


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _distance(point: Point, side: Side) -> float:
    (ax, ay), (bx, by) = side
    along = ((point[0] - ax) * (bx - ax) + (point[1] - ay) * (by - ay)) / math.dist(*side) ** 2
    place = min(max(along, 0.0), 1.0)
    return math.dist(point, (ax + place * (bx - ax), ay + place * (by - ay)))
