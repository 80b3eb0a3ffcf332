# SPDX-License-Identifier: BSD-3-Clause
"""A sweep of 10,001 points, from its bytes to Q with its interval."""

from collections.abc import Callable

import numpy as np

from ringwright.proof.files import parse_sweep
from ringwright.proof.resonance_fit import fit_resonance

POINTS = 10_001
Q, COUPLING, FREQUENCY = 800.0, 0.8, 7.1e6


def _file(span: float) -> bytes:
    """A textbook resonance over `span` [Hz] with noise, as an analyser writes it."""
    f = np.linspace(FREQUENCY - span / 2.0, FREQUENCY + span / 2.0, POINTS)
    rng = np.random.default_rng(10_001)
    x = Q / (1.0 + COUPLING) * (f / FREQUENCY - FREQUENCY / f)
    s = 1.0 - 2.0 * COUPLING / (1.0 + COUPLING) / (1.0 + 1j * x)
    s = 0.98 * s * np.exp(-2j * np.pi * 1e-7 * f) + 1e-3 * (
        rng.normal(size=POINTS) + 1j * rng.normal(size=POINTS)
    )
    rows = (f"{a:.0f} {z.real:.7f} {z.imag:.7f}" for a, z in zip(f, s, strict=True))
    return ("# Hz S RI R 50\n" + "\n".join(rows) + "\n").encode()


def bench_reading() -> Callable[[], object]:
    """Read a sweep file of 10,001 points."""
    content = _file(160e3)
    return lambda: parse_sweep(content, source="sweep.s1p")


def bench_reading_and_fitting() -> Callable[[], object]:
    """Read and fit a sweep file of 10,001 points, ten widths across."""
    content = _file(160e3)
    return lambda: fit_resonance(parse_sweep(content, source="sweep.s1p"))


def bench_wide() -> Callable[[], object]:
    """Read and fit a sweep file of 10,001 points, a hundred widths across."""
    content = _file(1.6e6)
    return lambda: fit_resonance(parse_sweep(content, source="sweep.s1p"))
