# SPDX-License-Identifier: BSD-3-Clause
"""Keep-out distances of one band as a small HTML table for notebooks; beside them all that a distance does not say."""

from ringwright.antenna.charts.notebook import card, paragraph, table
from ringwright.antenna.figures.figure import significant
from ringwright.safety.cautions import CAUTIONS
from ringwright.safety.keepout import BandKeepOut, LimitRow, PersonRow

_HEADS = (
    "limit",
    "for",
    "keep away",
    "reached at most",
    "along the axis",
    "in the plane",
    "above",
    "below",
    "set by",
)
_PEOPLE = ("who", "limit", "margin", "at the unfavourable end", "passes", "power allowed")
_FIELDS = {"e": "electric field", "h": "magnetic field", None: "nothing"}


def keepout_html(found: BandKeepOut) -> str:
    """One row a limit, one row a person and limit."""
    name = f"{found.band}, " if found.band else ""
    people = [table(_PEOPLE, [_person(row) for row in found.people])] if found.people else []
    return card(
        f"Keep-out distances, {name}{found.frequency / 1e6:.6g} MHz",
        paragraph(f"From the ring's centre, at an average power of {found.average_power:.3g} W."),
        table(_HEADS, [_limit(row) for row in found.by_limit]),
        *people,
        cautions=CAUTIONS,
    )


def _limit(row: LimitRow) -> tuple[str, ...]:
    lengths = (row.distance_advised, row.distance_max, row.distance_axis, row.distance_plane, row.distance_above,
               row.distance_below)  # fmt: skip
    return (
        row.limit.name,
        row.limit.tier.value,
        *(f"{each:.2f} m" for each in lengths),
        _FIELDS[row.governed_by],
    )


def _person(row: PersonRow) -> tuple[str, ...]:
    return (
        row.name,
        f"{row.limit.name}, {row.limit.tier.value}",
        f"{row.margin_db:+.1f} dB",
        f"{row.margin_unfavourable_db:+.1f} dB",
        "yes" if row.passes else "no",
        f"{significant(row.power_allowed_unfavourable, 3)} W",
    )
