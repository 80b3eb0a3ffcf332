# SPDX-License-Identifier: BSD-3-Clause
"""Fields against limits: what mode and transmit share make of power, and how many times a limit a field is."""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.design import Design
from ringwright.antenna.site_fields import NearFieldAt
from ringwright.physics.graph import FloatArray
from ringwright.safety.limits import LIMITS, ExposureLimit


def average_power(design: Design) -> float:
    """Mean power while limits average [W]: peak envelope power times mode factor times transmit share."""
    return design.power * design.mode_factor * design.transmit_share


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Yardstick:
    """The limits that hold at a frequency.

    `levels` (rows, 2) are the rms E [V/m] and H [A/m] that just meet them at peak envelope power: at a mean power of
    `duty` times the peak an averaged limit stands 1/sqrt(duty) times its level, an instantaneous one its level.
    """

    rows: tuple[ExposureLimit, ...]
    levels: FloatArray

    @classmethod
    def of(cls, design: Design, frequency: float) -> "Yardstick":
        rows = tuple(row for row in LIMITS if row.covers(frequency))
        duty = average_power(design) / design.power
        room = np.array([1.0 / np.sqrt(duty) if row.is_averaged else 1.0 for row in rows])
        return cls(rows=rows, levels=np.array([row.at(frequency) for row in rows]) * room[:, None])

    def shares(self, field_at: NearFieldAt, points: FloatArray) -> FloatArray:
        """Field over limit at points (n, 3) [m], E and H apart, shape (n, rows, 2)."""
        strengths = [np.sqrt(np.sum(abs(part) ** 2, axis=1)) for part in field_at(points)]
        return np.asarray(np.stack(strengths, axis=1)[:, None, :] / self.levels)
