# SPDX-License-Identifier: BSD-3-Clause
"""How warm the ring gets while one transmits, and when its drift leaves the tuning."""

import math
from dataclasses import dataclass

from ringwright.antenna.design import ConductorKind, Design
from ringwright.antenna.drive import MATCHED_WIDTH
from ringwright.antenna.drive_resolution import SHARE_OF_WIDTH
from ringwright.antenna.geometry import Address, Wires
from ringwright.antenna.metals import metal_of
from ringwright.antenna.prediction import BandPrediction
from ringwright.physics.heat import cylinder_temperature_rise
from ringwright.physics.warming import warming_time
from ringwright.safety.mechanics.masses import conductor_length, mass_per_metre


@dataclass(frozen=True, slots=True, kw_only=True)
class Warmth:
    """On one band, at the mode's average power, transmitting without a pause.

    `heat` [W] in ring and joints, `final_rise` [K] in still air, `drift` [Hz] then, `drift_allowed` [Hz] a tenth of the
    width at SWR 2, None where the ring has no width; `time_to_drift` [s] until that, None where it never gets so warm.
    """

    band: str | None
    frequency: float
    heat: float
    final_rise: float
    drift: float
    drift_allowed: float | None
    time_to_drift: float | None


def find_warmth(design: Design, band: BandPrediction, wires: Wires) -> Warmth:
    """Of the ring's metal; what the capacitor drifts by itself comes on top, either way."""
    conductor = design.ring.conductor
    share = band.watts_pct.ring + band.watts_pct.joints
    heat = design.power * design.mode_factor * share / 100.0
    length = conductor_length(wires, Address.RING)
    rise = float(cylinder_temperature_rise(heat, diameter=_surface_diameter(design), length=length))
    capacity = mass_per_metre(conductor) * length * metal_of(conductor.material).specific_heat
    width = MATCHED_WIDTH * band.bandwidth_half_power if band.bandwidth_swr2 is None else band.bandwidth_swr2
    allowed = SHARE_OF_WIDTH * width if width > 0.0 else None
    per_kelvin = abs(band.tuning.drift_per_kelvin)
    seconds = math.inf
    if allowed is not None and heat > 0.0 and rise > 0.0 and per_kelvin > 0.0:
        seconds = float(
            warming_time(allowed / per_kelvin, power=heat, heat_capacity=capacity, final_rise=rise)
        )
    return Warmth(
        band=band.band,
        frequency=band.frequency,
        heat=heat,
        final_rise=rise,
        drift=-per_kelvin * rise,
        drift_allowed=allowed,
        time_to_drift=seconds if math.isfinite(seconds) else None,
    )


def _surface_diameter(design: Design) -> float:
    """Of the round conductor with the same surface [m]."""
    conductor = design.ring.conductor
    if conductor.kind is ConductorKind.STRIP:
        assert conductor.width is not None
        assert conductor.thickness is not None
        return 2.0 * (conductor.width + conductor.thickness) / math.pi
    assert conductor.diameter is not None
    return conductor.diameter
