# SPDX-License-Identifier: BSD-3-Clause
"""Readings of a ring computed from its series resonance, by numerical integration and without the brain's formulas."""

import numpy as np

from ringwright.tuner.brain import Reading

EVEN, REST = (5 / 18, 4 / 9, 5 / 18, 0.0), (0.0, 0.0, 0.0, 1.0)


def reading(start, end, *, centre, width, coupling=1.0, knee=0.0, noise=0.0, rng=None, power=4.0):
    """What a diode meter shows while a ring goes from `start` to `end`, detunings in expected half-widths.

    The input impedance of a series resonance through a coupling is R / (1 + jy) (D. M. Pozar, Microwave Engineering,
    sec. 6.6), so that half of the depth is left at y = 1 + R/Z0. Above SWR 3 the transmitter folds back.
    """
    y = (np.linspace(start, end, 401) - centre) / width * (1.0 + coupling)
    impedance = coupling / (1.0 + 1j * y)
    share = np.abs((impedance - 1.0) / (impedance + 1.0)) ** 2
    forward = power * np.minimum(1.0, 0.25 / np.maximum(share, 1e-12))
    shown = []
    for watts in (float(np.mean(forward)), float(np.mean(forward * share))):
        read = watts * watts / (watts + knee) if watts > 0.0 else 0.0
        shown.append(max(0.0, read * (1.0 + (rng.normal(0.0, noise) if rng is not None else 0.0))))
    return Reading(
        start=0,
        end=0,
        detunings=(start, end),
        shares=EVEN if end > start else REST,
        blur=0.04 * (end - start),
        forward=shown[0],
        reflected=shown[1],
        at=0.0,
        taken=0,
    )
