# SPDX-License-Identifier: BSD-3-Clause
"""What a prediction was made from: the design's values in the design file's own keys and units."""

from collections.abc import Iterator
from enum import Enum
from operator import attrgetter

from ringwright.antenna.design import CouplingKind, Design
from ringwright.units import format_quantity

# Key of the design file -> path below a `Design`, unit ("" for words and bare numbers).
_CONDUCTOR = (
    ("kind", "kind", ""),
    ("diameter", "diameter", "mm"),
    ("wall", "wall", "mm"),
    ("width", "width", "mm"),
    ("thickness", "thickness", "mm"),
    ("conductivity", "conductivity", "MS/m"),
    ("mu_r", "mu_r", ""),
    ("braid_factor", "roughness_factor", ""),
    ("temperature", "temperature_c", "degC"),
)
_INPUTS = (
    ("power", "power", "W"),
    ("mode", "mode", ""),
    ("transmit_share", "transmit_share", ""),
    ("region", "region", ""),
    ("ring.shape", "ring.shape", ""),
    ("ring.perimeter", "ring.perimeter", "m"),
    ("ring.aspect", "ring.aspect", ""),
    ("ring.turns", "ring.turns", ""),
    ("ring.turn_spacing", "ring.turn_spacing", "mm"),
    ("ring.tilt", "ring.tilt", "deg"),
    ("ring.gap_at", "ring.gap_angle", "deg"),
    ("ring.joints", "ring.joints", ""),
    ("ring.joint_resistance", "ring.joint_resistance", "mohm"),
    *((f"ring.conductor.{key}", f"ring.conductor.{path}", unit) for key, path, unit in _CONDUCTOR),
    ("coupling.kind", "coupling.kind", ""),
    ("coupling.tap_at", "coupling.tap_at", "mm"),
    ("coupling.turns", "coupling.core.primary_turns", ""),
    ("coupling.passes", "coupling.core.passes", ""),
    ("coupling.inductance_factor", "coupling.core.inductance_factor", "uH"),
    ("coupling.core_q", "coupling.core.q", ""),
    ("coupling.coupling_factor", "coupling.core.coupling_factor", ""),
    ("coupling.shape", "coupling.shape", ""),
    ("coupling.diameter", "coupling.diameter", "mm"),
    ("coupling.squash", "coupling.squash", ""),
    ("coupling.at", "coupling.place", ""),
    ("coupling.clearance", "coupling.clearance", "mm"),
    ("coupling.feed_at", "coupling.feed_side", ""),
    *((f"coupling.conductor.{key}", f"coupling.conductor.{path}", unit) for key, path, unit in _CONDUCTOR),
    ("capacitor.kind", "capacitor.kind", ""),
    ("capacitor.minimum", "capacitor.minimum", "pF"),
    ("capacitor.maximum", "capacitor.maximum", "pF"),
    ("capacitor.fixed", "capacitor.fixed", "pF"),
    ("capacitor.stray", "capacitor.stray", "pF"),
    ("capacitor.series", "capacitor.series", "pF"),
    ("capacitor.q", "capacitor.q", ""),
    ("capacitor.esr", "capacitor.esr", "mohm"),
    *(
        (f"capacitor.{name}_{key}", f"capacitor.{path}.{key}", unit)
        for name, path in (("variable", "variable"), ("fixed", "fixed_part"), ("series", "series_part"))
        for key, unit in (("q", ""), ("esr", "mohm"), ("rated_voltage", "kV"), ("rated_current", "A"))
    ),
    ("capacitor.contact_resistance", "capacitor.contact_resistance", "mohm"),
    ("capacitor.rated_voltage", "capacitor.rated_voltage", "kV"),
    ("capacitor.rated_current", "capacitor.rated_current", "A"),
    ("capacitor.plate_gap", "capacitor.plate_gap", "mm"),
    ("capacitor.air_temperature", "capacitor.air_temperature_c", "degC"),
    ("capacitor.gap_width", "capacitor.gap_width", "mm"),
    ("capacitor.lead_length", "capacitor.lead_length", "mm"),
    ("capacitor.lead_width", "capacitor.lead_width", "mm"),
    ("capacitor.body_diameter", "capacitor.body_diameter", "mm"),
    ("capacitor.body_length", "capacitor.body_length", "mm"),
    ("drive.steps_per_turn", "drive.steps_per_turn", ""),
    ("drive.microsteps", "drive.microsteps", ""),
    ("drive.reduction", "drive.reduction", ""),
    ("drive.backlash", "drive.backlash", "deg"),
    ("drive.windup", "drive.windup", "deg"),
    ("drive.motor_torque", "drive.motor_torque", "Nm"),
    ("drive.efficiency", "drive.efficiency", ""),
    ("drive.shaft_torque", "drive.shaft_torque", "Nm"),
    ("drive.shaft.material", "drive.shaft.material", ""),
    ("drive.shaft.length", "drive.shaft.length", "mm"),
    ("drive.shaft.diameter", "drive.shaft.diameter", "mm"),
    ("drive.shaft.bore", "drive.shaft.bore", "mm"),
    ("drive.shaft.stiffness", "drive.shaft.stiffness", "Nm/rad"),
    ("feedline.impedance", "feedline.impedance", "ohm"),
    ("site.height", "site.height", "m"),
    ("site.altitude", "site.altitude", "m"),
    ("site.conductivity", "site.earth.conductivity", "mS/m"),
    ("site.permittivity", "site.earth.permittivity", ""),
)


_OF_A_LOOP = ("coupling.shape", "coupling.squash", "coupling.at", "coupling.feed_at")


def design_inputs(design: Design) -> Iterator[tuple[str, str]]:
    """Key and value of whatever the design states or leaves to a default; what it does not have is left out."""
    for key, path, unit in _INPUTS:
        value = _value(design, path)
        if value is None or not _has_part(design, key):
            continue
        if isinstance(value, Enum):
            yield key, str(value.value)
        elif isinstance(value, str):
            yield key, value
        else:
            yield key, format_quantity(value, unit, digits=6) if unit else f"{value:g}"
    if design.capacitor.travel is not None:
        yield "capacitor.travel", f"{design.capacitor.travel:g} {design.capacitor.travel_unit}"
    if design.drive is not None:
        yield "drive.speed", f"{60.0 * design.drive.speed:g} rpm"


def _has_part(design: Design, key: str) -> bool:
    """Whether a key plays a part in the design's kind of coupling."""
    if key in _OF_A_LOOP:
        return design.coupling.kind is CouplingKind.LOOP
    return key != "coupling.clearance" or design.coupling.core is None


def _value(design: Design, path: str) -> float | Enum | str | None:
    *parents, name = path.split(".")
    place: object = design
    for parent in parents:
        place = attrgetter(parent)(place)
        if place is None:
            return None
    found: float | Enum | str | None = getattr(place, name)
    return found
