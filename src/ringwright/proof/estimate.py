# SPDX-License-Identifier: BSD-3-Clause
"""A measured value with its 95 % interval, and a word about the measurement."""

import math
from dataclasses import dataclass

import numpy as np
from scipy.special import stdtrit

from ringwright.physics.checks import FloatArray

COVERED = 0.95


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """A value and the ends of the interval that holds the true one in 95 of 100 measurements."""

    value: float
    low: float
    high: float

    @classmethod
    def exact(cls, value: float) -> "Estimate":
        return cls(value=value, low=value, high=value)

    @classmethod
    def additive(cls, value: float, spread: float) -> "Estimate":
        """Value plus or minus `spread`."""
        return cls(value=value, low=value - spread, high=value + spread)

    @classmethod
    def factor(cls, value: float, spread: float) -> "Estimate":
        """Of a positive value whose logarithm is known to `spread`."""
        return cls(value=value, low=value * math.exp(-spread), high=value * math.exp(spread))

    @property
    def log_spread(self) -> float:
        """Half the interval of the logarithm; the value is positive."""
        return math.log(self.high / self.low) / 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag:
    """Something about a sweep that the person should know: a word for programs, a sentence for people."""

    code: str
    text: str


def half_width(gradient: FloatArray, covariance: FloatArray, freedom: float) -> float:
    """Half of the 95 % interval of a quantity, from its derivatives by the parameters; Student's t."""
    variance = max(float(gradient @ covariance @ gradient), 0.0)
    return float(stdtrit(freedom, 0.5 + COVERED / 2.0) * np.sqrt(variance))


def swr_estimate(size: Estimate) -> Estimate:
    """Of a signed reflection near a match, whose sign says on which side of it the dip lies."""
    ends = sorted((abs(size.low), abs(size.high)))
    smallest = 0.0 if size.low < 0.0 < size.high else ends[0]
    value, low, high = (_swr(g) for g in (abs(size.value), smallest, ends[1]))
    return Estimate(value=value, low=low, high=high)


def _swr(size: float) -> float:
    size = min(size, 1.0 - 1e-6)
    return (1.0 + size) / (1.0 - size)
