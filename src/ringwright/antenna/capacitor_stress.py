# SPDX-License-Identifier: BSD-3-Clause
"""What the capacitor has to stand at a design's power, part by part, against what it stands."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from ringwright.antenna.capacitor_parts import Shares, lead_inductance
from ringwright.antenna.capacitor_rating import stands, thin_air
from ringwright.antenna.design import Capacitor, Design
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.antenna.prediction import CapacitorFigures
from ringwright.physics.heat import cylinder_temperature_rise

VOLTAGE, CURRENT = "capacitor voltage", "capacitor current"
FIXED, SERIES = "fixed capacitor", "series capacitor"


@dataclass(frozen=True, slots=True, kw_only=True)
class PartStress:
    """One part: its shares of the gap's voltage and current, what it stands [V peak] and carries [A rms] if known."""

    set_by: str | None
    voltage: float
    current: float
    stands: float | None
    carries: float | None

    def stands_at_gap(self) -> float | None:
        """Peak voltage across the gap at which it has all it stands [V]."""
        return None if self.stands is None or self.voltage <= 0.0 else self.stands / self.voltage

    def carries_at_gap(self) -> float | None:
        """RMS current in the gap at which it has all it carries [A]."""
        return None if self.carries is None or self.current <= 0.0 else self.carries / self.current


def part_stresses(capacitor: Capacitor, capacitance: float, *, altitude: float) -> Iterator[PartStress]:
    """Each part that the capacitor has, at a setting of `capacitance` [F] in all."""
    shares = Shares.at(capacitor, capacitance)
    own, set_by = stands(capacitor, altitude)
    yield PartStress(
        set_by=set_by,
        voltage=float(shares.variable_voltage),
        current=float(shares.variable_current),
        stands=own,
        carries=capacitor.rated_current,
    )
    thin = thin_air(altitude)
    for name, part, voltage, current in (
        (FIXED, capacitor.fixed_part, 1.0 if capacitor.fixed > 0.0 else 0.0, float(shares.fixed_current)),
        (SERIES, capacitor.series_part, float(shares.series_voltage), float(shares.variable_current)),
    ):
        if voltage > 0.0:
            rated = part.rated_voltage
            yield PartStress(
                set_by=name,
                voltage=voltage,
                current=current,
                stands=None if rated is None else rated * thin,
                carries=part.rated_current,
            )


def voltage_stood(parts: list[PartStress]) -> tuple[float | None, str | None]:
    """Peak voltage across the gap that every part of known rating stands [V], and which part sets it."""
    known = [(volts, part.set_by) for part in parts if (volts := part.stands_at_gap()) is not None]
    return min(known, key=lambda pair: pair[0]) if known else (None, None)


def power_limits(design: Design, point: OperatingPoint) -> list[tuple[float, str]]:
    """Peak envelope power [W] at which each known rating is met; it goes with the square of voltage and current."""
    parts = list(_parts(design, point))
    volts, _ = voltage_stood(parts)
    allowed = [] if volts is None else [(design.power * (volts / point.gap_voltage_peak) ** 2, VOLTAGE)]
    amperes = [limit for part in parts if (limit := part.carries_at_gap()) is not None]
    if amperes:
        allowed.append((design.power * (min(amperes) / point.gap_current) ** 2, CURRENT))
    return allowed


def capacitor_figures(design: Design, point: OperatingPoint) -> CapacitorFigures:
    """All about the capacitor at one tuned target; heat at the averaged power."""
    capacitor = design.capacitor
    volts, set_by = voltage_stood(list(_parts(design, point)))
    shares = Shares.at(capacitor, point.tuned.capacitance)
    lost = point.gap_losses()
    averaged = point.gap_current**2 * design.mode_factor * design.transmit_share
    heat = float(lost.capacitors[0]) * averaged
    by_parts = capacitor.variable.states_loss or (capacitor.q is None and capacitor.esr is None)
    variable_heat = float(lost.variable[0]) * averaged if by_parts else None
    contact = float(lost.contact[0]) * averaged if capacitor.contact_resistance > 0.0 else None
    has_fixed, has_series = capacitor.fixed > 0.0, capacitor.series is not None
    gap_voltage = point.gap_voltage_peak
    return CapacitorFigures(
        stands_peak=volts,
        stands_set_by=set_by,
        must_stand_peak=gap_voltage,
        must_carry_rms=point.gap_current,
        heat=heat,
        contact_heat=contact,
        temperature_rise=_temperature_rise(
            capacitor, (heat if variable_heat is None else variable_heat) + (contact or 0.0)
        ),
        variable=float(shares.own),
        variable_voltage_peak=gap_voltage * float(shares.variable_voltage),
        variable_current_rms=point.gap_current * float(shares.variable_current),
        fixed_current_rms=point.gap_current * float(shares.fixed_current) if has_fixed else None,
        fixed_heat=float(lost.fixed[0]) * averaged if by_parts and has_fixed else None,
        series_voltage_peak=gap_voltage * float(shares.series_voltage) if has_series else None,
        series_heat=float(lost.series[0]) * averaged if by_parts and has_series else None,
        lead_inductance=lead_inductance(capacitor) if capacitor.lead_length is not None else None,
    )


def _parts(design: Design, point: OperatingPoint) -> Iterator[PartStress]:
    return part_stresses(design.capacitor, point.tuned.capacitance, altitude=design.site.altitude)


def _temperature_rise(capacitor: Capacitor, heat: float) -> float | None:
    if capacitor.body_diameter is None or capacitor.body_length is None:
        return None
    return float(
        cylinder_temperature_rise(
            np.float64(heat), diameter=capacitor.body_diameter, length=capacitor.body_length
        )
    )
