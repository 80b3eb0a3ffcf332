# SPDX-License-Identifier: BSD-3-Clause
"""Closed formulas beside the full-wave answer: a check with a printed limit, never the answer.

The picture is the textbook's: one uniform current, an inductance, a small loop's radiation resistance. Up to which size
each formula holds is in the table of figures (`ringwright.antenna.figures`).
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from ringwright.antenna.capacitor_parts import losses
from ringwright.antenna.design import Conductor, ConductorKind, Design, Ring, RingShape
from ringwright.antenna.geometry import SIDES
from ringwright.antenna.network import internal_impedance
from ringwright.antenna.outline import ellipse_semi_axes, polygon_area, polygon_centroid, regular_polygon
from ringwright.antenna.turns import turn_crowding
from ringwright.errors import OutOfRangeError
from ringwright.physics.constants import C_0
from ringwright.physics.graph import FloatArray
from ringwright.physics.inductance import polygon_inductance, ring_crowding, ring_inductance
from ringwright.physics.small_loop import (
    gap_radiation_resistance,
    line_reactance,
    lowest_loop_q,
    small_loop_radiation_resistance,
    tuning_capacitance,
)
from ringwright.physics.strip import strip_equivalent_radius


@dataclass(frozen=True, slots=True, kw_only=True)
class CrossCheck:
    """Figures of the lumped, uniform-current picture; None where a formula does not apply to the shape or size.

    Units as in the table of figures: henry, farad, ohm, hertz, volt, metre, else 1 or per cent.
    """

    perimeter_wavelengths: float
    inductance: float | None
    tuning_capacitance_lumped: float | None
    tuning_capacitance_line: float | None
    radiation_resistance_small_loop: float
    radiation_resistance_gap_fit: float | None
    ring_resistance_skin: float
    ring_crowding: float | None
    turn_crowding: float | None
    efficiency_lumped_pct: float | None
    q_unloaded_lumped: float | None
    bandwidth_swr2_matched: float | None
    capacitor_voltage_peak_lumped: float | None
    q_over_efficiency_least: float | None
    coupling_diameter_one_fifth: float


@dataclass(frozen=True, slots=True)
class _Lumped:
    """A series circuit: reactance of the inductance, all resistance, and the part of it that radiates [ohm]."""

    reactance: float
    resistance: float
    radiation: float


def cross_check(design: Design, frequency: float) -> CrossCheck:
    """Closed forms for a design at a frequency [Hz]."""
    ring = design.ring
    area, reach = _extent(ring)
    inductance = _inductance(ring)
    radiation = float(small_loop_radiation_resistance(frequency, area=area, turns=ring.turns))
    skin = _skin_resistance(ring, frequency)
    lumped = (
        None if inductance is None else _lumped(design, frequency, inductance, radiation=radiation, skin=skin)
    )
    line = None if inductance is None else _line_reactance(ring, frequency, inductance)
    return CrossCheck(
        perimeter_wavelengths=ring.perimeter * frequency / C_0,
        inductance=inductance,
        tuning_capacitance_lumped=None if lumped is None else _farads(frequency, lumped.reactance),
        tuning_capacitance_line=None if line is None else _farads(frequency, line),
        radiation_resistance_small_loop=radiation,
        radiation_resistance_gap_fit=_gap_fit(ring, frequency),
        ring_resistance_skin=skin,
        ring_crowding=_crowding(ring),
        turn_crowding=turn_crowding(ring) if ring.turns > 1 else None,
        efficiency_lumped_pct=None if lumped is None else 100.0 * lumped.radiation / lumped.resistance,
        q_unloaded_lumped=None if lumped is None else lumped.reactance / lumped.resistance,
        bandwidth_swr2_matched=None
        if lumped is None
        else float(frequency * lumped.resistance / lumped.reactance / np.sqrt(2.0)),
        capacitor_voltage_peak_lumped=None
        if lumped is None
        else float(lumped.reactance * np.sqrt(2.0 * design.power / lumped.resistance)),
        q_over_efficiency_least=_where_valid(lambda: lowest_loop_q(2.0 * np.pi * frequency / C_0 * reach)),
        coupling_diameter_one_fifth=ring.perimeter / np.pi / 5.0,
    )


def _where_valid(formula: Callable[[], FloatArray]) -> float | None:
    try:
        return float(formula())
    except OutOfRangeError:
        return None


def _extent(ring: Ring) -> tuple[float, float]:
    """Area of one turn [m^2], and radius of the sphere round the whole conductor [m]."""
    match ring.shape:
        case RingShape.CIRCLE | RingShape.OVAL:
            half_width, half_height = ellipse_semi_axes(ring.perimeter, ring.aspect)
            area, radius = np.pi * half_width * half_height, max(half_width, half_height)
        case RingShape.POLYGON:
            corners = np.array(ring.points)
            area, radius = polygon_area(corners), _farthest(corners - polygon_centroid(corners))
        case shape:
            corners = regular_polygon(SIDES[shape], ring.perimeter)
            area, radius = polygon_area(corners), _farthest(corners)
    half_length = 0.0 if ring.turn_spacing is None else ring.turn_spacing * ring.turns / 2.0
    return area, float(np.hypot(radius, half_length)) + ring.conductor.electrical_radius


def _farthest(points: FloatArray) -> float:
    return float(np.linalg.norm(points, axis=1).max())


def _wire_radius(conductor: Conductor) -> float:
    """Of the round wire with the same field outside [m]."""
    if conductor.kind is not ConductorKind.STRIP:
        return conductor.electrical_radius
    assert conductor.width is not None
    assert conductor.thickness is not None
    return strip_equivalent_radius(conductor.width, conductor.thickness)


def _inductance(ring: Ring) -> float | None:
    """Of one turn in the skin-effect limit [H]; None for shapes and coils without a closed form."""
    if ring.turns > 1:
        return None
    wire_radius = _wire_radius(ring.conductor)
    if ring.shape is RingShape.CIRCLE:
        return _where_valid(lambda: ring_inductance(ring.perimeter / (2.0 * np.pi), wire_radius))
    sides = SIDES.get(ring.shape)
    if sides is None:
        return None
    return _where_valid(
        lambda: polygon_inductance(sides, side=ring.perimeter / sides, wire_radius=wire_radius)
    )


def _skin_resistance(ring: Ring, frequency: float) -> float:
    """Of the conductor's length, straight, with one current along it [ohm]."""
    per_metre = internal_impedance(ring.conductor, np.array([frequency]))[0].real
    return float(per_metre) * ring.perimeter * ring.turns * turn_crowding(ring)


def _lumped(design: Design, frequency: float, inductance: float, *, radiation: float, skin: float) -> _Lumped:
    reactance = 2.0 * np.pi * frequency * inductance
    setting = _farads(frequency, reactance)
    capacitor = float(losses(design.capacitor, setting, np.array([frequency])).total[0])
    joints = design.ring.joints * design.ring.joint_resistance
    return _Lumped(reactance, radiation + skin + joints + capacitor, radiation)


def _line_reactance(ring: Ring, frequency: float, inductance: float) -> float | None:
    return _where_valid(
        lambda: line_reactance(frequency, inductance=inductance, circumference=ring.perimeter)
    )


def _farads(frequency: float, reactance: float) -> float:
    return float(tuning_capacitance(frequency, reactance))


def _gap_fit(ring: Ring, frequency: float) -> float | None:
    if ring.shape is not RingShape.CIRCLE or ring.turns > 1:
        return None
    return _where_valid(lambda: gap_radiation_resistance(frequency, circumference=ring.perimeter))


def _crowding(ring: Ring) -> float | None:
    is_round = ring.conductor.kind in (ConductorKind.TUBE, ConductorKind.SOLID)
    if ring.shape is not RingShape.CIRCLE or ring.turns > 1 or not is_round:
        return None
    return _where_valid(
        lambda: ring_crowding(ring.perimeter / (2.0 * np.pi), ring.conductor.electrical_radius)
    )
