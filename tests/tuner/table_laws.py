# SPDX-License-Identifier: BSD-3-Clause
"""Laws and antennas that a tuning table is tried on."""

from datetime import UTC, datetime, timedelta

import numpy as np

from ringwright.tuner.table_law import Law
from ringwright.tuner.table_monotone import Monotone
from ringwright.tuner.table_point import Point

BEGIN = datetime(2026, 5, 1, 12, tzinfo=UTC)
INDUCTANCE = 3.7e-6
PER_KELVIN = -9e-6
STEPS = 20_000


def lumped_law(*, low: float = 12e-12, high: float = 504e-12, stray_within: float = 0.0) -> Law:
    """A coil of one inductance with a capacitor of linear law: Thomson's formula."""
    farads = np.linspace(low, high, 41)
    position = np.linspace(0.0, STEPS, 41)
    return Law(
        farads=Monotone(position, farads),
        resonance=Monotone(np.log(farads), np.log(1.0 / (2.0 * np.pi * np.sqrt(INDUCTANCE * farads)))),
        per_kelvin=PER_KELVIN,
        stray_within=stray_within,
    )


def resonance(
    position: float,
    *,
    stray: float = 0.0,
    scale: float = 1.0,
    kelvin: float = 0.0,
    per_kelvin: float = PER_KELVIN,
) -> float:
    """Of the same coil with so much more capacitance and so many times the inductance [Hz]."""
    farads = 12e-12 + (504e-12 - 12e-12) * position / STEPS + stray
    return float((1.0 + per_kelvin * kelvin) / (2.0 * np.pi * np.sqrt(INDUCTANCE * scale * farads)))


def pair(
    position: int,
    frequency: float,
    *,
    hours: float = 0.0,
    temperature: float | None = 20.0,
    site: str = "home",
    spread: float = 100.0,
) -> Point:
    """As it might have been measured."""
    return Point(
        position=position,
        frequency=frequency,
        at=BEGIN + timedelta(hours=hours),
        temperature=temperature,
        site=site,
        spread=spread,
    )
