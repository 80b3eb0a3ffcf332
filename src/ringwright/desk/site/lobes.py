# SPDX-License-Identifier: BSD-3-Clause
"""Where a ring fires and hears on its site, as lines to draw, in azimuths and in true bearings."""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.design import Design
from ringwright.antenna.directions import Null, azimuth_cut, elevation_cut, nulls, sphere, true_bearing
from ringwright.antenna.far_side import FarSide
from ringwright.antenna.pattern import Pattern
from ringwright.desk.site.zones import Cut
from ringwright.physics.graph import FloatArray

SPHERE_STEP = 5.0  # [deg], smooth on a screen
ROUND = 360  # places of the cut round the horizon, a degree apart


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lobes:
    """Power gains [dBi]; `pattern` has the strongest direction, `bearing_deg` its true bearing.

    `over`: over the zenith in the section's plane, at angles `over_angle` [deg] from its right hand; `around`: round
    the horizon at `elevation_deg`, one a degree from the x axis towards y. `nulls` are the dips of `around`, the
    deepest first; `quietest` is its weakest direction, dip enough for a null or not. `towards` is the direction of
    the noise source.
    """

    over_angle: FloatArray
    over: FloatArray
    elevation_deg: float
    around: FloatArray
    pattern: Pattern
    bearing_deg: float
    nulls: tuple[Null, ...]
    quietest: Null
    towards: Null | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sphere:
    """Gains [dBi] in space, shape (elevations, azimuths), at angles [deg]."""

    elevation: FloatArray
    azimuth: FloatArray
    gain: FloatArray


def lobes(
    design: Design,
    far: FarSide,
    pattern: Pattern,
    *,
    section: Cut,
    elevation_deg: float,
    noise: float | None,
) -> Lobes:
    """Lines and dips; `noise` is the true bearing [deg] of a source of noise."""
    right = float(np.rad2deg(np.arctan2(section.right[1], section.right[0])))
    angle, over = elevation_cut(far, design.power, right)
    azimuth, around = azimuth_cut(far, design.power, elevation_deg, steps=ROUND)
    depth = around.max() - around
    x_bearing = float(np.rad2deg(design.site.x_bearing))

    def toward(azimuth_deg: float) -> Null:
        return Null(
            azimuth_deg=azimuth_deg % 360.0,
            bearing_deg=true_bearing(design, azimuth_deg),
            depth_db=float(np.interp(azimuth_deg, azimuth, depth, period=360.0)),
        )

    return Lobes(
        over_angle=angle,
        over=over,
        elevation_deg=elevation_deg,
        around=around,
        pattern=pattern,
        bearing_deg=true_bearing(design, pattern.azimuth_deg),
        nulls=tuple(nulls(design, far, elevation_deg)),
        quietest=toward(float(azimuth[np.argmax(depth)])),
        towards=None if noise is None else toward(x_bearing - noise),
    )


def in_space(design: Design, far: FarSide) -> Sphere:
    """Gains over the whole sky, and below the horizon in free space."""
    elevation, azimuth, gain = sphere(far, design.power, step_deg=SPHERE_STEP)
    return Sphere(elevation=elevation, azimuth=azimuth, gain=gain)
