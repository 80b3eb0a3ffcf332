# SPDX-License-Identifier: BSD-3-Clause
"""How far the gap's voltage must be kept from everything: through air, along surfaces, and from the box's walls."""

from dataclasses import dataclass

from ringwright.antenna.capacitor_rating import RADIO_FREQUENCY, thin_air
from ringwright.antenna.design import Design
from ringwright.antenna.drive_shaft import DAMP_PER_VOLT, DRY_PER_VOLT
from ringwright.safety.mechanics.cutting import USUAL_GAP

ROD_GAP_OFFSET, ROD_GAP_SLOPE = 2e3, 0.534e6
"""Breakdown of air between rods [V] and [V/m], IEC 60052, standard rod-rod gap at direct current (from memory)."""
PRACTICE_PER_VOLT = 1e-6
"""1 mm per kilovolt of peak, common practice, no source. [m/V]"""
LEAST_CLEARANCE = 0.003
"""Dust and bent wires bridge less; common practice, no source. [m]"""
WALL_FACTOR, LEAST_WALL = 2.0, 0.025
"""The box's walls stand back by so many clearances, and never less than that [m]: hot metal softens plastic, and a
metal wall adds capacitance; common practice, no source."""
USUAL_BODY = (0.10, 0.12)
"""Width and length of a capacitor of unknown size [m]; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearances:
    """For `voltage` [V peak], the worst of all bands at the unfavourable end of the tolerances; distances in metres.

    `air` through air; `creepage_dry`, `creepage_damp` along an insulator's surface; `wall` from hot metal to the box;
    `box` its width, height and depth outside, as stated or as the capacitor with these walls needs, `box_stated` which.
    """

    voltage: float
    air: float
    creepage_dry: float
    creepage_damp: float
    wall: float
    box: tuple[float, float, float]
    box_stated: bool


def clearance(voltage: float, *, altitude: float) -> float:
    """Through air [m], between wire ends: the larger of a rod gap's law with an allowance and common practice."""
    direct = voltage / (RADIO_FREQUENCY * thin_air(altitude))
    return max((direct - ROD_GAP_OFFSET) / ROD_GAP_SLOPE, PRACTICE_PER_VOLT * voltage, LEAST_CLEARANCE)


def find_clearances(design: Design, voltage: float) -> Clearances:
    """Of a design whose capacitor must stand `voltage` [V peak]."""
    air = clearance(voltage, altitude=design.site.altitude)
    wall = max(WALL_FACTOR * air, LEAST_WALL)
    building, capacitor = design.building, design.capacitor
    across = capacitor.body_diameter or USUAL_BODY[0]
    along = capacitor.body_length or USUAL_BODY[1]
    usual = (
        max(along, capacitor.gap_width or USUAL_GAP) + 2.0 * wall,
        across + 2.0 * wall,
        across + 2.0 * wall,
    )
    stated = (building.box_width, building.box_height, building.box_depth)
    box = tuple(own if given is None else given for own, given in zip(usual, stated, strict=True))
    return Clearances(
        voltage=voltage,
        air=air,
        creepage_dry=DRY_PER_VOLT * voltage,
        creepage_damp=DAMP_PER_VOLT * voltage,
        wall=wall,
        box=(box[0], box[1], box[2]),
        box_stated=all(given is not None for given in stated),
    )
