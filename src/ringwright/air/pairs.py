# SPDX-License-Identifier: BSD-3-Clause
"""Pairs of reports that differ in the antenna and in little else: same receiver, band, mode, close in time.

A pair's difference holds neither the receiver's place and noise nor the time of day. Each report stands in one pair at
most, and of two possible pairs the closer in time is taken, whatever the reports say.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ringwright.air.reports import Mask, Reports
from ringwright.physics.checks import FloatArray

Places = NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pairs:
    """Differences A minus B at equal power [dB], the mean of both [dB], time in the middle [s], lag [s], receiver."""

    difference: FloatArray
    level: FloatArray
    time: FloatArray
    lag: FloatArray
    receiver: NDArray[np.int64]
    first: Places
    second: Places

    def __len__(self) -> int:
        return len(self.difference)

    def only(self, kept: Mask) -> "Pairs":
        """Those of a mask."""
        return Pairs(**{name: getattr(self, name)[kept] for name in self.__slots__})


def at_one_watt(reports: Reports) -> FloatArray:
    """SNR of each report as it would be had the transmitter had one watt [dB]; NaN where one of both is not told."""
    return np.asarray(reports.snr - 10.0 * np.log10(reports.power))


def find_pairs(reports: Reports, first: Mask, second: Mask, *, within: float) -> Pairs:
    """Pairs of a report of `first` (A) with one of `second` (B), no further apart than `within` [s]."""
    level = at_one_watt(reports)
    usable = np.flatnonzero((first ^ second) & np.isfinite(level))
    group = _group(reports)[usable]
    usable = usable[np.lexsort((reports.time[usable], group))]
    group, time, is_first = _group(reports)[usable], reports.time[usable], first[usable]
    a, b = _nearest(group, time, is_first=is_first, within=within)
    a, b = np.where(is_first[a], a, b), np.where(is_first[a], b, a)
    at_a, at_b = usable[a], usable[b]
    return Pairs(
        difference=level[at_a] - level[at_b],
        level=(reports.snr[at_a] + reports.snr[at_b]) / 2.0,
        time=(time[a] + time[b]) / 2.0,
        lag=np.abs(time[a] - time[b]),
        receiver=reports.receiver[at_a].astype(np.int64),
        first=at_a,
        second=at_b,
    )


def _group(reports: Reports) -> NDArray[np.int64]:
    """One number for all reports that may be set against each other."""
    how = (reports.mode.astype(np.int64) + 1) * 2 + reports.heard_me
    return np.asarray((reports.receiver.astype(np.int64) * 64 + reports.band) * 4096 + how)


def _nearest(
    group: NDArray[np.int64], time: FloatArray, *, is_first: Mask, within: float
) -> tuple[Places, Places]:
    """Neighbours in time of unlike antennas that are each other's closest; repeated on what is left until none is."""
    left = np.arange(len(time))
    found: list[tuple[Places, Places]] = []
    while len(left) > 1:
        gap = np.diff(time[left])
        may = (
            (group[left[1:]] == group[left[:-1]])
            & (is_first[left[1:]] != is_first[left[:-1]])
            & (gap <= within)
        )
        gap = np.where(may, gap, np.inf)
        before, after = np.append(np.inf, gap[:-1]), np.append(gap[1:], np.inf)
        taken = np.flatnonzero(may & (gap < before) & (gap <= after))  # of equal ones the earlier
        if not len(taken):
            break
        found.append((left[taken], left[taken + 1]))
        left = np.delete(left, np.concatenate((taken, taken + 1)))
    if not found:
        return np.empty(0, dtype=np.intp), np.empty(0, dtype=np.intp)
    return np.concatenate([a for a, _ in found]), np.concatenate([b for _, b in found])
