# SPDX-License-Identifier: BSD-3-Clause
"""From the tables [ring], [coupling] and their conductors to the parts of a design."""

import math

import numpy as np

from ringwright.antenna.design import (
    Conductor,
    ConductorKind,
    Coupling,
    CouplingPlace,
    CouplingShape,
    Ring,
    RingShape,
)
from ringwright.antenna.design_file.defaults import Place
from ringwright.antenna.design_file.models import (
    ConductorTable,
    CouplingTable,
    MeshTable,
    RingTable,
    WireTable,
)
from ringwright.antenna.geometry import SIDES
from ringwright.antenna.materials import MATERIALS, Material
from ringwright.antenna.outline import polygon_length
from ringwright.errors import DesignError
from ringwright.units import format_quantity, to_si

_DIMENSIONS = {
    ConductorKind.TUBE: ("diameter", "wall"),
    ConductorKind.SOLID: ("diameter",),
    ConductorKind.STRIP: ("width", "thickness"),
    ConductorKind.BRAID: ("diameter", "braid_factor"),
}
_DEFAULT_DIMENSIONS = {
    "wall": ("1 mm", "usual for water tube, common practice"),
    "braid_factor": ("2", "clean and new braid against solid metal, common practice"),
}


def read_ring(table: RingTable, place: Place) -> Ring:
    """The ring of [ring] and [ring.conductor]."""
    place.note_unset(table)
    points = _points(table)
    if table.plane is not None and table.tilt is not None:
        raise DesignError("ring.plane and ring.tilt are both given; leave one of them out")
    if table.plane is None and table.tilt is None:
        place.note("plane", "vertical", "the usual way to put up a small loop")
    conductor = read_conductor(table.conductor, ConductorKind.TUBE, place.under("conductor"))
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
        tilt=math.pi / 2 if table.plane == "horizontal" else table.tilt or 0.0,
        gap_angle=table.gap_at,
        joints=joints,
        joint_resistance=joint_resistance,
    )


def read_coupling(table: CouplingTable, place: Place) -> Coupling:
    """The coupling loop of [coupling] and [coupling.conductor]."""
    place.note_unset(table)
    shape = table.shape
    if shape is None:
        shape = CouplingShape.CIRCLE if table.squash == 1.0 else CouplingShape.OVAL
        place.note("shape", shape.value, f"squash is {table.squash:g}")
    if shape is CouplingShape.CIRCLE and table.squash != 1.0:
        raise DesignError(
            f'coupling.squash = {table.squash:g} does not make a circle; write shape = "oval" or squash = 1'
        )
    clearance = table.clearance
    if table.at is CouplingPlace.CENTRE:
        if clearance is not None:
            raise DesignError('coupling.clearance says nothing with at = "centre"; leave one of them out')
        clearance = 0.0
    elif clearance is None:
        clearance = to_si("15 mm", "m")
        place.note("clearance", "15 mm", "room for insulation and a holder, common practice")
    return Coupling(
        kind=table.kind,
        diameter=table.diameter,
        conductor=read_conductor(table.conductor, ConductorKind.SOLID, place.under("conductor")),
        shape=shape,
        squash=table.squash,
        place=table.at,
        clearance=clearance,
        feed_side=table.feed_at,
    )


def read_conductor(table: ConductorTable | None, kind: ConductorKind, place: Place) -> Conductor:
    """A conductor; `kind` is what it is where the file does not say."""
    if table is None:
        table = ConductorTable.model_validate({"diameter": "22 mm" if kind is ConductorKind.TUBE else "6 mm"})
        size = format_quantity(table.diameter or 0.0, "mm")
        place.note("diameter", size, f"a usual {kind.value}; give yours")
    if table.kind is None:
        place.note("kind", kind.value, "the usual kind here")
    kind = table.kind or kind
    dimensions = _conductor_dimensions(table, kind, place)
    metal, name = read_material(table, "water tube copper" if kind is ConductorKind.TUBE else "copper", place)
    place.note_unset(table)
    factor = dimensions.pop("braid_factor", 1.0)
    return Conductor(
        kind=kind,
        **dimensions,
        conductivity=metal.conductivity,
        temperature_coefficient=metal.temperature_coefficient,
        temperature_c=table.temperature,
        mu_r=metal.mu_r,
        roughness_factor=factor,
        material=name,
    )


def read_material(
    table: ConductorTable | WireTable | MeshTable, fallback: str, place: Place
) -> tuple[Material, str | None]:
    """The metal and its name; the name is None where the file gives the conductivity instead."""
    if table.material is not None and table.conductivity is not None:
        raise DesignError(
            f"{place.key('material')} and {place.key('conductivity')} are both given; leave one of them out"
        )
    if table.conductivity is not None:
        # The coefficient is nearly the same for all pure metals and for what is left of it in their alloys.
        return (
            Material(
                conductivity=table.conductivity,
                temperature_coefficient=MATERIALS["copper"].temperature_coefficient,
                mu_r=table.mu_r or 1.0,
                source="stated in the design",
            ),
            None,
        )
    if table.mu_r is not None:
        raise DesignError(
            f"{place.key('mu_r')} stands only beside {place.key('conductivity')}; a material brings its own"
        )
    if table.material is None:
        place.note("material", fallback, MATERIALS[fallback].source)
    name = table.material or fallback
    return MATERIALS[name], name


def _conductor_dimensions(table: ConductorTable, kind: ConductorKind, place: Place) -> dict[str, float]:
    needed = _DIMENSIONS[kind]
    values: dict[str, float] = {}
    for key in ("diameter", "wall", "width", "thickness", "braid_factor"):
        value: float | None = getattr(table, key)
        if key not in needed:
            if value is not None:
                raise DesignError(f"{place.key(key)} does not belong to a {kind.value}; leave it out")
            continue
        if value is None and key in _DEFAULT_DIMENSIONS:
            text, why = _DEFAULT_DIMENSIONS[key]
            place.note(key, text, why)
            value = to_si(text, "m") if key == "wall" else float(text)
        if value is None:
            raise DesignError(f'{place.key(key)} is missing; a {kind.value} needs it, as in {key} = "5 mm"')
        values[key] = value
    if kind is ConductorKind.TUBE and values["wall"] >= values["diameter"] / 2:
        raise DesignError(
            f"{place.key('wall')} of {format_quantity(values['wall'], 'mm')} fills a tube of "
            f'{format_quantity(values["diameter"], "mm")}; make it thinner than the radius or write kind = "solid"'
        )
    if kind is ConductorKind.STRIP and values["thickness"] >= values["width"]:
        raise DesignError(f"{place.key('thickness')} must be less than the strip's width")
    return values


def _points(table: RingTable) -> tuple[tuple[float, float], ...]:
    if table.shape is RingShape.POLYGON:
        if table.points is None:
            raise DesignError(
                'ring.points is missing; a polygon needs its corners, as in [["0 m", "1 m"], ...]'
            )
        return tuple((across, up) for across, up in table.points)
    if table.points is not None:
        raise DesignError(
            f'ring.points belongs to shape = "polygon", not to "{table.shape.value}"; leave it out'
        )
    return ()


def _perimeter(table: RingTable, points: tuple[tuple[float, float], ...]) -> float:
    given = [key for key in ("perimeter", "diameter", "side") if getattr(table, key) is not None]
    if points:
        if given:
            raise DesignError(f"ring.{given[0]} follows from ring.points; leave it out")
        return polygon_length(np.array(points))
    if len(given) != 1:
        raise DesignError(
            "ring.perimeter is missing; give the perimeter, diameter or side"
            if not given
            else f"ring.{given[0]} and ring.{given[1]} are both given; leave one of them out"
        )
    if table.perimeter is not None:
        return table.perimeter
    sides = SIDES.get(table.shape)
    if table.side is not None:
        if sides is None:
            raise DesignError(
                f"ring.side has no meaning for the shape {table.shape.value}; give the perimeter"
            )
        return sides * table.side
    assert table.diameter is not None
    if table.shape is RingShape.OVAL:
        raise DesignError("ring.diameter has no meaning for an oval; give the perimeter and the aspect")
    # A regular polygon is measured as a builder does, over its flat sides.
    return table.diameter * (math.pi if sides is None else sides * math.tan(math.pi / sides))


def _aspect(table: RingTable) -> float:
    if table.shape is not RingShape.OVAL:
        if table.aspect is not None:
            raise DesignError(
                f"ring.aspect belongs to an oval, not to the shape {table.shape.value}; leave it out"
            )
        return 1.0
    if table.aspect is None:
        raise DesignError(
            "ring.aspect is missing; an oval needs its width over its height, as in aspect = 1.5"
        )
    return table.aspect


def _turn_spacing(table: RingTable, conductor: Conductor) -> float | None:
    if table.turns == 1:
        return None
    if table.turn_spacing is None:
        raise DesignError(
            f'ring.turn_spacing is missing; {table.turns} turns need it, as in turn_spacing = "60 mm"'
        )
    thickness = conductor.width if conductor.kind is ConductorKind.STRIP else conductor.diameter
    assert thickness is not None
    if table.turn_spacing <= thickness:
        raise DesignError(
            f"ring.turn_spacing of {format_quantity(table.turn_spacing, 'mm')} lets the turns touch; "
            f"make it more than the conductor's {format_quantity(thickness, 'mm')}"
        )
    return table.turn_spacing


def _turn_lead(table: RingTable, conductor: Conductor, place: Place) -> float:
    if table.turns > 1 and table.turn_lead is None:
        place.note("turn_lead", "80 mm", "room for the capacitor, common practice")
    lead = to_si("80 mm", "m") if table.turn_lead is None else table.turn_lead
    if table.turns > 1 and lead <= 2 * conductor.electrical_radius:
        raise DesignError(
            f"ring.turn_lead of {format_quantity(lead, 'mm')} is shorter than the conductor is thick; make it longer"
        )
    return lead


def _joints(table: RingTable, place: Place) -> tuple[int, float]:
    if table.joints is None and table.joint_resistance is not None:
        raise DesignError(
            "ring.joints is missing; joint_resistance needs the number of joints, as in joints = 8"
        )
    if table.joints is None:
        place.note("joints", 0, "none stated; every soldered or clamped joint adds loss")
        return 0, 0.0
    if table.joints > 0 and table.joint_resistance is None:
        place.note("joint_resistance", "0.1 mohm", "a good soldered joint, common practice")
        return table.joints, to_si("0.1 mohm", "ohm")
    return table.joints, table.joint_resistance or 0.0
