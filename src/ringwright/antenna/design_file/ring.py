# SPDX-License-Identifier: BSD-3-Clause
"""From the table [ring] to the ring of a design."""

import math

import numpy as np

from ringwright.antenna.design import Conductor, ConductorKind, Ring, RingShape
from ringwright.antenna.design_file.conductor import greatest_thickness, read_conductor
from ringwright.antenna.design_file.models import RingTable
from ringwright.antenna.design_file.place import Place
from ringwright.antenna.design_file.polygon import Point, hold_buildable
from ringwright.antenna.geometry import SIDES
from ringwright.antenna.outline import polygon_length
from ringwright.errors import DesignError
from ringwright.physics.proximity import CLOSEST
from ringwright.units import format_quantity, to_si

_SMALLEST, _LARGEST = 0.1, 100.0  # perimeter of one turn [m]
_USUAL_LEAD = ("80 mm", "room for the capacitor, common practice")
_USUAL_JOINT = ("0.1 mohm", "a good soldered joint, common practice")


def read_ring(table: RingTable, place: Place) -> Ring:
    """The ring of [ring] and [ring.conductor]."""
    is_level = table.plane == "horizontal" or table.tilt == math.pi / 2
    place.note_unset(table, but=("gap_at",) if is_level else ())
    if is_level and "gap_at" not in table.model_fields_set:
        place.note("gap_at", "top", "towards +y in a horizontal ring")
    conductor = read_conductor(table.conductor, ConductorKind.TUBE, place.under("conductor"))
    points = _points(table, conductor)
    joints, joint_resistance = _joints(table, place)
    return Ring(
        shape=table.shape,
        perimeter=_perimeter(table, points),
        conductor=conductor,
        aspect=_aspect(table),
        points=points,
        turns=table.turns,
        turn_spacing=_turn_spacing(table, conductor),
        turn_lead=_turn_lead(table, conductor, place),
        tilt=_tilt(table, place),
        gap_angle=table.gap_at,
        joints=joints,
        joint_resistance=joint_resistance,
    )


def _points(table: RingTable, conductor: Conductor) -> tuple[Point, ...]:
    if table.shape is not RingShape.POLYGON:
        if table.points is not None:
            raise DesignError(f"ring.points does not belong to the shape {table.shape.value}; leave it out")
        return ()
    if table.points is None:
        raise DesignError('ring.points is missing; a polygon needs its corners, as in [["0 m", "1 m"], ...]')
    points = tuple((across, up) for across, up in table.points)
    hold_buildable(points, greatest_thickness(conductor))
    return points


def _perimeter(table: RingTable, points: tuple[Point, ...]) -> float:
    given = [key for key in ("perimeter", "diameter", "side") if getattr(table, key) is not None]
    if points and given:
        raise DesignError(f"ring.{given[0]} follows from ring.points; leave it out")
    if not points and not given:
        raise DesignError('ring.perimeter is missing; say how large the ring is, as in perimeter = "3.2 m"')
    if len(given) > 1:
        raise DesignError(f"ring.{given[0]} and ring.{given[1]} are both given; leave one of them out")
    perimeter = polygon_length(np.array(points)) if points else _from_size(table)
    if not _SMALLEST <= perimeter <= _LARGEST:
        raise DesignError(
            f"ring.{given[0] if given else 'points'} makes a perimeter of {perimeter:.4g} m; "
            f"keep it from {_SMALLEST:g} m to {_LARGEST:g} m"
        )
    return perimeter


def _from_size(table: RingTable) -> float:
    sides = SIDES.get(table.shape)
    if table.perimeter is not None:
        return table.perimeter
    if table.side is not None:
        if sides is None:
            raise DesignError(
                f"ring.side has no meaning for the shape {table.shape.value}; give the perimeter"
            )
        return sides * table.side
    assert table.diameter is not None
    if table.shape is RingShape.OVAL:
        raise DesignError("ring.diameter has no meaning for an oval; give the perimeter and the aspect")
    # A regular polygon is measured from flat to flat: its width and its height, what a tape finds.
    return table.diameter * (math.pi if sides is None else sides * math.tan(math.pi / sides))


def _aspect(table: RingTable) -> float:
    if table.shape is RingShape.OVAL and table.aspect is None:
        raise DesignError(
            "ring.aspect is missing; an oval needs its width over its height, as in aspect = 1.5"
        )
    if table.shape is not RingShape.OVAL and table.aspect is not None:
        raise DesignError(f"ring.aspect does not belong to the shape {table.shape.value}; leave it out")
    return table.aspect or 1.0


def _tilt(table: RingTable, place: Place) -> float:
    if table.plane is not None and table.tilt is not None:
        raise DesignError("ring.plane and ring.tilt are both given; leave one of them out")
    if table.plane is None and table.tilt is None:
        place.note("plane", "vertical", "the usual way to put up a small loop")
    return math.pi / 2 if table.plane == "horizontal" else table.tilt or 0.0


def _turn_spacing(table: RingTable, conductor: Conductor) -> float | None:
    if table.turns == 1:
        return None
    if table.turn_spacing is None:
        raise DesignError(
            f'ring.turn_spacing is missing; {table.turns} turns need it, as in turn_spacing = "60 mm"'
        )
    thickness = greatest_thickness(conductor)
    if table.turn_spacing < CLOSEST * thickness:
        raise DesignError(
            f"ring.turn_spacing of {format_quantity(table.turn_spacing, 'mm')} lets the turns touch; "
            f"make it at least {CLOSEST:g} times the conductor's {format_quantity(thickness, 'mm')}"
        )
    return table.turn_spacing


def _turn_lead(table: RingTable, conductor: Conductor, place: Place) -> float:
    lead = to_si(_USUAL_LEAD[0], "m") if table.turn_lead is None else table.turn_lead
    if table.turns > 1:
        if table.turn_lead is None:
            place.note("turn_lead", *_USUAL_LEAD)
        if lead <= greatest_thickness(conductor):
            raise DesignError(
                f"ring.turn_lead of {format_quantity(lead, 'mm')} is no longer than the conductor is thick; make it "
                f"more than {format_quantity(greatest_thickness(conductor), 'mm')}"
            )
    return lead


def _joints(table: RingTable, place: Place) -> tuple[int, float]:
    if table.joints is None:
        if table.joint_resistance is not None:
            raise DesignError("ring.joints is missing; joint_resistance needs their number, as in joints = 8")
        place.note("joints", 0, "none stated; every soldered or clamped joint adds loss")
        return 0, 0.0
    if table.joint_resistance is None:
        if table.joints > 0:
            place.note("joint_resistance", *_USUAL_JOINT)
        return table.joints, to_si(_USUAL_JOINT[0], "ohm")
    return table.joints, table.joint_resistance
