# SPDX-License-Identifier: BSD-3-Clause
"""What a capacitor stands: from its rated voltage or its plate gap, in the air where it is used.

An arc starts at an edge, a speck of dust or a film of dew, never in the uniform field that a breakdown law is of. What
is taken off for that is practice and no physics: docs/explanation/capacitor.md compares it with spacing lists.
"""

from ringwright.antenna.design import Capacitor
from ringwright.physics.breakdown import SHORTEST_GAP, air_density, uniform_gap_breakdown

RADIO_FREQUENCY = 0.75
"""Of the breakdown at direct current, at some megahertz: 15-25 % less is usual, the larger taken; common practice, no
source."""
EDGES = 0.6
"""For the field at plates' edges, screws and burrs, and for plates that are not quite parallel; common practice, no
source."""
DUST_AND_MOISTURE = 0.75
"""Common practice, no source. Damp air itself stands no less than dry air; a film of dew does."""
ALLOWANCE = RADIO_FREQUENCY * EDGES * DUST_AND_MOISTURE

RATED_VOLTAGE, PLATE_GAP = "rated voltage", "plate gap"
SEALED = ("vacuum",)
"""Kinds that the air outside does not reach."""
TWO_GAPS = ("butterfly", "split-stator")
"""Kinds whose two sections in series are one capacitor."""


def thin_air(altitude: float) -> float:
    """Share that air at `altitude` [m] stands of what it stands at sea level, for the same temperature [1]."""
    return min(1.0, float(air_density(altitude) / air_density(0.0)))


def gaps_in_series(capacitor: Capacitor) -> int:
    """How many plate gaps share the voltage of the variable capacitor."""
    return max(capacitor.sections_in_series, 2 if capacitor.kind in TWO_GAPS else 1)


def stands(capacitor: Capacitor, altitude: float) -> tuple[float | None, str | None]:
    """Peak voltage [V] that the variable capacitor itself stands, and what says so; None where nothing does."""
    if capacitor.rated_voltage is not None:
        share = 1.0 if capacitor.kind in SEALED else thin_air(altitude)
        return capacitor.rated_voltage * share, RATED_VOLTAGE
    if capacitor.plate_gap is None or capacitor.kind in SEALED:
        return None, None
    density = min(1.0, float(air_density(altitude, temperature_c=capacitor.air_temperature_c)))
    if capacitor.plate_gap * density < SHORTEST_GAP:
        return None, None
    uniform = float(uniform_gap_breakdown(capacitor.plate_gap, air_density=density))
    return ALLOWANCE * uniform * gaps_in_series(capacitor), PLATE_GAP
