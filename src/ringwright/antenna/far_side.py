# SPDX-License-Identifier: BSD-3-Clause
"""What leaves the wires: into the sky, into the earth, and in which directions."""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.design import Earth
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.antenna.solution import permittivity_of
from ringwright.physics.far_field import (
    FieldAt,
    current_elements,
    free_space_field,
    sphere_order,
    sphere_power,
)
from ringwright.physics.graph import WireGraph
from ringwright.physics.half_space.into_earth import earth_power
from ringwright.physics.half_space.sky import field_over_earth, sky_power
from ringwright.physics.wave_kernel import ComplexArray


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
    return far_side_of(point.wires.graph, point.current, frequency=point.target.frequency, earth=earth)


def far_side_of(graph: WireGraph, current: ComplexArray, *, frequency: float, earth: Earth | None) -> FarSide:
    """The same for any wires; `current` (n_segments, 2) is rms at the start and end of each segment [A]."""
    points, moments = current_elements(graph, current)
    if earth is None:
        field_at = free_space_field(points, moments, frequency)
        sky = sphere_power(field_at, sphere_order(points, frequency))
        return FarSide(field_at=field_at, lowest_elevation=-np.pi / 2.0, sky=sky, earth=None)
    eps_c = permittivity_of(earth, frequency)
    field_at = field_over_earth(points, moments, frequency=frequency, eps_c=eps_c)
    return FarSide(
        field_at=field_at,
        lowest_elevation=0.0,
        sky=sky_power(field_at, points=points, frequency=frequency),
        earth=earth_power(graph, current, frequency=frequency, eps_c=eps_c),
    )
