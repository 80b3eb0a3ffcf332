# SPDX-License-Identifier: BSD-3-Clause
"""The sizes at which the worst of several misses is smallest.

A miss is the logarithm of an SWR, positive where the coupling takes too much and negative where it takes too little.
Unlike the SWR it has no edge at the match, and over the logarithm of a size it is nearly straight, so that the worst
of several is brought down by a few linear programs, each within the reach in which straight lines held so far.
"""

from collections.abc import Callable, Sequence

import numpy as np

from ringwright.physics.graph import FloatArray

Misses = Callable[[tuple[float, ...]], FloatArray | None]
"""From sizes to the miss of every band; None where nothing can be built."""

PROBE = 0.03
"""Share by which a size is changed to learn its slope: far above the 0.1 mm to which a loop's place is found."""
FIRST_REACH, MOST_REACH, LEAST_REACH = 0.3, 0.6, 1e-3
ENOUGH = 5e-4
"""Of the logarithm of an SWR: what is not worth another step."""
MOST_STEPS = 20


def spaced(low: float, high: float, ratio: float) -> list[float]:
    """Sizes from `low` to `high`, each at most `ratio` times the one before."""
    count = int(np.ceil(np.log(high / low) / np.log(ratio))) + 1
    return [float(size) for size in np.geomspace(low, high, count)]


def smallest_worst(
    misses_at: Misses, start: Sequence[float], bounds: Sequence[tuple[float, float]]
) -> tuple[float, ...]:
    """Walk from `start` to where the greatest size of any miss is least.

    Parameters
    ----------
    misses_at : callable
        The misses at given sizes.
    start : sequence of float
        Sizes that can be built.
    bounds : sequence of (float, float)
        Least and greatest of each size.

    Returns
    -------
    tuple of float
        A place from which no straight line leads further down, one of those looked at.
    """
    low, high = np.log(np.asarray(bounds, dtype=float)).T
    place = np.clip(np.log(np.asarray(start, dtype=float)), low, high)

    def look(logs: FloatArray) -> FloatArray | None:
        return misses_at(tuple(float(size) for size in np.exp(logs)))

    here = look(place)
    slopes, reach = None, FIRST_REACH
    for _ in range(MOST_STEPS):
        if here is None or reach < LEAST_REACH:
            break
        if slopes is None:
            slopes = _slopes(look, place, here, room=high - place)
        step, promised = _step(
            here, slopes, low=np.maximum(low - place, -reach), high=np.minimum(high - place, reach)
        )
        if promised < ENOUGH:
            break
        there = look(place + step)
        gained = 0.0 if there is None else _worst(here) - _worst(there)
        if gained <= 0.1 * promised:
            reach = 0.4 * float(abs(step).max())
            continue
        place, here, slopes = place + step, there, None
        reach = min(2.0 * reach, MOST_REACH) if gained > 0.75 * promised else reach
    return tuple(float(size) for size in np.exp(place))


def _worst(misses: FloatArray) -> float:
    return float(abs(misses).max())


def _slopes(
    look: Callable[[FloatArray], FloatArray | None], place: FloatArray, here: FloatArray, *, room: FloatArray
) -> FloatArray:
    """Change of each miss (rows) with the logarithm of each size (columns); 0 where no neighbour can be built."""
    slopes = np.zeros((len(here), len(place)))
    for number in range(len(place)):
        sides = (PROBE, -PROBE) if room[number] > PROBE else (-PROBE,)
        for side in sides:
            aside = place.copy()
            aside[number] += side
            there = look(aside)
            if there is not None:
                slopes[:, number] = (there - here) / side
                break
    return slopes


def _step(
    here: FloatArray, slopes: FloatArray, *, low: FloatArray, high: FloatArray
) -> tuple[FloatArray, float]:
    """The step between `low` and `high` that straight lines promise most from, and by how much the worst sinks."""
    from scipy.optimize import linprog  # a tenth of a second that only a search needs

    greatest = np.ones((len(here), 1))
    found = linprog(
        np.append(np.zeros(len(low)), 1.0),
        A_ub=np.block([[slopes, -greatest], [-slopes, -greatest]]),
        b_ub=np.concatenate([-here, here]),
        bounds=[*zip(low, high, strict=True), (0.0, None)],
    )
    assert found.x is not None, "to stay is always possible"
    return np.asarray(found.x[:-1]), _worst(here) - float(found.x[-1])
