# SPDX-License-Identifier: BSD-3-Clause
"""A search's front as a small HTML table for notebooks, and why not the others."""

from collections.abc import Callable

from ringwright.antenna.charts.notebook import card, listed, paragraph, table
from ringwright.choose.rings.candidate import Candidate, CandidateBand, name_of
from ringwright.choose.rings.found import Found
from ringwright.units import format_quantity

_HEADS = (
    "ring",
    "score",
    "across",
    "mass",
    "cost",
    "coupling loop",
    "into the sky",
    "lowest SWR",
    "to spare",
)


def found_html(found: Found) -> str:
    """One row a ring of the front, best first."""
    count = len(found.front)
    title = f"{found.brief.name}: {count or 'no'} ring{'' if count == 1 else 's'} worth building"
    counted = (
        f"{found.considered} considered, {found.screened} provably out, {found.solved} carried by {found.solutions} "
        f"full-wave solutions; {found.passing} pass."
    )
    nearest = [] if found.nearest is None else [f"No ring passes; {found.nearest.text}."]
    refused = [f"{each.count}: {each.reason}: {each.relax}" for each in found.refused]
    return card(
        title,
        paragraph(counted),
        table(_HEADS, [_row(found, each) for each in found.front]),
        listed(nearest + refused),
    )


def _row(found: Found, each: Candidate) -> tuple[str, ...]:
    brief = found.brief
    return (
        name_of(brief, each.place),
        f"{each.score(brief.weights):.2f}",
        format_quantity(each.diameter, "ft" if brief.is_imperial else "m", digits=3),
        format_quantity(each.mass, "lb", digits=3) if brief.is_imperial else f"{each.mass:.1f} kg",
        "not known" if each.cost is None else f"{each.cost:.2f} {brief.limits.currency or ''}".rstrip(),
        format_quantity(each.coupling, "in" if brief.is_imperial else "m", digits=3),
        _by_band(each, lambda band: f"{100.0 * band.sky:.1f} %"),
        _by_band(each, lambda band: f"{band.swr_min:.2f}"),
        f"{each.margin_db:.1f} dB",
    )


def _by_band(each: Candidate, text: Callable[[CandidateBand], str]) -> str:
    return ", ".join(f"{band.band or f'{band.frequency / 1e6:.4g} MHz'} {text(band)}" for band in each.bands)
