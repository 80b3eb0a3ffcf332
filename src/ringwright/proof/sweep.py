# SPDX-License-Identifier: BSD-3-Clause
"""A measured sweep as plain values, and what every reader holds its rows to."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum

import numpy as np

from ringwright.errors import SweepFileError
from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.physics.networks import reflection_coefficient
from ringwright.units import format_quantity

MOST_REFLECTED = 1.05
"""A passive ring reflects at most 1. Up to here an excess is noise or calibration, which the fit flags; beyond, the
file is not what it says it is."""
HIGHEST_FREQUENCY = 1e12
"""[Hz]: above it a file has named the wrong unit; without one the Touchstone option line means GHz."""


class SweepKind(Enum):
    """What was measured: reflection with its phase, the size of the reflection alone, or from probe to probe."""

    REFLECTION = "reflection"
    SWR = "swr"
    TRANSMISSION = "transmission"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sweep:
    """One sweep.

    Attributes
    ----------
    source : str
        The file's name as it was given.
    kind : SweepKind
        What `response` is.
    frequency : ndarray of float64, shape (n,)
        Strictly increasing. [Hz]
    response : ndarray of complex128, shape (n,)
        Reflection or transmission coefficient; of an SWR sweep the size of the reflection, its phase being unknown. [1]
    reference : float
        The resistance it refers to. [ohm]
    rounding : ndarray of float64, shape (n,), or None
        Half of the last digit that was written down, as an error of `response`; None where digits are no limit. [1]
    """

    source: str
    kind: SweepKind
    frequency: FloatArray
    response: ComplexArray
    reference: float = 50.0
    rounding: FloatArray | None = None

    def part(self, first: int, last: int) -> "Sweep":
        """Points `first` to `last`, the last one not included."""
        cut = slice(first, last)
        rounding = None if self.rounding is None else self.rounding[cut]
        return replace(self, frequency=self.frequency[cut], response=self.response[cut], rounding=rounding)

    def referred_to(self, reference: float) -> "Sweep":
        """The same reflection to another resistance [ohm]; without its phase, or in transmission, it stays as it is."""
        if self.kind is not SweepKind.REFLECTION or reference == self.reference:
            return self
        # (Z - Z2)/(Z + Z2) with Z = Z1 (1 + G)/(1 - G), written so that an open end divides nothing by zero.
        step = float(reflection_coefficient(reference, reference=self.reference).real)
        response = (self.response - step) / (1.0 - step * self.response)
        return replace(self, response=response, reference=reference)


def checked_sweep(sweep: Sweep, lines: Sequence[int]) -> Sweep:
    """The sweep if its rows are in order, finite and passive; `lines` are their places in the file."""
    if len(lines) == 0:
        raise SweepFileError(sweep.source, 1, "there are no data rows; save the sweep again")
    _check_frequencies(sweep, lines)
    with np.errstate(over="ignore", invalid="ignore"):
        size = abs(sweep.response)
    worst = int(np.argmax(np.where(np.isfinite(size), size, np.inf)))
    if not size[worst] <= MOST_REFLECTED:
        name = "transmission" if sweep.kind is SweepKind.TRANSMISSION else "reflection"
        raise SweepFileError(
            sweep.source,
            lines[worst],
            f"a {name} of {size[worst]:.4g} is more than a passive ring can give, at most {MOST_REFLECTED:g} is read; "
            f"calibrate the analyser and sweep again, or check the columns and their format",
        )
    return sweep


def _check_frequencies(sweep: Sweep, lines: Sequence[int]) -> None:
    f = sweep.frequency
    outside = np.flatnonzero(~((f > 0.0) & (f < HIGHEST_FREQUENCY)))
    if len(outside):
        raise SweepFileError(
            sweep.source,
            lines[outside[0]],
            f"a frequency of {f[outside[0]]:.6g} Hz is no radio frequency; check the unit of frequency that the file "
            f"names",
        )
    steps = np.flatnonzero(~(np.diff(f) > 0.0))
    if len(steps):
        row = int(steps[0]) + 1
        here, before = (format_quantity(float(f[i]), "MHz", digits=10) for i in (row, row - 1))
        told = "stands twice" if f[row] == f[row - 1] else f"follows {before}"
        raise SweepFileError(
            sweep.source,
            lines[row],
            f"the frequency {here} {told}; rows must rise in frequency, so sort them and keep one of each",
        )
