# SPDX-License-Identifier: BSD-3-Clause
"""Two builds of one ring set side by side: by what factor Q changed on each band, and how sure that is.

The interval of a build's Q is that of its fits or, where several sweeps scatter more than their fits allow, that of
the scatter by Student's t, whichever is wider; the same for its resistance and its frequency. Q of one ring goes with
a power of the frequency between 1/2 (all of the resistance is loss by the skin effect) and -3 (all is radiation), its
resistance between 1/2 and 4; where two builds were not measured at the same frequency the intervals are widened by
what the steeper of the two could do.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import exp, hypot, log, log10
from statistics import fmean, stdev

from scipy.special import stdtrit

from ringwright.errors import NoSuchEntryError
from ringwright.proof.estimate import COVERED, Estimate
from ringwright.records.entries import Note, RecordedSweep

STEEPEST = 3.0
"""The largest power of the frequency, by size, that Q of one ring goes with."""
STEEPEST_RESISTANCE = 4.0
"""The same of its resistance: that of radiation."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BandChange:
    """One band: Q before and after with the sweeps they come from, the factor between them, its 95 % interval.

    `gain_db` is what the factor means for the power sent, as the radiation resistance of one ring in one place stays.
    `resistance` is all that the ring loses, radiation with it, referred to the gap [ohm]; `resistance_ratio` its
    factor. `frequency` is that of resonance [Hz], `frequency_change` after less before.
    """

    band: str | None
    before: Estimate
    after: Estimate
    sweeps_before: tuple[int, ...]
    sweeps_after: tuple[int, ...]
    ratio: Estimate
    resistance_before: Estimate
    resistance_after: Estimate
    resistance_ratio: Estimate
    frequency_before: Estimate
    frequency_after: Estimate
    frequency_change: Estimate

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
    apart = abs(log(_mean_frequency(after) / _mean_frequency(before)))
    q = _factor(before, after, lambda sweep: sweep.result.q_unloaded, wider=STEEPEST * apart)
    resistance = _factor(
        before, after, lambda sweep: sweep.result.resistance_total, wider=STEEPEST_RESISTANCE * apart
    )
    (f, wide_f), (g, wide_g) = _middle_frequency(before), _middle_frequency(after)
    return BandChange(
        band=band,
        before=q[0],
        after=q[1],
        sweeps_before=tuple(sweep.number for sweep in before),
        sweeps_after=tuple(sweep.number for sweep in after),
        ratio=q[2],
        resistance_before=resistance[0],
        resistance_after=resistance[1],
        resistance_ratio=resistance[2],
        frequency_before=Estimate.additive(f, wide_f),
        frequency_after=Estimate.additive(g, wide_g),
        frequency_change=Estimate.additive(g - f, hypot(wide_f, wide_g)),
    )


def _factor(
    before: Sequence[RecordedSweep],
    after: Sequence[RecordedSweep],
    of: Callable[[RecordedSweep], Estimate],
    *,
    wider: float,
) -> tuple[Estimate, Estimate, Estimate]:
    """A positive figure before and after, and the factor between them, its interval `wider` in the logarithm."""
    (first, wide_first), (second, wide_second) = (
        _middle_of(list(map(of, build))) for build in (before, after)
    )
    return (
        Estimate.factor(exp(first), wide_first),
        Estimate.factor(exp(second), wide_second),
        Estimate.factor(exp(second - first), hypot(wide_first, wide_second) + wider),
    )


def _middle_of(estimates: Sequence[Estimate]) -> tuple[float, float]:
    """Mean of the logarithms and half of its 95 % interval."""
    return _mean(
        [log(estimate.value) for estimate in estimates], [estimate.log_spread for estimate in estimates]
    )


def _middle_frequency(sweeps: Sequence[RecordedSweep]) -> tuple[float, float]:
    """Mean frequency and half of its 95 % interval."""
    found = [sweep.result.frequency for sweep in sweeps]
    return _mean(
        [estimate.value for estimate in found], [(estimate.high - estimate.low) / 2.0 for estimate in found]
    )


def _mean(values: Sequence[float], spreads: Sequence[float]) -> tuple[float, float]:
    """Mean and half of its 95 % interval: of the fits, or of the scatter where that is wider."""
    of_fits = hypot(*spreads) / len(values)
    if len(values) == 1:
        return values[0], of_fits
    of_scatter = float(stdtrit(len(values) - 1, 0.5 + COVERED / 2.0)) * stdev(values) / len(values) ** 0.5
    return fmean(values), max(of_fits, of_scatter)


def _mean_frequency(sweeps: Sequence[RecordedSweep]) -> float:
    return fmean(sweep.result.frequency.value for sweep in sweeps)


def _mean_frequency_of(change: BandChange, sweeps: Sequence[RecordedSweep]) -> float:
    return _mean_frequency([sweep for sweep in sweeps if sweep.number in change.sweeps_before])
