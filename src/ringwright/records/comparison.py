# SPDX-License-Identifier: BSD-3-Clause
"""Two builds of one ring set side by side: by what factor Q changed on each band, and how sure that is.

The interval of a build's Q is that of its fits or, where several sweeps scatter more than their fits allow, that of
the scatter by Student's t, whichever is wider. Q of one ring goes with a power of the frequency between 1/2 (all of the
resistance is loss by the skin effect) and -3 (all is radiation); where two builds were not measured at the same
frequency the interval is widened by what the steeper of the two could do.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, hypot, log, log10
from statistics import fmean, stdev

from scipy.special import stdtrit

from ringwright.errors import NoSuchEntryError
from ringwright.proof.estimate import COVERED, Estimate
from ringwright.records.entries import Note, RecordedSweep

STEEPEST = 3.0
"""The largest power of the frequency, by size, that Q of one ring goes with."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BandChange:
    """One band: Q before and after with the sweeps they come from, the factor between them, its 95 % interval.

    `gain_db` is what the factor means for the power sent, as the radiation resistance of one ring in one place stays.
    """

    band: str | None
    before: Estimate
    after: Estimate
    sweeps_before: tuple[int, ...]
    sweeps_after: tuple[int, ...]
    ratio: Estimate

    @property
    def is_told_apart(self) -> bool:
        """Whether no change at all lies outside the interval."""
        return not self.ratio.low <= 1.0 <= self.ratio.high

    @property
    def is_without_repeat(self) -> bool:
        """Whether one sweep stands for a build, so that nothing is known of how it changes from day to day."""
        return min(len(self.sweeps_before), len(self.sweeps_after)) < 2

    @property
    def gain_db(self) -> Estimate:
        value, low, high = (10.0 * log10(x) for x in (self.ratio.value, self.ratio.low, self.ratio.high))
        return Estimate(value=value, low=low, high=high)


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildComparison:
    """All bands that both builds were measured on, and the notes from the first sweep of either to the last."""

    before: str
    after: str
    bands: tuple[BandChange, ...]
    notes: tuple[Note, ...]


def compare_sweeps(
    before: Sequence[RecordedSweep],
    after: Sequence[RecordedSweep],
    *,
    names: tuple[str, str],
    notes: Sequence[Note],
) -> BuildComparison:
    """Set the sweeps of two builds, or of any two moments, side by side.

    Raises
    ------
    NoSuchEntryError
        If they have no band in common.
    """
    common = {sweep.band for sweep in before} & {sweep.band for sweep in after}
    if not common:
        raise NoSuchEntryError(
            f"{names[0]} and {names[1]} were not measured on the same band; sweep both on one band"
        )
    changes = [
        _change(band, *([sweep for sweep in build if sweep.band == band] for build in (before, after)))
        for band in common
    ]
    times = [sweep.measured_at for sweep in (*before, *after)]
    return BuildComparison(
        before=names[0],
        after=names[1],
        bands=tuple(sorted(changes, key=lambda change: _mean_frequency_of(change, before))),
        notes=tuple(note for note in notes if min(times) <= note.at <= max(times)),
    )


def _change(band: str | None, before: Sequence[RecordedSweep], after: Sequence[RecordedSweep]) -> BandChange:
    (first, wide_first), (second, wide_second) = _middle(before), _middle(after)
    apart = abs(log(_mean_frequency(after) / _mean_frequency(before)))
    return BandChange(
        band=band,
        before=Estimate.factor(exp(first), wide_first),
        after=Estimate.factor(exp(second), wide_second),
        sweeps_before=tuple(sweep.number for sweep in before),
        sweeps_after=tuple(sweep.number for sweep in after),
        ratio=Estimate.factor(exp(second - first), hypot(wide_first, wide_second) + STEEPEST * apart),
    )


def _middle(sweeps: Sequence[RecordedSweep]) -> tuple[float, float]:
    """Mean of ln Q and half of its 95 % interval."""
    q = [sweep.result.q_unloaded for sweep in sweeps]
    logs = [log(estimate.value) for estimate in q]
    of_fits = hypot(*(estimate.log_spread for estimate in q)) / len(q)
    if len(q) == 1:
        return logs[0], of_fits
    of_scatter = float(stdtrit(len(q) - 1, 0.5 + COVERED / 2.0)) * stdev(logs) / len(q) ** 0.5
    return fmean(logs), max(of_fits, of_scatter)


def _mean_frequency(sweeps: Sequence[RecordedSweep]) -> float:
    return fmean(sweep.result.frequency.value for sweep in sweeps)


def _mean_frequency_of(change: BandChange, sweeps: Sequence[RecordedSweep]) -> float:
    return _mean_frequency([sweep for sweep in sweeps if sweep.number in change.sweeps_before])
