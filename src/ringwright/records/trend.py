# SPDX-License-Identifier: BSD-3-Clause
"""How Q and frequency of one build move with time, temperature and rain, and whether joints or box want a look.

Every line is Theil and Sen's: the median of the slopes between all pairs of sweeps, which one spoilt sweep does not
bend, with Sen's 95 % interval from Kendall's statistic. For rain, yes or no, the same is Hodges and Lehmann's shift.

References: P. K. Sen, Estimates of the regression coefficient based on Kendall's tau, J. Am. Stat. Assoc. 63 (1968)
1379-1389, doi:10.1080/01621459.1968.10480934. J. L. Hodges, E. L. Lehmann, Estimates of location based on rank tests,
Ann. Math. Stat. 34 (1963) 598-611, doi:10.1214/aoms/1177704172.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from math import comb, exp, expm1, log

import numpy as np
from scipy.special import ndtri

from ringwright.antenna.materials import MATERIALS
from ringwright.proof.estimate import COVERED, Estimate
from ringwright.records.entries import Note, NoteKind, RecordedSweep

FEWEST = 5
"""Different times or temperatures; of four even perfect order comes by chance more often than 1 in 20 (2/4!)."""
RAIN_LASTS = timedelta(hours=24)
"""After a note of rain for which a sweep counts as wet: our judgement."""
WARMTH = MATERIALS["copper"].temperature_coefficient / 2.0
"""Of Q for each kelvin, at most: the skin effect's resistance goes with the root of the resistivity."""
LOOK = (
    "joints or box want a look, with the transmitter off and unable to key: the capacitor carries kilovolts at a few "
    "watts"
)


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line from `x[0]`, `y[0]` to `x[1]`, `y[1]`."""

    x: tuple[float, float]
    y: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class TrendLines:
    """The lines as they are drawn, Q over time straight in its logarithm; times in seconds from the first sweep of
    `lines_from`, temperatures in degrees C. None where there is none."""

    q: Line | None
    frequency: Line | None
    q_by_warmth: Line | None
    frequency_by_warmth: Line | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """What the sweeps of a band say since the ring was last changed, by `changed_by` if that is known.

    Changes are over the time from the first to the last of `lines_from`, with their 95 % intervals; None where too few
    sweeps tell. `reminders` are sentences for the person, empty where nothing is wrong.
    """

    band: str
    sweeps: tuple[RecordedSweep, ...]
    lines_from: tuple[RecordedSweep, ...]
    wet: tuple[int, ...]
    changed_by: Note | None
    notes: tuple[Note, ...]
    q_change_pct: Estimate | None
    q_per_kelvin_pct: Estimate | None
    q_after_rain_pct: Estimate | None
    frequency_change: Estimate | None
    frequency_per_kelvin: Estimate | None
    frequency_after_rain: Estimate | None
    lines: TrendLines
    reminders: tuple[str, ...]


def trend_of(band: str, sweeps: Sequence[RecordedSweep], notes: Sequence[Note]) -> Trend:
    """The trend of one band's sweeps, given in the order in which they were measured."""
    ring, changed_by = _of_the_last_build(sweeps, notes)
    wet = {sweep.number for sweep in sweeps if _is_wet(sweep, notes)}
    warm = [sweep for sweep in ring if sweep.temperature is not None]
    start, end = ring[0].measured_at, ring[-1].measured_at
    span = (end - start).total_seconds()

    seconds = [(sweep.measured_at - start).total_seconds() for sweep in ring]
    time = [one / span for one in seconds] if span else [0.0]
    wetness = [float(sweep.number in wet) for sweep in ring]
    temperature = [sweep.temperature for sweep in ring if sweep.temperature is not None]
    q, warm_q = ([log(sweep.result.q_unloaded.value) for sweep in some] for some in (ring, warm))
    f, warm_f = ([sweep.result.frequency.value for sweep in some] for some in (ring, warm))
    q_change, q_after_rain = _line(time, q), _shift(wetness, q)
    warmer = _line(time, temperature) if len(warm) == len(ring) else None
    reminders = (_fall(band, ring, q_change=q_change, warmer=warmer), _leak(band, q_after_rain))
    return Trend(
        band=band,
        sweeps=tuple(sweeps),
        lines_from=tuple(ring),
        wet=tuple(sorted(wet)),
        changed_by=changed_by,
        notes=tuple(notes),
        q_change_pct=_per_cent(q_change),
        q_per_kelvin_pct=_per_cent(_line(temperature, warm_q)),
        q_after_rain_pct=_per_cent(q_after_rain),
        frequency_change=_line(time, f),
        frequency_per_kelvin=_line(temperature, warm_f),
        frequency_after_rain=_shift(wetness, f),
        lines=TrendLines(
            q=_drawn(seconds, q, exp),
            frequency=_drawn(seconds, f),
            q_by_warmth=_drawn(temperature, warm_q, exp),
            frequency_by_warmth=_drawn(temperature, warm_f),
        ),
        reminders=tuple(reminder for reminder in reminders if reminder is not None),
    )


def _of_the_last_build(
    sweeps: Sequence[RecordedSweep], notes: Sequence[Note]
) -> tuple[Sequence[RecordedSweep], Note | None]:
    """The sweeps since the last repair, and of them those of the last build; the note of that repair."""
    last = sweeps[-1]
    changes = [note for note in notes if note.kind.changes_the_ring and note.at <= last.measured_at]
    changed_by = changes[-1] if changes else None
    since = [sweep for sweep in sweeps if changed_by is None or sweep.measured_at >= changed_by.at]
    others = [index for index, sweep in enumerate(since) if sweep.build != last.build]
    return since[others[-1] + 1 if others else 0 :], changed_by


def _is_wet(sweep: RecordedSweep, notes: Sequence[Note]) -> bool:
    return any(
        note.kind is NoteKind.RAIN and timedelta(0) <= sweep.measured_at - note.at <= RAIN_LASTS
        for note in notes
    )


def _line(x: Sequence[float], y: Sequence[float]) -> Estimate | None:
    """Slope of y over x with its interval; None where even perfect order would be no proof."""
    return _theil_sen(x, y) if len(set(x)) >= FEWEST else None


def _shift(is_so: Sequence[float], y: Sequence[float]) -> Estimate | None:
    """By how much y is larger where `is_so` is 1 than where it is 0; None where even a perfect split, of either sign,
    is not rarer by chance than 1 in 20."""
    return _theil_sen(is_so, y) if 2.0 / comb(len(y), round(sum(is_so))) <= 1.0 - COVERED else None


def _theil_sen(x: Sequence[float], y: Sequence[float]) -> Estimate:
    """As scipy.stats.theilslopes, but for ties: scipy takes those of y off the variance, too, and then finds intervals
    that are too narrow, or none where y never changes; Sen takes those of x alone."""
    along, across = np.asarray(x, dtype=float), np.asarray(y, dtype=float)
    before, after = np.nonzero(along[:, np.newaxis] < along)
    slopes = np.sort((across[after] - across[before]) / (along[after] - along[before]))
    n, ties = len(x), np.unique(along, return_counts=True)[1]
    variance = (n * (n - 1) * (2 * n + 5) - float(np.sum(ties * (ties - 1) * (2 * ties + 5)))) / 18.0
    reach = float(ndtri(0.5 + COVERED / 2.0)) * variance**0.5
    low, high = round((len(slopes) - reach) / 2.0) - 1, round((len(slopes) + reach) / 2.0)
    return Estimate(
        value=float(np.median(slopes)),
        low=float(slopes[max(low, 0)]),
        high=float(slopes[min(high, len(slopes) - 1)]),
    )


def _drawn(x: Sequence[float], y: Sequence[float], shown: Callable[[float], float] = float) -> Line | None:
    """The line from the first x to the last, through the median of what it leaves over."""
    slope = _line(x, y)
    if slope is None:
        return None
    ends = min(x), max(x)
    offset = float(np.median(np.asarray(y) - slope.value * np.asarray(x)))
    first, last = (shown(offset + slope.value * end) for end in ends)
    return Line(ends, (first, last))


def _per_cent(line: Estimate | None) -> Estimate | None:
    """Of a change of a logarithm."""
    if line is None:
        return None
    value, low, high = (100.0 * expm1(change) for change in (line.value, line.low, line.high))
    return Estimate(value=value, low=low, high=high)


def _fall(
    band: str, ring: Sequence[RecordedSweep], *, q_change: Estimate | None, warmer: Estimate | None
) -> str | None:
    """A sentence if Q fell for certain, and by more than warmer metal explains."""
    warmth = 0.0 if warmer is None else WARMTH * max(warmer.value, 0.0)
    if q_change is None or not q_change.high < -warmth:
        return None
    least, middle, most = (-100.0 * expm1(change) for change in (q_change.high, q_change.value, q_change.low))
    explained = (
        f"not every sweep has its temperature (30 K more would explain {100.0 * WARMTH * 30.0:.1f} %)"
        if warmer is None
        else f"{max(warmer.value, 0.0):.0f} K of warming over that time explain {100.0 * warmth:.1f} % at most"
    )
    return (
        f"Q on {band} fell by {middle:.0f} % ({least:.0f} to {most:.0f}) in {len(ring)} sweeps from "
        f"{ring[0].measured_at:%Y-%m-%d} to {ring[-1].measured_at:%Y-%m-%d}, and {explained}: {LOOK}"
    )


def _leak(band: str, q_after_rain: Estimate | None) -> str | None:
    """A sentence if Q is lower for certain in the day after rain."""
    if q_after_rain is None or not q_after_rain.high < 0.0:
        return None
    least, middle, most = (
        -100.0 * expm1(change) for change in (q_after_rain.high, q_after_rain.value, q_after_rain.low)
    )
    return (
        f"Q on {band} is lower by {middle:.0f} % ({least:.0f} to {most:.0f}) in the day after rain, so water gets in: "
        f"{LOOK}"
    )
