# SPDX-License-Identifier: BSD-3-Clause
"""Counts of steps and detunings in expected half-widths, by the tuning curve."""

from ringwright.tuner.brain.fit import Prior
from ringwright.tuner.brain.state import Search
from ringwright.tuner.brain.turn import Turn

OUTSIDE = 3.0
"""Half-widths beyond the window of a search at which a dip still shows in it."""


def to_detuning(turn: Turn, search: Search, count: float) -> float:
    """Detuning at a count by the curve, in half-widths, growing with the count."""
    curve = turn.state.curve
    found = curve.frequency(count - search.turn_offset, search.temperature_c) - search.frequency
    return _way(turn, search) * found / search.band.half_width


def to_count(turn: Turn, search: Search, detuning: float) -> float:
    """The count that has a detuning."""
    frequency = search.frequency + _way(turn, search) * detuning * search.band.half_width
    return turn.state.curve.position(frequency, search.temperature_c) + search.turn_offset


def _way(turn: Turn, search: Search) -> float:
    curve, place = turn.state.curve, search.expected - search.turn_offset
    up = curve.frequency(place + 1.0, search.temperature_c) > curve.frequency(place, search.temperature_c)
    return 1.0 if up else -1.0


def prior_of(turn: Turn, search: Search) -> Prior:
    """What is believed of this dip before any reading."""
    step = (
        to_detuning(turn, search, search.expected + 5.0) - to_detuning(turn, search, search.expected)
    ) / 5.0
    best = ((search.band.best_swr - 1.0) / (search.band.best_swr + 1.0)) ** 2
    return Prior(
        centre=to_detuning(turn, search, search.expected),
        sigma=max(search.sigma * step, 0.05),
        low=to_detuning(turn, search, search.low) - OUTSIDE,
        high=to_detuning(turn, search, search.high) + OUTSIDE,
        bottom=best,
        noise=turn.state.ring.reading_noise,
        step=step,
    )
