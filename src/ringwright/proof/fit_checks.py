# SPDX-License-Identifier: BSD-3-Clause
"""What a fit must pass before it is an answer, and whether its residuals are noise."""

import numpy as np

from ringwright.errors import SweepFitError
from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.proof.sweep import Sweep

FEWEST_IN_DIP = 3
LEAST_Q = 5.0
"""Loaded; a ring has fifty and more, a slow bend of a cable or a mast has less."""
NEAR = 0.5
"""Spans beyond the sweep's end up to which a resonance's place is worth telling."""
TELLING = 3.5
"""Standard deviations from which neighbouring residuals that go together are no accident."""


def check_place(sweep: Sweep, *, frequency: float, width: float, least_span: float) -> None:
    """Refuse a resonance outside the sweep, wider than it, or between its points. [Hz], `least_span` in widths."""
    f = sweep.frequency
    if frequency < LEAST_Q * width:
        raise SweepFitError(
            sweep.source,
            "the sweep bends too slowly for a ring's resonance; sweep around the frequency of the dip",
        )
    if f[-1] - f[0] < least_span * width:
        raise SweepFitError(
            sweep.source,
            f"the sweep sees too little of a dip {width / 1e3:.3g} kHz wide; sweep five times as wide",
        )
    if not f[0] < frequency < f[-1]:
        away = max(f[0] - frequency, frequency - f[-1])
        near = f", near {frequency / 1e6:.4g} MHz; sweep around it" if away < NEAR * (f[-1] - f[0]) else ""
        raise SweepFitError(
            sweep.source,
            f"the resonance lies outside the sweep{near or '; sweep around the frequency of the dip'}",
        )
    inside = int(np.count_nonzero(abs(f - frequency) < 2.0 * width))
    if inside < FEWEST_IN_DIP:
        raise SweepFitError(
            sweep.source,
            f"{inside or 'no'} point{' lies' if inside == 1 else 's lie'} in the dip, {FEWEST_IN_DIP} are the least; "
            f"sweep a narrower span around {frequency / 1e6:.5g} MHz",
        )


def neighbours_together(left: ComplexArray | FloatArray) -> float:
    """By how much the variance of a mean is larger than independent residuals would have it; 1 if they are.

    (1 + r)/(1 - r), as of a Markov chain, r being the correlation of neighbours.
    """
    total = float(np.sum(abs(left) ** 2))
    r = float(np.sum(left[1:] * left[:-1].conj()).real) / total if total else 0.0
    values = 2.0 * len(left) if np.iscomplexobj(left) else float(len(left))
    if r * np.sqrt(values) < TELLING:
        return 1.0
    return (1.0 + r) / max(1.0 - r, 1e-3)
