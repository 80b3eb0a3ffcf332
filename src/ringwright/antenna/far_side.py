# SPDX-License-Identifier: BSD-3-Clause
"""What leaves the wires: into the sky, into the earth, and in which directions."""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.design import Earth
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.physics.far_field import (
    FieldAt,
    current_elements,
    free_space_field,
    sphere_order,
    sphere_power,
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FarSide:
    """Rms far field `field_at` [V] from `lowest_elevation` [rad] up, power into the sky [W] and into the earth [W].

    `earth` is None in free space.
    """

    field_at: FieldAt
    lowest_elevation: float
    sky: float
    earth: float | None


def far_side(point: OperatingPoint, *, earth: Earth | None) -> FarSide:
    """What leaves a tuned ring at power; nothing of it is taken from the input, so that the budget can be checked."""
    points, moments = current_elements(point.wires.graph, point.current)
    frequency = point.target.frequency
    field_at = free_space_field(points, moments, frequency)
    return FarSide(
        field_at=field_at,
        lowest_elevation=-np.pi / 2.0,
        sky=sphere_power(field_at, sphere_order(points, frequency)),
        earth=None,
    )
