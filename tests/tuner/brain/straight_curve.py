# SPDX-License-Identifier: BSD-3-Clause
"""A tuning curve that is a straight line, with a temperature that shifts it."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class StraightCurve:
    at_zero: float
    per_step: float
    spread: float
    per_kelvin: float = -100.0

    def frequency(self, position, temperature_c):
        warmth = 0.0 if temperature_c is None else temperature_c - 20.0
        return self.at_zero + self.per_step * position + self.per_kelvin * warmth

    def position(self, frequency, temperature_c):
        warmth = 0.0 if temperature_c is None else temperature_c - 20.0
        return (frequency - self.per_kelvin * warmth - self.at_zero) / self.per_step

    def sigma(self, frequency):
        return self.spread
