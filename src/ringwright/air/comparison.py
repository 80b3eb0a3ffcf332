# SPDX-License-Identifier: BSD-3-Clause
"""Two antennas compared by who heard them: A minus B at equal power, with a 95 % interval."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from ringwright.air.estimate import Middle, middle
from ringwright.air.pairs import Pairs, find_pairs
from ringwright.air.reports import Mask, Reports
from ringwright.errors import ReportsError
from ringwright.physics.checks import FloatArray
from ringwright.units import shown

WITHIN: Final = (1200.0, 3600.0, 10_800.0)
"""Seconds between the two reports of a pair at most; a wider one is taken where the ones before give too few pairs."""
ENOUGH: Final = 40
"""Pairs that make a wider reach unnecessary."""
WANTED: Final = 1.0
"""[dB]: the half width that "so many more pairs" is counted to."""
_STRETCH_LAGS, _SHORTEST_STRETCH = 1.5, 60.0
_FLOOR_SHARE, _FLOOR_WIDTH, _FLOOR_AT, _FLOOR_REPORTS = 0.03, 2.0, 0.002, 100
_CLEAR_OF_FLOOR = 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """A minus B [dB], in `found` with its 95 % interval; None where the pairs do not say. `left_out` pairs lay at the
    receivers' floor, where the weaker antenna is only heard when it is lucky."""

    first: str
    second: str
    difference: float | None
    found: Middle | None
    pairs: int
    receivers: int
    left_out: int
    heard_me: bool
    within: float

    @property
    def more_needed(self) -> int | None:
        """More pairs, made like these, to an interval of plus or minus 1 dB."""
        if self.found is None:
            return None
        half = (self.found.high - self.found.low) / 2.0
        return max(0, math.ceil(self.pairs * ((half / WANTED) ** 2 - 1.0)))

    def _repr_html_(self) -> str:
        """What a notebook shows."""
        from ringwright.air.comparison_html import comparison_html  # it describes this class

        return comparison_html(self)


def compare(reports: Reports, first: str, second: str, *, within: float | None = None) -> Comparison:
    """Set antenna `first` against `second`.

    What others heard counts; only where there is no pair of it, what was heard of others. `within` [s] bounds how far
    apart in time a pair may be; None leaves it to how many there are.

    Raises
    ------
    ReportsError
        If there is no report with one of them, or both are one.
    """
    is_first, is_second = (reports.of_antenna(name) for name in (first, second))
    for name, made_with in ((first, is_first), (second, is_second)):
        if not made_with.any():
            known = ", ".join(map(shown, reports.antennas)) or "none"
            raise ReportsError(f"no report was made with the antenna {shown(name)}; the reports name {known}")
    if first.casefold() == second.casefold():
        raise ReportsError(f"{shown(first)} cannot be compared with itself; name two antennas")
    heard_me = reports.heard_me
    pairs, reach = _pairs(reports, is_first & heard_me, is_second & heard_me, within=within)
    is_heard_me = len(pairs) > 0
    if not is_heard_me:
        pairs, reach = _pairs(reports, is_first & ~heard_me, is_second & ~heard_me, within=within)
    clear = clear_of_floor(pairs, reports.snr[is_first | is_second])
    found = judged(clear)
    return Comparison(
        first=first,
        second=second,
        difference=_difference(clear, found),
        found=found,
        pairs=len(clear),
        receivers=len(np.unique(clear.receiver)),
        left_out=len(pairs) - len(clear),
        heard_me=is_heard_me or len(pairs) == 0,
        within=reach,
    )


def compared_pairs(reports: Reports, comparison: Comparison) -> Pairs:
    """The pairs that a comparison rests on."""
    first, second = (reports.of_antenna(name) for name in (comparison.first, comparison.second))
    way = reports.heard_me == comparison.heard_me
    pairs = find_pairs(reports, first & way, second & way, within=comparison.within)
    return clear_of_floor(pairs, reports.snr[first | second])


def _pairs(reports: Reports, first: Mask, second: Mask, *, within: float | None) -> tuple[Pairs, float]:
    """Pairs, and how far apart in time they may be [s]."""
    reaches = WITHIN if within is None else (within,)
    for reach in reaches:
        pairs = find_pairs(reports, first, second, within=reach)
        if len(pairs) >= ENOUGH:
            break
    return pairs, reach


def _difference(pairs: Pairs, found: Middle | None) -> float | None:
    if found is not None:
        return found.value
    return float(np.median(pairs.difference)) if len(pairs) else None


def judged(pairs: Pairs) -> Middle | None:
    """The middle of the pairs' differences; what two of them share in time lasts about as long as a pair takes."""
    if not len(pairs):
        return None
    stretch = max(_STRETCH_LAGS * float(np.median(pairs.lag)), _SHORTEST_STRETCH)
    return middle(pairs.difference, pairs.receiver, time=pairs.time, stretch=stretch)


def clear_of_floor(pairs: Pairs, snr: FloatArray) -> Pairs:
    """The pairs whose mean is so far above the weakest SNR that decodes that neither report is there by luck.

    Reports below a receiver's floor are never made. Near it a weak antenna is only heard when noise favours it, and the
    difference shrinks. The mean of a pair tells nothing of its difference, so a choice by it favours none. Where the
    reports do not crowd at their low end there is no floor in sight, and all pairs stay.
    """
    snr = snr[np.isfinite(snr)]
    if not len(pairs) or len(snr) < _FLOOR_REPORTS:
        return pairs
    floor = float(np.quantile(snr, _FLOOR_AT))
    if float(np.mean(snr < floor + _FLOOR_WIDTH)) < _FLOOR_SHARE:
        return pairs
    centre = float(np.median(pairs.difference))
    spread = 1.4826 * float(np.median(np.abs(pairs.difference - centre)))
    clear = 2.0 * (pairs.level - floor) >= abs(centre) + _CLEAR_OF_FLOOR * spread
    return pairs.only(clear)
