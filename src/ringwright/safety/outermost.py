# SPDX-License-Identifier: BSD-3-Clause
"""Where a field exceeds a limit for the last time: along a ray, and in any direction.

Rays are read from the outside in, so that what lies behind a quiet place is not missed. The farthest point is sought
over the whole sphere, along the floor and beside every conductor, and closed in upon from the best directions: to 0.2 %
for zones 1.6 times as long as wide, as a ring has them, to 1 % for 2.2 times, and never more than 0.1 % beyond it.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ringwright.physics.graph import FloatArray

IntArray = npt.NDArray[np.int64]
RatioAt = Callable[[FloatArray], FloatArray]
"""Field over limit (n, rows), one column a limit, at points (n, 3) [m]; above 1 it exceeds."""

FINE, COARSE = 1.05, 1.5  # steps in distance along a ray that counts, and in the sweep over all directions
FIRST = 0.05  # [m], the first step from the centre
SPREAD = np.deg2rad(15.0)  # between the directions of a sweep
SPREADS = SPREAD / np.array([2.0, 4.0, 10.0])  # as the best direction is closed in upon
PEAKS = 2  # of a sweep that are closed in upon
QUIET = 0.7  # of the limit: beyond a shell this quiet on all sides nobody looks
PASSING = 0.3  # [m]: a ray this near to a conductor gets a step where it passes
BESIDE = np.array([0.02, 0.05, 0.1, 0.2, 0.4])  # [m] outwards from each conductor's axis
ROUND_ABOUT = np.array([0.11, 0.16, 0.25])  # [m] round places of strange conductors
ONWARDS = np.array([0.0, 0.04, 0.1, 0.2, 0.4])  # [m] from there
SHORT = 0.85  # of the distance so far: what stands for a ray that ends nowhere near it
FALL = 2.5  # the power of distance with which a near field falls, for a first guess
NEAR_ENOUGH = 0.05  # off the limit, from where the slope found reaches it to 2e-4


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Space:
    """What is searched.

    `centre` (3,) [m] is where distances count from; `frame` (3, 3) has the ring's across, axis and up as rows; below
    `floor` [m] nobody can be (None: no floor); `places` (m, 3) [m] lie along the conductors, `strange` (k, 3) [m] along
    those that are not the ring's.
    """

    ratio_at: RatioAt
    centre: FloatArray
    frame: FloatArray
    floor: float | None
    places: FloatArray
    strange: FloatArray

    def to_floor(self, origin: FloatArray, directions: FloatArray) -> FloatArray:
        """Distance [m] at which each ray (d, 3) meets the floor, infinite where it does not."""
        out = np.full(len(directions), np.inf)
        down = directions[:, 2] < -1e-9
        if self.floor is not None:
            out[down] = (origin[2] - self.floor) / -directions[down, 2]
        return out

    def along(self, origin: FloatArray, directions: FloatArray, distances: FloatArray) -> FloatArray:
        """Ratios (d, k, rows) at rising `distances` (d, k) [m] along rays (d, 3); equal ones are computed once."""
        is_new = np.diff(distances, axis=1, prepend=-1.0) > 0.0
        ray, _ = np.nonzero(is_new)
        ratios = self.ratio_at(origin + distances[is_new][:, None] * directions[ray])
        return np.asarray(ratios[np.cumsum(is_new).reshape(distances.shape) - 1])

    def reach(self) -> float:
        """A distance [m] beyond which no limit is exceeded."""
        directions = _SPHERE @ self.frame
        radius = 2.0 + 1.5 * float(np.linalg.norm(self.places - self.centre, axis=1).max())
        while True:
            in_air = directions[self.to_floor(self.centre, directions) > radius]
            if self.ratio_at(self.centre + radius * in_air).max() < QUIET:
                return radius
            radius *= 1.5


def last_along(space: Space, directions: FloatArray, reach: float) -> FloatArray:
    """Distance [m] from the centre to the last point over each limit along rays (d, 3), shape (d, rows).

    0 where nothing exceeds; down to the floor where that comes first. Beyond `reach` [m] nothing is sought.
    """
    steps = np.concatenate([[0.0], np.geomspace(FIRST, reach, _count(FIRST, reach, FINE))])
    beside = directions @ (space.places - space.centre).T
    apart = np.linalg.norm(space.places - space.centre - beside[..., None] * directions[:, None, :], axis=2)
    passed = np.where((apart < PASSING) & (beside > 0.0), beside, 0.0)
    distances = np.sort(np.concatenate([np.tile(steps, (len(directions), 1)), passed], axis=1), axis=1)
    distances = np.minimum(distances, space.to_floor(space.centre, directions)[:, None])
    return _last_on(space, directions, distances)


def farthest(space: Space, reach: float) -> FloatArray:
    """For each limit the point (rows, 3) [m] over it that lies farthest from the centre; nan where there is none."""
    ball = _Sweep(origin=space.centre, directions=_SPHERE @ space.frame, steps=_ROUND)
    found = [_beside_conductors(space), _swept(space, ball, reach)]
    if len(space.strange):
        found.append(_round_strange(space))
    if space.floor is not None:
        foot = np.array([*space.centre[:2], space.floor])
        fan = _Sweep(origin=foot, directions=_FAN, steps=_ROUND[_ROUND[:, 1] == 0.0])
        found.append(_swept(space, fan, reach))
    return _farther(space, np.stack(found))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Sweep:
    """Rays (d, 3) from one origin; `steps` (m, 2) lead to a ray's neighbours, level and upwards."""

    origin: FloatArray
    directions: FloatArray
    steps: FloatArray

    def around(self, directions: FloatArray, steps: FloatArray) -> FloatArray:
        """Neighbours (n, m, 3) of rays (n, 3), `steps` (m, 2) or (n, m, 2) [rad] away."""
        level = np.cross([0.0, 0.0, 1.0], directions)
        level[abs(directions[:, 2]) > 0.99] = [0.0, 1.0, 0.0]  # near the zenith any pair of axes will do
        level -= np.sum(level * directions, axis=1, keepdims=True) * directions
        level /= np.linalg.norm(level, axis=1, keepdims=True)
        axes = np.stack([level, np.cross(directions, level)], axis=1)
        moved = directions[:, None, :] + np.tan(steps) @ axes
        return np.asarray(moved / np.linalg.norm(moved, axis=2, keepdims=True))


def _unit(azimuth: FloatArray, elevation: FloatArray) -> FloatArray:
    level = np.cos(elevation)
    return np.stack([level * np.cos(azimuth), level * np.sin(azimuth), np.sin(elevation)], axis=-1)


_AROUND = np.arange(0.0, 2.0 * np.pi - 1e-9, SPREAD)
_LEVELS = np.arange(SPREAD - np.pi / 2.0, np.pi / 2.0 - 1e-9, SPREAD)
_FAN = _unit(_AROUND, 0.0 * _AROUND)
_SPHERE = np.concatenate(
    [
        _unit(*np.meshgrid(_AROUND, _LEVELS)).reshape(-1, 3),
        [[0.0, 0.0, 1.0], [0.0, 0.0, -1.0]],
    ]
)
_SIDES = np.array([(i, j, k) for i in (-1.0, 1.0) for j in (-1.0, 1.0) for k in (-1.0, 1.0)]) / np.sqrt(3.0)
_SIDES = np.concatenate([_SIDES, np.eye(3), -np.eye(3)])  # 14 ways out of a place
_ROUND = np.array([(i, j) for i in (-1.0, 0.0, 1.0) for j in (-1.0, 0.0, 1.0)])


def _count(start: float, end: float, step: float) -> int:
    return 1 + int(np.ceil(np.log(end / start) / np.log(step)))


def _last_over(ratios: FloatArray) -> tuple[IntArray, IntArray, IntArray]:
    """Ray, row and number of the last step over the limit, of every (ray, row) that has one; from (d, k, rows)."""
    over = np.asarray(ratios > 1.0)
    ray, row = np.nonzero(over.any(axis=1))
    from_end = np.argmax(over[:, ::-1, :], axis=1)
    return ray, row, ratios.shape[1] - 1 - from_end[ray, row]


def _last_on(space: Space, directions: FloatArray, distances: FloatArray) -> FloatArray:
    """Distance [m] to the last point over each limit (d, rows) between the steps `distances` (d, k) [m] of rays."""
    ratios = space.along(space.centre, directions, distances)
    ray, row, last = _last_over(ratios)
    out = np.zeros((len(directions), ratios.shape[2]))
    out[ray, row] = distances[ray, last]
    ray, row, last = (each[last < distances.shape[1] - 1] for each in (ray, row, last))
    ends = np.stack([distances[ray, last], distances[ray, last + 1]])
    logs = np.log(np.stack([ratios[ray, last, row], ratios[ray, last + 1, row]]))
    out[ray, row] = _crossing(space, directions[ray], row, ends=ends, logs=logs)
    return out


def _crossing(
    space: Space, directions: FloatArray, row: IntArray, *, ends: FloatArray, logs: FloatArray
) -> FloatArray:
    """Distance at which each bracket `ends` (2, n) [m] crosses its limit; `logs` (2, n) of the ratios, >0 and <=0."""
    low, high = ends
    at_low, at_high = logs
    for round_ in range(6):
        # Straight in log-log, as fields nearly are; halved in turn, for those that are not.
        part = np.clip(at_low / (at_low - at_high), 0.02, 0.98) if round_ % 2 == 0 else 0.5
        middle = np.maximum(low, 1e-3) * (high / np.maximum(low, 1e-3)) ** part
        found = np.log(space.along(space.centre, directions, middle[:, None])[np.arange(len(row)), 0, row])
        inside = found > 0.0
        low, at_low = np.where(inside, middle, low), np.where(inside, found, at_low)
        high, at_high = np.where(inside, high, middle), np.where(inside, at_high, found)
    return np.asarray(low + (high - low) * at_low / (at_low - at_high))


def _beside_conductors(space: Space) -> FloatArray:
    """Farthest point (rows, 3) [m] over each limit close outside a conductor, where a sweep may see nothing."""
    offset = space.places - space.centre
    away = np.maximum(np.linalg.norm(offset, axis=1, keepdims=True), FIRST)
    directions = offset / away
    steps = np.minimum(away + BESIDE, space.to_floor(space.centre, directions)[:, None])
    best = np.argmax(_roughly_last(steps, space.along(space.centre, directions, steps)), axis=0)
    return _outwards(space, directions[best], steps[best])


def _round_strange(space: Space) -> FloatArray:
    """The same round conductors that are not the ring's, on all sides: its own field helps on one of them only."""
    around = (space.strange[:, None, None, :] + ROUND_ABOUT[:, None, None] * _SIDES).reshape(-1, 3)
    if space.floor is not None:
        around = around[around[:, 2] >= space.floor]
    distance = np.linalg.norm(around - space.centre, axis=1)
    best = np.argmax(np.where(space.ratio_at(around) > 1.0, distance[:, None], 0.0), axis=0)
    directions = (around - space.centre) / distance[:, None]
    steps = np.minimum(distance[:, None] + ONWARDS, space.to_floor(space.centre, directions)[:, None])
    return _outwards(space, directions[best], steps[best])


def _outwards(space: Space, directions: FloatArray, steps: FloatArray) -> FloatArray:
    """The last point (rows, 3) [m] over each limit on its own ray (rows, 3) at `steps` (rows, k) [m]; nan without."""
    rows = np.arange(len(directions))
    last = _last_on(space, directions, steps)[rows, rows]
    points = space.centre + last[:, None] * directions
    points[last == 0.0] = np.nan
    return np.asarray(points)


def _farther(space: Space, points: FloatArray) -> FloatArray:
    """Of several points (n, rows, 3) the one farthest from the centre for each row; nan where all are."""
    distance = np.linalg.norm(points - space.centre, axis=2)
    best = np.argmax(np.where(np.isnan(distance), -1.0, distance), axis=0)
    return np.asarray(points[best, np.arange(points.shape[1])])


def _swept(space: Space, sweep: _Sweep, reach: float) -> FloatArray:
    """Farthest point (rows, 3) [m] over each limit among the rays of a sweep and between them."""
    inner = max(FIRST, 0.5 * float(np.linalg.norm(space.places - space.centre, axis=1).min()))
    steps = np.geomspace(inner, reach, _count(inner, reach, COARSE))
    ends = space.to_floor(sweep.origin, sweep.directions)
    distances = np.minimum(np.tile(steps, (len(ends), 1)), ends[:, None])
    seen = _roughly_last(distances, space.along(sweep.origin, sweep.directions, distances))
    first, rows = _peaks(seen, sweep.directions)
    directions, distance = sweep.directions[first], seen[first, rows]
    own = np.arange(len(rows))
    for spread in SPREADS:
        around = sweep.around(directions, sweep.steps * spread)
        solved = _solved(space, sweep.origin, around, rows=rows, start=distance)
        top = _top_of(np.where(solved > 0.0, solved, SHORT * distance[:, None]), sweep.steps)
        between = sweep.around(directions, top[:, None, :] * spread)
        around = np.concatenate([around, between], axis=1)
        solved = np.concatenate(
            [solved, _solved(space, sweep.origin, between, rows=rows, start=distance)], axis=1
        )
        best = np.argmax(solved, axis=1)
        directions = around[own, best]
        distance = np.where(solved.any(axis=1), solved[own, best], distance)
    points = np.full((seen.shape[1], 3), np.nan)
    rising = np.argsort(distance)  # of several peaks of a limit the last written stays
    points[rows[rising]] = (sweep.origin + distance[:, None] * directions)[rising]
    return points


def _peaks(seen: FloatArray, directions: FloatArray) -> tuple[IntArray, IntArray]:
    """Ray and row of the farthest few rays of each row that no neighbour outdoes, from `seen` (d, rows)."""
    near = directions @ directions.T > np.cos(1.6 * SPREAD)
    around = np.stack([np.where(near, column, 0.0).max(axis=1) for column in seen.T], axis=1)
    peaks = np.where(seen >= around, seen, 0.0)
    ray = np.argsort(peaks, axis=0)[-PEAKS:].ravel()
    row = np.tile(np.arange(seen.shape[1]), PEAKS)
    exceeds = peaks[ray, row] > 0.0
    return ray[exceeds], row[exceeds]


def _top_of(values: FloatArray, steps: FloatArray) -> FloatArray:
    """Where the paraboloid through `values` (n, m) at `steps` (m, 2) has its top (n, 2), at most two steps out.

    The best of the steps where it has none.
    """
    i, j = steps.T
    fit = np.linalg.pinv(np.stack([np.ones(len(i)), i, j, i * i, i * j, j * j], axis=1)) @ values.T
    a, b, c = 2.0 * fit[3], fit[4], 2.0 * np.where(np.any(j), fit[5], -1.0)
    determinant = a * c - b * b
    is_top = (a < 0.0) & (determinant > 0.0)
    room = np.where(is_top, determinant, 1.0)
    top = np.stack([b * fit[2] - c * fit[1], b * fit[1] - a * fit[2]], axis=1) / room[:, None]
    is_top &= (abs(top) <= 2.0).all(axis=1)
    return np.where(is_top[:, None], top, steps[np.argmax(values, axis=1)])


def _roughly_last(distances: FloatArray, ratios: FloatArray) -> FloatArray:
    """Distance (d, rows) to the last point over each limit, straight in log-log between steps; 0 where none is."""
    ray, row, last = _last_over(ratios)
    beyond = np.minimum(last + 1, distances.shape[1] - 1)
    here, there = distances[ray, last], distances[ray, beyond]
    excess, rest = np.log(ratios[ray, last, row]), np.log(ratios[ray, beyond, row])
    part = np.where(rest < excess, excess / np.where(rest < excess, excess - rest, 1.0), 1.0)
    out = np.zeros((ratios.shape[0], ratios.shape[2]))
    out[ray, row] = here * (there / here) ** part
    return out


def _solved(
    space: Space, origin: FloatArray, around: FloatArray, *, rows: IntArray, start: FloatArray
) -> FloatArray:
    """Distance [m] where each limit is met along rays (rows, m, 3) near `start` (rows,) [m]; 0 where it is not."""
    count = around.shape[1]
    directions = around.reshape(-1, 3)
    row, own = rows.repeat(count), np.arange(len(directions))
    end = np.log(space.to_floor(origin, directions))

    def excess(x: FloatArray) -> FloatArray:
        return np.asarray(np.log(space.along(origin, directions, np.exp(x)[:, None])[own, 0, row]))

    x = np.minimum(np.log(start.repeat(count)), end)
    before = excess(x)
    moved = np.minimum(x + np.clip(before / FALL, -0.2, 0.2), end)
    found = excess(moved)
    steeper = (found - before) / np.where(moved == x, np.inf, moved - x)
    slope = np.where(steeper < -0.3, steeper, -FALL)
    met = (abs(found) < NEAR_ENOUGH) | ((found > 0.0) & (moved == end))
    x = np.minimum(moved - found / slope, end)
    return np.where(met, np.exp(x), 0.0).reshape(around.shape[:2])
