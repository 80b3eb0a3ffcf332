# SPDX-License-Identifier: BSD-3-Clause
"""Where the power goes: the strongest direction, and the gain at a low angle."""

from dataclasses import dataclass

import numpy as np

from ringwright.physics.far_field import FieldAt, intensity

LOW_ANGLE = np.deg2rad(20.0)
ZENITH = np.deg2rad(89.9)
"""Above it an azimuth means nothing and is given as 0."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """Power gains over an isotropic radiator fed with the accepted power.

    `gain_max_dbi` lies at `elevation_deg`, `azimuth_deg` (from x towards y); `gain_20deg_dbi` is the best over
    azimuth at 20 degrees elevation.
    """

    gain_max_dbi: float
    elevation_deg: float
    azimuth_deg: float
    gain_20deg_dbi: float


def find_pattern(field_at: FieldAt, power: float, *, lowest_elevation: float) -> Pattern:
    """Strongest direction by a coarse grid and four zooms; `power` [W] is what the feed accepted.

    `lowest_elevation` [rad]: -pi/2 in free space, 0 over earth.
    """
    step = np.deg2rad(15.0)
    elevation = np.arange(lowest_elevation, np.pi / 2.0 + 1e-9, step)
    azimuth = np.arange(0.0, 2.0 * np.pi - 1e-9, step)
    for zoom in range(5):
        up, around = np.meshgrid(np.clip(elevation, lowest_elevation, np.pi / 2.0), azimuth, indexing="ij")
        found = intensity(field_at(up.ravel(), around.ravel()))
        # Of directions equal to rounding the first counts, so that mirror lobes do not swap from run to run.
        best = int(np.argmax(found > found.max() * (1.0 - 1e-9)))
        centre = up.ravel()[best], around.ravel()[best]
        reach = step / 3.0**zoom
        around_it = min(np.pi, reach / max(np.cos(centre[0]), 1e-3))  # azimuths crowd towards the zenith
        elevation, azimuth = (
            at + np.linspace(-half, half, 7) for at, half in zip(centre, (reach, around_it), strict=True)
        )
    at_low_angle = np.arange(0.0, 2.0 * np.pi, np.deg2rad(10.0))
    low = intensity(field_at(np.full(len(at_low_angle), LOW_ANGLE), at_low_angle)).max()
    return Pattern(
        gain_max_dbi=_dbi(float(found[best]), power),
        elevation_deg=float(np.rad2deg(centre[0])),
        azimuth_deg=0.0 if centre[0] > ZENITH else float(np.round(np.rad2deg(centre[1]), 6) % 360.0),
        gain_20deg_dbi=_dbi(float(low), power),
    )


def _dbi(strength: float, power: float) -> float:
    return float(10.0 * np.log10(4.0 * np.pi * strength / power))
