# SPDX-License-Identifier: BSD-3-Clause
"""Reports gathered for a map and its histograms: few numbers, however many reports there are."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ringwright.air.reports import Reports
from ringwright.air.summary import Paths
from ringwright.physics.checks import FloatArray

DISTANCE_STEP, BEARING_STEP = 500e3, 10.0
DISTANCES, BEARINGS = 40, 36
MOST_DOTS = 1500
"""Places drawn one by one; of more, neighbours are drawn together."""
_CELLS = (1.0, 2.0, 5.0, 10.0, 20.0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class World:
    """Dots with distance [m], bearing [deg], count and median SNR [dB, NaN]; counts by distance and by bearing; how
    many reports tell no place."""

    distance: FloatArray
    bearing: FloatArray
    count: NDArray[np.int64]
    snr: FloatArray
    by_distance: NDArray[np.int64]
    by_bearing: NDArray[np.int64]
    placeless: int


def world(reports: Reports, of: Paths) -> World:
    """Dots of all places, the most reported last so that small ones are drawn over large ones."""
    there = np.isfinite(of.distance)
    distance, bearing = of.distance[there], of.bearing[there]
    place, snr = reports.place[there], reports.snr[there]
    used, code, count = np.unique(place, return_inverse=True, return_counts=True)
    first = np.zeros(len(used), dtype=np.intp)
    first[code[::-1]] = np.arange(len(code))[::-1]
    at, turned = distance[first], bearing[first]
    if len(used) > MOST_DOTS:
        at, turned, count, code = _gathered(at, turned, count=count, code=code)
    order = np.argsort(-count, kind="stable")
    return World(
        distance=at[order],
        bearing=turned[order],
        count=count[order],
        snr=_medians(snr, code, len(count))[order],
        by_distance=np.bincount(
            np.minimum((distance // DISTANCE_STEP).astype(int), DISTANCES - 1), minlength=DISTANCES
        ),
        by_bearing=np.bincount((np.round(bearing / BEARING_STEP).astype(int)) % BEARINGS, minlength=BEARINGS),
        placeless=int((~there).sum()),
    )


def _gathered(
    at: FloatArray, turned: FloatArray, *, count: NDArray[np.int64], code: NDArray[np.intp]
) -> tuple[FloatArray, FloatArray, NDArray[np.int64], NDArray[np.intp]]:
    """Neighbours on the map in one dot, at their middle by count, in the finest squares that are few enough."""
    x, y = at * np.sin(np.deg2rad(turned)), at * np.cos(np.deg2rad(turned))
    for cell in _CELLS:
        size = cell * 100e3
        keys = (x // size).astype(np.int64) * 1_000_003 + (y // size).astype(np.int64)
        used, gathered = np.unique(keys, return_inverse=True)
        if len(used) <= MOST_DOTS:
            break
    total = np.bincount(gathered, count)
    x, y = (np.bincount(gathered, count * of) / total for of in (x, y))
    return np.hypot(x, y), np.rad2deg(np.arctan2(x, y)) % 360.0, total.astype(np.int64), gathered[code]


def _medians(values: FloatArray, code: NDArray[np.intp], groups: int) -> FloatArray:
    """Median of each group's finite values."""
    kept = np.isfinite(values)
    values, code = values[kept], code[kept]
    order = np.lexsort((values, code))
    values, counts = values[order], np.bincount(code, minlength=groups)
    starts = np.cumsum(counts) - counts
    if not len(values):
        return np.full(groups, np.nan)
    low = np.minimum(starts + np.maximum(counts - 1, 0) // 2, len(values) - 1)
    high = np.minimum(starts + counts // 2, len(values) - 1)
    return np.where(counts > 0, (values[low] + values[high]) / 2.0, np.nan)
