# SPDX-License-Identifier: BSD-3-Clause
"""How often a fit's intervals hold the truth, over sweeps of several kinds."""

import numpy as np

from ringwright.proof.resonance_fit import fit_resonance
from tests.proof.sweeps import Truth, complex_noise, grid, sweep_of

COVERED = [
    # widths, points, off centre, the truth, noise
    (10.0, 101, 0.0, Truth(cable=10.0, loss=0.02), 1e-3),
    (4.0, 21, 0.3, Truth(q=400.0, coupling=1.0, cable=10.0, loss=0.02), 5e-3),
    (20.0, 21, 0.0, Truth(coupling=2.0, cable=10.0, loss=0.02), 1e-3),
    (40.0, 81, 0.2, Truth(q=1200.0, coupling=0.5, cable=20.0, loss=0.1), 2e-3),
    (2.0, 51, 0.0, Truth(q=600.0, coupling=0.3), 1e-3),
    (8.0, 101, 0.4, Truth(q=250.0, cable=20.0, loss=0.2, power=0.0), 1e-3),
    (8.0, 101, -0.4, Truth(q=250.0, cable=20.0, loss=0.2, power=1.0), 1e-3),
]
FIGURES = ("frequency", "q_loaded", "q_unloaded", "coupling", "swr_min", "bandwidth_half_power")


def tally(
    case: tuple[float, int, float, Truth, float], sweeps: int, rng: np.random.Generator
) -> tuple[list[float], list[float]]:
    """Of each figure: the share of sweeps whose interval held the truth, and the rms of error over half interval."""
    widths, points, off_centre, truth, noise = case
    q, coupling = truth.q, truth.coupling
    expected = (
        truth.frequency, truth.q_loaded, q, coupling, max(coupling, 1 / coupling), truth.frequency / q,
    )  # fmt: skip
    held, errors = np.zeros((sweeps, len(FIGURES))), np.zeros((sweeps, len(FIGURES)))
    for row in range(sweeps):
        f = grid(truth, widths=widths, points=points, off_centre=off_centre)
        f = f + rng.uniform(-0.5, 0.5) * (f[1] - f[0])
        fit = fit_resonance(sweep_of(f, truth.reflection(f) + complex_noise(rng, points, noise)))
        found = [getattr(fit, name) for name in FIGURES]
        held[row] = [e.low <= value <= e.high for e, value in zip(found, expected, strict=True)]
        errors[row] = [
            (e.value - value) / ((e.high - e.low) / 2.0) for e, value in zip(found, expected, strict=True)
        ]
    return list(held.mean(axis=0)), list(np.sqrt((errors**2).mean(axis=0)))
