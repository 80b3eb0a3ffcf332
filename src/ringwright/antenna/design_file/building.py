# SPDX-License-Identifier: BSD-3-Clause
"""From the tables [build], [stand] and [[parts]] to how a design is made, what it stands on, and what is bought."""

from collections.abc import Sequence

from ringwright.antenna.building import Bought, Building, CornerKind, Price, Stand, StandKind
from ringwright.antenna.design import ConductorKind, Ring, RingShape, Site
from ringwright.antenna.design_file.models import BuildTable, PartTable, StandTable
from ringwright.antenna.design_file.place import Place
from ringwright.errors import DesignError
from ringwright.units import format_quantity, to_si

BENT = (RingShape.CIRCLE, RingShape.OVAL)
_USUAL_STOCK = ("3 m", "a usual length of tube and bar, common practice")
_USUAL_ALLOWANCE = ("100 mm", "the ends do not bend round a former, common practice")
_USUAL_TAKE_OFF = ("10 mm", "a 45 degree elbow of 22 mm; measure yours, common practice")
_USUAL_FEET, _USUAL_CIRCLE = (3, "a tripod"), ("1.2 m", "legs spread to 0.6 m")


def read_building(table: BuildTable | None, ring: Ring, place: Place) -> Building:
    """How the ring is made; what is usual where [build] does not say."""
    usual = Building(stock=_usual_stock(ring))
    if table is None:
        return usual
    place.note_unset(table)
    _hold_shape(table, ring, place)
    corners = table.corners or CornerKind.MITRE
    take_off, allowance, stock = table.take_off, table.bend_allowance, table.stock
    if take_off is None:
        take_off = usual.take_off
        if corners is CornerKind.ELBOW:
            place.note("take_off", *_USUAL_TAKE_OFF)
    if allowance is None:
        allowance = usual.bend_allowance
        if ring.shape in BENT:
            place.note("bend_allowance", *_USUAL_ALLOWANCE)
    if stock is None:
        stock = usual.stock
        if stock is not None:
            place.note("stock", *_USUAL_STOCK)
    return Building(
        corners=corners,
        take_off=take_off,
        stock=stock,
        kerf=table.kerf,
        bend_allowance=allowance,
        connector_gap=table.connector_gap,
        capacitor_mass=table.capacitor_mass,
        box_mass=table.box_mass,
        box_width=table.box_width,
        box_height=table.box_height,
        box_depth=table.box_depth,
        is_framed=None if table.held is None else table.held == "frame",
    )


def read_stand(table: StandTable | None, site: Site, place: Place) -> Stand | None:
    """What the ring stands on; None without [stand]."""
    if table is None:
        return None
    place.note_unset(table)
    feet, circle = table.feet, table.foot_circle
    if table.kind is StandKind.FIXED:
        given = [key for key in ("feet", "foot_circle") if getattr(table, key) is not None]
        if given or table.ballast > 0.0:
            key = given[0] if given else "ballast"
            raise DesignError(
                f'{place.key(key)} belongs to what stands on feet; leave it out, or write kind = "standing"'
            )
    else:
        if feet is None:
            place.note("feet", *_USUAL_FEET)
        if circle is None:
            place.note("foot_circle", *_USUAL_CIRCLE)
    if table.floor >= site.height:
        raise DesignError(
            f"{place.key('floor')} of {format_quantity(table.floor, 'm')} is not below the ring, whose lowest point is "
            f"{format_quantity(site.height, 'm')} above real earth; both heights count from there"
        )
    return Stand(
        kind=table.kind,
        feet=feet or _USUAL_FEET[0],
        foot_circle=to_si(_USUAL_CIRCLE[0], "m") if circle is None else circle,
        floor=table.floor,
        mass=table.mass,
        ballast=table.ballast,
        mast_diameter=table.mast_diameter,
        wind=table.wind,
    )


def read_parts(tables: Sequence[PartTable], place: Place) -> tuple[Bought, ...]:
    """What [[parts]] lists."""
    replaced: set[str] = set()
    for number, table in enumerate(tables, start=1):
        if table.replaces is not None and table.replaces in replaced:
            raise DesignError(
                f"{place.key(f'parts[{number}]')}.replaces names {table.replaces} a second time; leave one of them out"
            )
        replaced |= {table.replaces} if table.replaces is not None else set()
    return tuple(
        Bought(
            name=table.name,
            count=table.count,
            price=None if table.price is None else Price(amount=table.price[0], currency=table.price[1]),
            replaces=table.replaces,
        )
        for table in tables
    )


def _usual_stock(ring: Ring) -> float | None:
    """Straight lengths for pieces that stay straight; soft tube, wire and braid come in coils."""
    is_straight = ring.conductor.kind is not ConductorKind.BRAID and ring.shape not in BENT
    return to_si(_USUAL_STOCK[0], "m") if is_straight else None


def _hold_shape(table: BuildTable, ring: Ring, place: Place) -> None:
    is_bent = ring.shape in BENT
    for key, belongs in (("corners", not is_bent), ("take_off", not is_bent), ("bend_allowance", is_bent)):
        if getattr(table, key) is not None and not belongs:
            raise DesignError(
                f"{place.key(key)} does not belong to the shape {ring.shape.value}; leave it out"
            )
    if table.take_off is not None and table.corners is not CornerKind.ELBOW:
        raise DesignError(
            f'{place.key("take_off")} is that of an elbow; write corners = "elbow", or leave it out'
        )
    if ring.conductor.kind is ConductorKind.BRAID and table.held == "opposite gap":
        raise DesignError(f'{place.key("held")}: braid does not carry itself; write held = "frame"')
