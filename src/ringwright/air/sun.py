# SPDX-License-Identifier: BSD-3-Clause
"""How high the sun stands, so that a report lies in day, night or the grey line between them.

The low-accuracy position of the sun of Meeus, Astronomical Algorithms (2nd ed., Willmann-Bell, 1998), chapter 25:
within 0.01 degree. UTC is taken for dynamical time, which moves the sun by 0.0008 degree.
"""

from enum import Enum

import numpy as np
from numpy.typing import NDArray

from ringwright.physics.checks import FloatArray

GREY_LINE_DEG = 6.0
"""The sun this close to the horizon, above or below: to the end of civil twilight, and as much after sunrise (common
practice, no source)."""
_J2000 = 946_728_000.0
"""Seconds of 2000-01-01 12:00 UTC since 1970."""
_DAY = 86_400.0


class Light(Enum):
    """What the sky above a station is."""

    NIGHT = 0
    GREY_LINE = 1
    DAY = 2


def sun_position(time: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Apparent right ascension and declination [rad] at `time` [s since 1970, UTC]."""
    t = (np.asarray(time, dtype=float) - _J2000) / (_DAY * 36_525.0)  # Meeus 25.1, Julian centuries
    mean = 280.46646 + 36_000.76983 * t + 0.0003032 * t**2  # 25.2
    anomaly = np.deg2rad(357.52911 + 35_999.05029 * t - 0.0001537 * t**2)  # 25.3
    centre = (
        (1.914602 - 0.004817 * t - 0.000014 * t**2) * np.sin(anomaly)
        + (0.019993 - 0.000101 * t) * np.sin(2.0 * anomaly)
        + 0.000289 * np.sin(3.0 * anomaly)
    )
    node = np.deg2rad(125.04 - 1934.136 * t)
    longitude = np.deg2rad(mean + centre - 0.00569 - 0.00478 * np.sin(node))
    obliquity = np.deg2rad(23.4392911 - 0.0130042 * t + 0.00256 * np.cos(node))  # 22.2 and 25.8
    ascension = np.arctan2(np.cos(obliquity) * np.sin(longitude), np.cos(longitude))  # 25.6
    return np.asarray(ascension), np.asarray(np.arcsin(np.sin(obliquity) * np.sin(longitude)))  # 25.7


def sun_elevation(time: FloatArray, latitude: FloatArray, *, longitude: FloatArray) -> FloatArray:
    """Height of the sun's middle over the horizon [deg], without the air's bending.

    `time` [s since 1970, UTC], `latitude` and `longitude` (east) [deg] broadcast together.
    """
    ascension, declination = sun_position(time)
    days = (np.asarray(time, dtype=float) - _J2000) / _DAY
    turned = np.deg2rad((280.46061837 + 360.98564736629 * days) % 360.0 + longitude)  # Meeus 12.4
    phi, hour = np.deg2rad(latitude), turned - ascension
    height = np.sin(phi) * np.sin(declination) + np.cos(phi) * np.cos(declination) * np.cos(hour)  # 13.6
    return np.asarray(np.rad2deg(np.arcsin(np.clip(height, -1.0, 1.0))))


def light(elevation: FloatArray) -> NDArray[np.int8]:
    """`Light` as its number for each height of the sun [deg]."""
    is_day, is_grey = elevation > GREY_LINE_DEG, np.abs(elevation) <= GREY_LINE_DEG
    return np.where(
        is_day, Light.DAY.value, np.where(is_grey, Light.GREY_LINE.value, Light.NIGHT.value)
    ).astype(np.int8)
