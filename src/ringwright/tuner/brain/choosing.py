# SPDX-License-Identifier: BSD-3-Clause
"""Which of the readings heard on a way a fit rests on: the few that say most of where the centre is.

A glide brings dozens, most of them far from the dip, where they all say the same. What is chosen here is what counts as
a reading used.
"""

from ringwright.tuner.brain.dip import Reading
from ringwright.tuner.brain.fit import LEAST_SIGMA, Fit

SEEN_EXCESS = 5.0
SEEN_SIGMA = 1.2
"""A dip is seen when it explains the readings e^5 times better than none, to about a half-width."""
OF_A_FLANK = 5
"""Readings of each flank: what is alike on both, as the diodes' law, then shifts the centre neither way."""
RECENT, DEEPEST = 6, 4
"""While no dip is seen: the newest, and of those before the ones with least reflected."""
NOISE = 0.045
"""Noise that readings are compared by, of reflected over forward power."""


def is_seen(fit: Fit) -> bool:
    """Whether a dip was seen, and about where."""
    return fit.excess > SEEN_EXCESS and fit.sigma < SEEN_SIGMA


def chosen(readings: tuple[Reading, ...], fit: Fit | None) -> tuple[Reading, ...]:
    """Those that the next fit rests on, in their order; `fit`: the one before the newest reading."""
    numbers = _blind(readings) if fit is None or not is_seen(fit) else _telling(readings, fit)
    return tuple(readings[number] for number in sorted(numbers))


def _blind(readings: tuple[Reading, ...]) -> set[int]:
    past = range(max(len(readings) - RECENT, 0))
    deep = sorted(past, key=lambda number: readings[number].reflection)[:DEEPEST]
    return {*deep, *range(len(past), len(readings))}


def _telling(readings: tuple[Reading, ...], fit: Fit) -> set[int]:
    """The most telling of each flank, the deepest, the newest, and the one farthest off for the floor."""
    numbers = range(len(readings))
    worth = [_worth(reading, fit) for reading in readings]
    best = sorted(numbers, key=lambda number: -worth[number])
    below = [number for number in best if _middle(readings[number]) < fit.centre]
    above = [number for number in best if _middle(readings[number]) >= fit.centre]
    deepest = min(numbers, key=lambda number: readings[number].reflection)
    kept = {*below[:OF_A_FLANK], *above[:OF_A_FLANK], deepest, len(readings) - 1}
    farthest = max(
        (number for number in numbers if number not in kept),
        key=lambda number: abs(readings[number].detunings[1] - fit.centre),
        default=None,
    )
    return kept if farthest is None else {*kept, farthest}


def _middle(reading: Reading) -> float:
    return 0.5 * (reading.detunings[0] + reading.detunings[1])


def _worth(reading: Reading, fit: Fit) -> float:
    """What a reading tells of the centre: one over the variance it would have by itself."""
    x = (_middle(reading) - fit.centre) / fit.width
    lorentz = 1.0 / (1.0 + x * x)
    slope = 2.0 * fit.depth * x * lorentz * lorentz / fit.width
    noise = NOISE * max(fit.floor - fit.depth * lorentz, 0.01)
    return slope * slope / (noise * noise + LEAST_SIGMA**2 + (slope * reading.blur) ** 2)
