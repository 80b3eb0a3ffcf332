# SPDX-License-Identifier: BSD-3-Clause
"""The pattern in full: cuts for drawing, nulls, true bearings, and a half-wave dipole in the ring's place."""

from dataclasses import dataclass, replace

import numpy as np

from ringwright.antenna.design import Design
from ringwright.antenna.far_side import FarSide, far_side_of
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.antenna.pattern import Pattern, find_pattern
from ringwright.antenna.solution import SolutionMemory
from ringwright.physics.constants import C_0
from ringwright.physics.far_field import intensity
from ringwright.physics.graph import FloatArray, chain

FLOOR_DBI = -60.0
"""Gains are drawn and compared down to here; a deeper null is not resolved by a real site."""
NULL_DEPTH_DB = 10.0
"""A dip this far below the strongest direction of its circle is called a null."""
DIPOLE_SEGMENTS = 40
DIPOLE_RADIUS = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class Null:
    """A direction of little gain: azimuth [deg] from x towards y, true bearing [deg], depth below the best [dB]."""

    azimuth_deg: float
    bearing_deg: float
    depth_db: float


def true_bearing(design: Design, azimuth_deg: float) -> float:
    """Degrees clockwise from true north of an azimuth counted from x towards y."""
    return float((np.rad2deg(design.site.x_bearing) - azimuth_deg) % 360.0)


def gain_dbi(far: FarSide, power: float, *, elevation: FloatArray, azimuth: FloatArray) -> FloatArray:
    """Power gain [dBi] at angles [rad] of one shape, not below `FLOOR_DBI`."""
    strength = intensity(far.field_at(elevation.ravel(), azimuth.ravel())).reshape(elevation.shape)
    return np.asarray(10.0 * np.log10(np.maximum(4.0 * np.pi * strength / power, 10.0 ** (FLOOR_DBI / 10.0))))


def elevation_cut(
    far: FarSide, power: float, azimuth_deg: float, *, steps: int = 91
) -> tuple[FloatArray, FloatArray]:
    """Gain [dBi] over the zenith, from the horizon [deg, 0] at `azimuth_deg` to the one behind [180]."""
    angle = np.linspace(0.0, 180.0, steps)
    behind = angle > 90.0
    elevation = np.deg2rad(np.where(behind, 180.0 - angle, angle))
    azimuth = np.deg2rad(azimuth_deg) + np.where(behind, np.pi, 0.0)
    return angle, gain_dbi(far, power, elevation=elevation, azimuth=azimuth)


def azimuth_cut(
    far: FarSide, power: float, elevation_deg: float, *, steps: int = 120
) -> tuple[FloatArray, FloatArray]:
    """Gain [dBi] round the horizon at `elevation_deg`, azimuths [deg] from x towards y."""
    azimuth = np.arange(steps) * 360.0 / steps
    elevation = np.full(steps, np.deg2rad(elevation_deg))
    return azimuth, gain_dbi(far, power, elevation=elevation, azimuth=np.deg2rad(azimuth))


def sphere(far: FarSide, power: float, *, step_deg: float = 7.5) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Elevations [deg], azimuths [deg] and gains [dBi] (elevation, azimuth) for a picture in space."""
    elevation = np.arange(np.rad2deg(far.lowest_elevation), 90.0 + 1e-9, step_deg)
    azimuth = np.arange(0.0, 360.0 + 1e-9, step_deg)
    up, around = np.meshgrid(np.deg2rad(elevation), np.deg2rad(azimuth), indexing="ij")
    return elevation, azimuth, gain_dbi(far, power, elevation=up, azimuth=around)


def nulls(design: Design, far: FarSide, elevation_deg: float) -> list[Null]:
    """Dips round the horizon at an elevation, deepest first."""
    azimuth, depth = _depth_round(design, far, elevation_deg)
    deeper = (depth > np.roll(depth, 1)) & (depth >= np.roll(depth, -1))
    found = np.flatnonzero(deeper & (depth >= NULL_DEPTH_DB))
    dips = [_towards(design, azimuth[at], depth[at]) for at in found]
    return sorted(dips, key=lambda null: -null.depth_db)


def quietest(design: Design, far: FarSide, elevation_deg: float) -> Null:
    """The weakest direction round the horizon at an elevation, deep enough for a null or not."""
    azimuth, depth = _depth_round(design, far, elevation_deg)
    at = int(np.argmax(depth))
    return _towards(design, azimuth[at], depth[at])


def _depth_round(design: Design, far: FarSide, elevation_deg: float) -> tuple[FloatArray, FloatArray]:
    """Azimuths [deg] and how far the gain there lies below the strongest of them [dB]."""
    azimuth, gain = azimuth_cut(far, design.power, elevation_deg, steps=720)
    return azimuth, gain.max() - gain


def _towards(design: Design, azimuth_deg: float, depth_db: float) -> Null:
    azimuth = float(azimuth_deg)
    return Null(azimuth_deg=azimuth, bearing_deg=true_bearing(design, azimuth), depth_db=float(depth_db))


def dipole_in_its_place(design: Design, point: OperatingPoint, memory: SolutionMemory) -> Pattern:
    """Pattern of the dipole of `dipole_far_side`.

    Raises
    ------
    OutOfRangeError
        As `dipole_far_side`.
    """
    far = dipole_far_side(design, point, memory)
    return find_pattern(far.field_at, design.power, lowest_elevation=far.lowest_elevation)


def dipole_far_side(design: Design, point: OperatingPoint, memory: SolutionMemory) -> FarSide:
    """What a lossless horizontal half-wave dipole sends out, through the ring's centre, along the ring's axis.

    Same solver, earth and power, no metal: what a full-size antenna would do at that height. Both fire the same way.

    Raises
    ------
    OutOfRangeError
        If the frequency is outside what the method over an earth holds for.
    """
    frequency = point.target.frequency
    level = np.array([point.wires.axis[0], point.wires.axis[1], 0.0])
    along = level / np.linalg.norm(level) if np.linalg.norm(level) > 0.5 else np.array([0.0, 1.0, 0.0])
    places = (np.arange(DIPOLE_SEGMENTS + 1) / DIPOLE_SEGMENTS - 0.5) * C_0 / frequency / 2.0
    graph = chain(point.wires.centre + places[:, None] * along, radius=DIPOLE_RADIUS, closed=False)
    middle = DIPOLE_SEGMENTS // 2
    site = replace(point.wires, joints=(), metal=(), choke=None, core=None, beside=None)
    wires = replace(site, graph=graph, feed=middle, gap=middle + 1)
    solution = memory.solution(wires, np.array([frequency]), design.site.earth)
    # Fed at the first port; the second is closed by the current that leaves no voltage there.
    z = solution.impedance[0]
    ports = np.array([1.0, -z[1, 0] / z[1, 1]])
    accepted = float((z @ ports)[0].real)
    current = solution.current[0] @ ports * np.sqrt(design.power / accepted)
    return far_side_of(graph, current, frequency=frequency, earth=design.site.earth)
