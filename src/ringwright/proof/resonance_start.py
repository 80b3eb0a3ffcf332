# SPDX-License-Identifier: BSD-3-Clause
"""Where in a sweep the resonance lies and how wide it is, well enough for the fit to start from."""

import numpy as np

from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.proof.resonance_model import Resonance

POINTS_OF_SEARCH = 200
LONGEST_DELAY = 1.2e-6
"""[s], there and back: 120 m of cable with a velocity factor of 0.66."""
_OFFSETS = np.array([-1.0, -0.5, 0.0, 0.5, 1.0])
_WIDTHS = 2.0 ** np.arange(-2.0, 2.6, 0.5)
WINDOW = 10.0  # guessed widths to either side


def find_dip(frequency: FloatArray, height: FloatArray) -> tuple[float, float]:
    """Centre and rough width [Hz] of what stands out of `height` (n,): the box that holds it least by chance.

    The excess of a box of m points over the sweep's background counts times the root of m, as noise would.
    """
    n = len(height)
    total = np.concatenate([[0.0], np.cumsum(_above_background(frequency, height))])
    best = (-np.inf, 0, n)
    size = 1
    while size <= max(n // 2, 1):
        excess = (total[size:] - total[:-size]) / np.sqrt(size)
        first = int(np.argmax(excess))
        best = max(best, (float(excess[first]), first, size))
        size = max(size + 1, round(1.3 * size))
    _, first, size = best
    last = min(first + size, n) - 1
    centre = (frequency[first] + frequency[last]) / 2.0
    step = np.ptp(frequency) / max(n - 1, 1)
    return float(centre), float(max(frequency[last] - frequency[first], step))


def _above_background(frequency: FloatArray, height: FloatArray) -> FloatArray:
    """What is left above a line in the root of frequency, as a cable's loss runs: least absolute deviations."""
    columns = np.stack([np.ones_like(frequency), np.sqrt(frequency / frequency[-1])], axis=1)
    least = 1e-3 * float(np.ptp(height)) or 1.0
    left = height - np.median(height)
    for _ in range(8):  # least squares, each point weighted by the inverse of its last deviation
        weight = 1.0 / np.sqrt(np.maximum(abs(left), least))
        line = np.linalg.lstsq(columns * weight[:, None], height * weight, rcond=None)[0]
        left = height - columns @ line
    return np.asarray(left)


def around(frequency: FloatArray, centre: float, reach: float, *, fewest: int) -> tuple[int, int]:
    """First and last + 1 of the points within `reach` [Hz] of `centre`, more where these would be too few."""
    first, last = np.searchsorted(frequency, [centre - reach, centre + reach])
    n = len(frequency)
    while last - first < min(fewest, n):
        if last == n or (first > 0 and centre - frequency[first - 1] < frequency[last] - centre):
            first -= 1
        else:
            last += 1
    return int(first), int(last)


def start_values(frequency: FloatArray, response: ComplexArray, *, centre: float, width: float) -> Resonance:
    """The best of a lattice of resonances, delays and widths; with these fixed the rest is a linear fit."""
    every = -(-len(frequency) // POINTS_OF_SEARCH)
    f, s = frequency[::every], response[::every]
    offset = (f - centre) / max(float(np.ptp(f)), 1e-9)
    # A linear term takes up to a radian of the cable's turn across the window, the lattice the whole radians.
    step = 1.0 / (np.pi * float(np.ptp(f)))
    best: tuple[float, Resonance] | None = None
    for delay in np.arange(0.0, LONGEST_DELAY + step, step)[:64]:
        turned = s * np.exp(2j * np.pi * delay * (f - centre))
        found = _best_of_lattice(f, turned, offset=offset, centre=centre, width=width)
        rest, resonance, slope = found
        if best is None or rest < best[0]:
            more = -(slope / resonance.off).imag / (2.0 * np.pi * float(np.ptp(f))) if resonance.off else 0.0
            turn = np.exp(-2j * np.pi * (delay + more) * (resonance.frequency - centre))
            best = (
                rest,
                Resonance(
                    frequency=resonance.frequency,
                    q_loaded=resonance.q_loaded,
                    off=resonance.off * turn,
                    diameter=resonance.diameter * turn,
                    delay=float(delay + more),
                ),
            )
    assert best is not None
    return best[1]


def _best_of_lattice(
    f: FloatArray, s: ComplexArray, *, offset: FloatArray, centre: float, width: float
) -> tuple[float, Resonance, complex]:
    """Least sum of squares, its resonance, and the slope per `offset`."""
    widths, shifts = (each.ravel() for each in np.meshgrid(width * _WIDTHS, width * _OFFSETS))
    resonances = centre + shifts
    x = 2.0 * (f - resonances[:, None]) / widths[:, None]
    swing = 1.0 / (1.0 + 1j * x)
    columns = np.stack(np.broadcast_arrays(np.ones_like(swing), offset, swing), axis=2)
    conjugate = columns.conj().transpose(0, 2, 1)
    normal = conjugate @ columns
    normal += 1e-9 * np.trace(normal, axis1=1, axis2=2).real[:, None, None] * np.eye(3)
    solved = np.linalg.solve(normal, conjugate @ s[None, :, None])
    rest = np.sum(abs(s - (columns @ solved)[:, :, 0]) ** 2, axis=1)
    k = int(np.argmin(rest))
    off, slope, diameter = (complex(value) for value in solved[k, :, 0])
    resonance = Resonance(
        frequency=float(resonances[k]),
        q_loaded=float(max(resonances[k], f[0]) / widths[k]),
        off=off,
        diameter=diameter,
        delay=0.0,
    )
    return float(rest[k]), resonance, slope
