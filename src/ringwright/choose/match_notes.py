# SPDX-License-Identifier: BSD-3-Clause
"""What a builder should know beside the best coupling: limits of the search, reach, and what a slip costs."""

from collections.abc import Iterator

from ringwright.antenna.capacitor import range_at_gap
from ringwright.antenna.prediction import Notice
from ringwright.choose.match import CouplingMatch
from ringwright.units import format_quantity

GOOD, POOR = 1.5, 2.0
"""SWR below which nobody bothers, and above which many transmitters reduce power; common practice, no source."""

_AT_LIMIT = {
    "diameter": "The best diameter is at the edge of what was tried: the smallest that couples, or the largest that "
    "fits into the ring with its clearance.",
    "tap_at": "The best tap is at the edge of what was tried: the nearest or the farthest the arm can reach.",
    "turns": "The best number of turns is at the edge of what was tried.",
    "squash": "The best squash is the flattest tried; a flatter loop would gain a little and is hard to bend.",
    "clearance": "The best clearance is at the edge of what was tried: nearer, a slip of 5 mm can touch; farther is no "
    "longer beside the conductor.",
}


def match_notes(found: CouplingMatch) -> tuple[Notice, ...]:
    """All notes, the gravest first."""
    return (*_of_match(found), *_of_reach(found), *_of_limits(found))


def _of_match(found: CouplingMatch) -> Iterator[Notice]:
    worst = found.best.worst
    if worst.swr_min > POOR:
        yield Notice(
            code="no-match",
            text=f"No such coupling brings every band below SWR {POOR:g}: the bands' own best differ too much, or it "
            "does not fit. Fewer bands, another clearance, or another kind of coupling may.",
            band=worst.target.band,
        )
    slips = [swr for each in found.sensitivity for swr in (each.swr_less, each.swr_more) if swr is not None]
    if worst.swr_min <= GOOD < max(slips, default=0.0):
        yield Notice(
            code="needs-care",
            text=f"One turn more or less costs more than SWR {GOOD:g}: try both neighbours."
            if found.first == "turns"
            else f"A slip of one step costs more than SWR {GOOD:g}: make it a little long, measure, and trim.",
        )


def _of_reach(found: CouplingMatch) -> Iterator[Notice]:
    low, high = range_at_gap(found.design.capacitor)
    for band in found.best.bands:
        if not low <= band.capacitance <= high:
            name = band.target.band or format_quantity(band.target.frequency, "MHz", digits=6)
            yield Notice(
                code="out-of-reach",
                text=f"{name} needs {format_quantity(band.capacitance, 'pF', digits=3)}, which this capacitor does not "
                "give: its SWR holds with one that does.",
                band=band.target.band,
            )


def _of_limits(found: CouplingMatch) -> Iterator[Notice]:
    for name in found.at_limit:
        yield Notice(code="at-limit", text=_AT_LIMIT[name])
