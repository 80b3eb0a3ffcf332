# SPDX-License-Identifier: BSD-3-Clause
"""A comparison on the air for notebooks: the verdict, its interval on a scale of decibels, what would sharpen it."""

import math

from ringwright.air.comparison import Comparison
from ringwright.air.sentences import comparison_notes
from ringwright.air.verdict import more, verdict
from ringwright.antenna.charts.notebook import Markup, card, listed, paragraph

_WIDTH, _HEIGHT, _EDGE = 340.0, 56.0, 12.0
_LEAST_SPAN = 6.0
"""[dB] to either side of 0 that the scale has at least: an S-point."""


def comparison_html(found: Comparison) -> str:
    """Nothing that could hurt leads from here."""
    scale = [] if found.found is None else [_scale(found.found.value, found.found.low, high=found.found.high)]
    return card(
        f"{found.first} against {found.second}",
        paragraph(f"{verdict(found)} {more(found)}"),
        *scale,
        listed(comparison_notes(found)),
        cautions=(),
    )


def _scale(value: float, low: float, *, high: float) -> Markup:
    """The interval as a bar about its value, with 0 where neither is better; ink is the notebook's."""
    span = max(_LEAST_SPAN, 2.0 * math.ceil(max(abs(low), abs(high)) / 2.0))

    def at(decibels: float) -> str:
        return f"{_WIDTH / 2.0 + (_WIDTH / 2.0 - _EDGE) * decibels / span:.1f}"

    step = 2 if span <= 8.0 else 5 if span <= 20.0 else 20
    marks = [tick for tick in range(-int(span), int(span) + 1) if tick % step == 0]
    ticks = "".join(
        f'<path d="M{at(tick)} 30v5" stroke="currentColor"/>{_number(tick, at(tick))}' for tick in marks
    )
    told = f"{value:+.1f} dB, {low:+.1f} to {high:+.1f} dB"
    return Markup(
        f'<svg role="img" aria-label="{told}" width="{_WIDTH:g}" height="{_HEIGHT:g}" '
        f'viewBox="0 0 {_WIDTH:g} {_HEIGHT:g}">'
        f'<path d="M{_EDGE:g} 30H{_WIDTH - _EDGE:g}" stroke="currentColor" stroke-opacity=".5"/>'
        f'<path d="M{at(0.0)} 4v31" stroke="currentColor" stroke-dasharray="2 2"/>{ticks}'
        f'<path d="M{at(low)} 16H{at(high)}" stroke="#D55E00" stroke-width="8" stroke-opacity=".6"/>'
        f'<circle cx="{at(value)}" cy="16" r="5" fill="currentColor"/></svg>'
    )


def _number(tick: int, place: str) -> str:
    words = f"{tick:+d}" if tick else "0"
    return f'<text x="{place}" y="48" text-anchor="middle" font-size="11" fill="currentColor">{words}</text>'
