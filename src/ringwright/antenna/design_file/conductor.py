# SPDX-License-Identifier: BSD-3-Clause
"""From a table that describes a conductor to the conductor: what belongs to its kind, and the metal it is of."""

from ringwright.antenna.design import Conductor, ConductorKind
from ringwright.antenna.design_file.models import ConductorTable, MeshTable, WireTable
from ringwright.antenna.design_file.place import Place
from ringwright.antenna.materials import MATERIALS, Material
from ringwright.errors import DesignError
from ringwright.units import format_quantity, to_si

_DIMENSIONS = {
    ConductorKind.TUBE: ("diameter", "wall"),
    ConductorKind.SOLID: ("diameter",),
    ConductorKind.STRIP: ("width", "thickness"),
    ConductorKind.BRAID: ("diameter", "braid_factor"),
}
_USUAL_WALL = ("1 mm", "usual for water tube, common practice")
_USUAL_BRAID_FACTOR = (2.0, "clean new braid against solid metal, common practice")
_USUAL_DIAMETER = {ConductorKind.TUBE: "22 mm", ConductorKind.SOLID: "6 mm"}


def read_conductor(table: ConductorTable | None, usual: ConductorKind, place: Place) -> Conductor:
    """A conductor; `usual` is its kind where the file does not say."""
    if table is None:
        table = ConductorTable.model_validate({"diameter": _USUAL_DIAMETER[usual]})
        place.note("diameter", _USUAL_DIAMETER[usual], "a usual size; give yours")
    if table.kind is None:
        place.note("kind", usual.value, "the usual kind here")
    kind = table.kind or usual
    table = _with_usual_dimensions(table, kind, place)
    _hold_dimensions(table, kind, place)
    metal, name = read_material(table, "water tube copper" if kind is ConductorKind.TUBE else "copper", place)
    place.note_unset(table)
    return Conductor(
        kind=kind,
        diameter=table.diameter,
        wall=table.wall,
        width=table.width,
        thickness=table.thickness,
        conductivity=metal.conductivity,
        temperature_coefficient=metal.temperature_coefficient,
        temperature_c=table.temperature,
        mu_r=metal.mu_r,
        roughness_factor=table.braid_factor or 1.0,
        material=name,
    )


def read_material(
    table: ConductorTable | WireTable | MeshTable, usual: str, place: Place
) -> tuple[Material, str | None]:
    """The metal and its name; the name is None where the file gives the conductivity instead."""
    if table.material is not None and table.conductivity is not None:
        raise DesignError(f"{place.key('material')} and conductivity are both given; leave one of them out")
    if table.conductivity is None:
        if table.mu_r is not None:
            raise DesignError(
                f"{place.key('mu_r')} stands only beside conductivity; a material brings its own"
            )
        if table.material is None:
            place.note("material", usual, MATERIALS[usual].source)
        name = table.material or usual
        return MATERIALS[name], name
    stated = Material(
        conductivity=table.conductivity,
        # Of copper: that of other pure metals is within a tenth of it, and alloys change less.
        temperature_coefficient=MATERIALS["copper"].temperature_coefficient,
        mu_r=table.mu_r or 1.0,
        source="stated in the design",
    )
    return stated, None


def greatest_thickness(conductor: Conductor) -> float:
    """Diameter, or width of a strip [m]: what two conductors need between their axes to stay apart."""
    thickness = conductor.width if conductor.kind is ConductorKind.STRIP else conductor.diameter
    assert thickness is not None
    return thickness


def _with_usual_dimensions(table: ConductorTable, kind: ConductorKind, place: Place) -> ConductorTable:
    if kind is ConductorKind.TUBE and table.wall is None:
        place.note("wall", *_USUAL_WALL)
        return table.model_copy(update={"wall": to_si(_USUAL_WALL[0], "m")})
    if kind is ConductorKind.BRAID and table.braid_factor is None:
        place.note("braid_factor", *_USUAL_BRAID_FACTOR)
        return table.model_copy(update={"braid_factor": _USUAL_BRAID_FACTOR[0]})
    return table


def _hold_dimensions(table: ConductorTable, kind: ConductorKind, place: Place) -> None:
    for key in ("diameter", "wall", "width", "thickness", "braid_factor"):
        given, needed = getattr(table, key) is not None, key in _DIMENSIONS[kind]
        if given and not needed:
            raise DesignError(f"{place.key(key)} does not belong to a {kind.value}; leave it out")
        if needed and not given:
            raise DesignError(f'{place.key(key)} is missing; a {kind.value} needs it, as in {key} = "5 mm"')
    if table.diameter is not None and table.wall is not None and table.wall >= table.diameter / 2:
        raise DesignError(
            f"{place.key('wall')} of {format_quantity(table.wall, 'mm')} fills the tube of "
            f'{format_quantity(table.diameter, "mm")}; make it thinner than the radius, or write kind = "solid"'
        )
    if table.width is not None and table.thickness is not None and table.thickness >= table.width:
        raise DesignError(
            f"{place.key('thickness')} of {format_quantity(table.thickness, 'mm')} must be less than the strip's "
            f"width of {format_quantity(table.width, 'mm')}"
        )
