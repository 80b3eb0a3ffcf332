# SPDX-License-Identifier: BSD-3-Clause
"""A match as a small HTML table for notebooks: what to make, and what each band gets of it and of the design's own."""

from collections.abc import Iterator

from ringwright.antenna.charts.notebook import card, listed, paragraph, table
from ringwright.choose.figures import COUPLING_FIGURES
from ringwright.choose.knobs import value_of
from ringwright.choose.match import CouplingMatch
from ringwright.choose.match_notes import match_notes

_KEYS = {
    "diameter": "best.diameter_m", "squash": "best.squash", "clearance": "best.clearance_m", "tap_at": "best.tap_at_m",
    "turns": "best.turns",
}  # fmt: skip


def match_html(found: CouplingMatch) -> str:
    """Sizes, one row a band, notes."""
    swr = COUPLING_FIGURES["best.bands.swr_min"]
    capacitance = COUPLING_FIGURES["best.bands.capacitance_f"]
    rows = [
        (
            best.target.band or f"{best.target.frequency / 1e6:.6g} MHz",
            swr.text(now.swr_min),
            swr.text(best.swr_min),
            "more than a match" if best.is_over_coupled else "less than a match",
            capacitance.text(best.capacitance),
        )
        for now, best in zip(found.now.bands, found.best.bands, strict=True)
    ]
    heads = (
        "band",
        f"{swr.label} as declared",
        f"{swr.label} as found",
        "coupling as found",
        capacitance.label,
    )
    return card(
        f"{found.design.name}: one coupling for all bands",
        paragraph("; ".join(_sizes(found))),
        table(heads, rows),
        listed(note.text for note in match_notes(found)),
    )


def _sizes(found: CouplingMatch) -> Iterator[str]:
    """What was varied, as declared and as found."""
    coupling = found.best.coupling
    for name in found.varied:
        figure = COUPLING_FIGURES[_KEYS[name]] if name in _KEYS else None
        if figure is None:
            yield f"place {coupling.place.value}"
        else:
            before = figure.text(value_of(found.design.coupling, name))
            yield f"{figure.label} {figure.text(value_of(coupling, name))}, now {before}"
    worst = COUPLING_FIGURES["best.swr_worst"]
    yield f"{worst.label} {worst.text(found.best.swr_worst)}, now {worst.text(found.now.swr_worst)}"
