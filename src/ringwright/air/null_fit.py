# SPDX-License-Identifier: BSD-3-Clause
r"""The null of a ring from reports: how loud it is round the compass, with the ring turned or left where it is.

The model is the vertical ring's own low-angle pattern, the strongest in its plane,

.. math:: g(\varphi) = 10 \log_{10}\left((1 - \epsilon) \cos^2(\varphi - \varphi_0) + \epsilon\right)

with the bearing of the plane and the depth as unknowns. With a ring that was turned each receiver's own level is taken
out, and what is left is the pattern; with one that stood still receivers differ besides, so that the interval is wide.
The interval comes from receivers drawn anew (Efron's bootstrap): they, not single reports, are what is independent.

References
----------
.. [1] B. Efron, R. J. Tibshirani, An Introduction to the Bootstrap, Chapman and Hall, 1993, ch. 13.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ringwright.air.pairs import at_one_watt
from ringwright.air.reports import Reports
from ringwright.air.summary import Paths
from ringwright.errors import ReportsError
from ringwright.physics.checks import FloatArray

DEPTHS_DB = np.arange(0.0, 30.1, 1.0)
PLANES_DEG = np.arange(0.0, 180.0, 2.0)
DRAWS: Final = 200
FEWEST_RECEIVERS = 8
WIDEST_DEG: Final = 90.0
LEAST_DB: Final = 1.0
"""Of the intervals: beyond these nothing is said of a null (own choice; half of all directions, the step of depths)."""
PATTERN_CAN: Final = "It says where the antenna is quiet and how deep, over all receivers together."
PATTERN_CANNOT: Final = (
    "It cannot say how much of the power leaves the antenna: a pattern keeps its shape whatever is lost. Where the "
    "antenna stood still it cannot tell the pattern from where receivers happen to be."
)
_CUT = 12.0
"""[dB]: a residual counts for no more than this, so that wrong powers do not lead."""
_FROM_PLANE = 90.0


@dataclass(frozen=True, slots=True, kw_only=True)
class NullFit:
    """Bearing of the null [deg, 0 to 180, the other end opposite] and its depth [dB], each with a 95 % interval.

    `is_turned`: the ring stood at more than one bearing. `low` and `high` bearings may run past 0 and 180.
    """

    bearing: float
    bearing_low: float
    bearing_high: float
    depth: float
    depth_low: float
    depth_high: float
    receivers: int
    reports: int
    is_turned: bool

    @property
    def is_told(self) -> bool:
        """Whether reports tell a null at all: its direction within a quarter turn, and some depth for sure."""
        return self.bearing_high - self.bearing_low <= WIDEST_DEG and self.depth_low >= LEAST_DB


def fit_null(reports: Reports, of: Paths, *, turned: FloatArray, rng: np.random.Generator) -> NullFit:
    """The null relative to `turned`, the true bearing [deg] of the ring's plane at each report (0: true bearings).

    Raises
    ------
    ReportsError
        If too few receivers tell their place and level.
    """
    level = at_one_watt(reports)
    used = np.isfinite(level) & np.isfinite(of.bearing) & np.isfinite(turned) & reports.heard_me
    group = (reports.receiver.astype(np.int64) * 64 + reports.band)[used]
    level, angle, distance = level[used], (of.bearing - turned)[used] % 180.0, of.distance[used]
    receiver = reports.receiver[used]
    is_turned = len(np.unique(turned[used])) > 1
    there = len(np.unique(receiver))
    if there < FEWEST_RECEIVERS:
        raise ReportsError(
            f"a null needs {FEWEST_RECEIVERS} receivers with locator, SNR and power; there are {there}"
        )
    level = level if is_turned else _without_distance(level, distance)
    losses = _losses(_cells(level, angle, group=group, receiver=receiver), is_turned=is_turned)
    count = losses.shape[0]
    best = _best(losses.sum(axis=0))
    weights = rng.multinomial(count, np.full(count, 1.0 / count), size=DRAWS)
    drawn = np.array([_best(loss) for loss in weights @ losses])
    off = (drawn[:, 0] - best[0] + 90.0) % 180.0 - 90.0
    low, high = np.quantile(off, [0.025, 0.975])
    null = (best[0] + _FROM_PLANE) % 180.0
    depth_low, depth_high = np.quantile(drawn[:, 1], [0.025, 0.975])
    return NullFit(
        bearing=null,
        bearing_low=null + float(low),
        bearing_high=null + float(high),
        depth=best[1],
        depth_low=float(depth_low),
        depth_high=float(depth_high),
        receivers=count,
        reports=int(used.sum()),
        is_turned=is_turned,
    )


def figure_of_eight(angle: FloatArray, plane: FloatArray, *, depth_db: FloatArray) -> FloatArray:
    """Gain [dB, 0 in the plane] at bearings, of a ring in `plane` with nulls so deep; broadcast together [deg, dB]."""
    floor = 10.0 ** (-depth_db / 10.0)
    return np.asarray(10.0 * np.log10((1.0 - floor) * np.cos(np.deg2rad(angle - plane)) ** 2 + floor))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Cells:
    """Median level of each receiver at each angle; its number and receiver."""

    level: FloatArray
    angle: FloatArray
    group: NDArray[np.intp]
    receiver: NDArray[np.intp]


def _cells(
    level: FloatArray, angle: FloatArray, *, group: NDArray[np.int64], receiver: NDArray[np.int32]
) -> _Cells:
    at = np.round(angle * 10.0).astype(np.int64)
    order = np.lexsort((level, at, group))
    level, angle, group, receiver, at = level[order], angle[order], group[order], receiver[order], at[order]
    starts = np.flatnonzero(np.append(True, (np.diff(group) != 0) | (np.diff(at) != 0)))
    middle = starts + (np.append(starts[1:], len(level)) - starts) // 2
    return _Cells(
        level=level[middle],
        angle=angle[middle],
        group=np.unique(group[middle], return_inverse=True)[1],
        receiver=np.unique(receiver[middle], return_inverse=True)[1],
    )


def _losses(cells: _Cells, *, is_turned: bool) -> FloatArray:
    """Square misses of every receiver under every plane and depth (receivers, planes x depths)."""
    plane, depth = (each.ravel() for each in np.meshgrid(PLANES_DEG, DEPTHS_DB, indexing="ij"))
    losses = np.empty((int(cells.receiver.max()) + 1, len(plane)))
    counts = np.bincount(cells.group)
    for number in range(len(plane)):
        miss = cells.level - figure_of_eight(cells.angle, plane[number], depth_db=depth[number])
        level = np.bincount(cells.group, miss) / counts if is_turned else None
        miss = miss - (np.median(miss) if level is None else level[cells.group])
        losses[:, number] = np.bincount(cells.receiver, np.minimum(miss**2, _CUT**2))
    return losses


def _best(loss: FloatArray) -> tuple[float, float]:
    plane, depth = divmod(int(np.argmin(loss)), len(DEPTHS_DB))
    return float(PLANES_DEG[plane]), float(DEPTHS_DB[depth])


def _without_distance(level: FloatArray, distance: FloatArray) -> FloatArray:
    """Levels less what distance does to them, a straight line over its logarithm."""
    far = np.log10(np.maximum(distance, 1e3))
    slope, start = np.polyfit(far, level, 1) if np.ptp(far) > 0.0 else (0.0, float(level.mean()))
    return np.asarray(level - slope * far - start)
