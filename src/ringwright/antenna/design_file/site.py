# SPDX-License-Identifier: BSD-3-Clause
"""From the table [site] to the place where the ring stands."""

import math

from ringwright.antenna.design import Earth, Person, Site, SiteMesh, SiteWire
from ringwright.antenna.design_file.conductor import read_material
from ringwright.antenna.design_file.models import MeshTable, PersonTable, SiteTable, WireTable
from ringwright.antenna.design_file.place import Place
from ringwright.antenna.earths import EARTHS, FREE_SPACE
from ringwright.errors import DesignError
from ringwright.units import format_quantity, shown

Vector = tuple[float, float, float]
_SHORTEST_WIRE = 0.01  # [m]
_MOST_MESH_LINES = 200  # of one mesh; a finer one is a solid sheet to radio waves of this length


def read_site(table: SiteTable | None, place: Place) -> Site:
    """The site of [site]; free space without that table."""
    is_absent = table is None
    if table is None:
        place.note("earth", FREE_SPACE, "there is no [site]; real earth takes a good part of the power")
        table = SiteTable(earth=FREE_SPACE)
    place.note_unset(table, but=_without_part(table, is_absent=is_absent))
    return Site(
        height=table.height,
        turn=table.turn,
        x_bearing=table.x_bearing,
        locator=table.locator,
        earth=_earth(table, place),
        altitude=table.altitude,
        metal=tuple(
            _metal(metal, place.under(f"metal[{i}]")) for i, metal in enumerate(table.metal, start=1)
        ),
        people=tuple(
            _person(person, place.under(f"people[{i}]")) for i, person in enumerate(table.people, start=1)
        ),
    )


def _without_part(table: SiteTable, *, is_absent: bool) -> tuple[str, ...]:
    """Keys that change nothing: free space has no heights, and without a site nothing has a direction.

    The altitude counts everywhere: what the capacitor stands falls with the air's density.
    """
    if is_absent:
        return ("height", "turn", "x_bearing")
    is_empty = table.earth == FREE_SPACE and not table.metal and not table.people
    return ("height", "x_bearing") if is_empty else ()


def _earth(table: SiteTable, place: Place) -> Earth | None:
    stated = [key for key in ("conductivity", "permittivity") if getattr(table, key) is not None]
    if table.earth is not None and stated:
        raise DesignError(f"site.earth and site.{stated[0]} are both given; leave one of them out")
    if len(stated) == 1:
        missing = "permittivity" if stated[0] == "conductivity" else "conductivity"
        raise DesignError(
            f"site.{missing} is missing; an earth needs both constants, or a name in site.earth"
        )
    if table.conductivity is not None and table.permittivity is not None:
        return Earth(name="stated", conductivity=table.conductivity, permittivity=table.permittivity)
    if table.earth == FREE_SPACE:
        return None
    if table.earth is None:
        place.note("earth", "average", EARTHS["average"].source)
    return EARTHS[table.earth or "average"].earth


def _metal(table: WireTable | MeshTable, place: Place) -> SiteWire | SiteMesh:
    place.note_unset(table)
    metal, name = read_material(table, "steel", place)
    if isinstance(table, MeshTable):
        return _mesh(
            SiteMesh(
                corner=_vector(table.corner),
                along=_vector(table.along),
                across=_vector(table.across),
                spacing=table.spacing,
                diameter=table.diameter,
                conductivity=metal.conductivity,
                mu_r=metal.mu_r,
                material=name,
            ),
            place.prefix,
        )
    start, end = _vector(table.start), _vector(table.end)
    if math.dist(start, end) < max(_SHORTEST_WIRE, table.diameter):
        raise DesignError(
            f"{place.prefix}: from and to are nearly the same place; leave this metal out or make it longer"
        )
    for key, point in (("from", start), ("to", end)):
        _hold_above_earth(place.key(key), point, table.diameter)
    return SiteWire(
        kind=table.kind,
        start=start,
        end=end,
        diameter=table.diameter,
        conductivity=metal.conductivity,
        mu_r=metal.mu_r,
        material=name,
    )


def _mesh(mesh: SiteMesh, path: str) -> SiteMesh:
    lengths = math.hypot(*mesh.along), math.hypot(*mesh.across)
    cross = _cross(mesh.along, mesh.across)
    if math.hypot(*cross) < 1e-3 * max(lengths[0] * lengths[1], _SHORTEST_WIRE**2):
        raise DesignError(f"{path}: along and across span no area; give two edges that point different ways")
    if min(lengths) < mesh.spacing:
        raise DesignError(
            f"{path}.spacing of {format_quantity(mesh.spacing, 'm')} is wider than the mesh; make it smaller"
        )
    if mesh.diameter >= mesh.spacing:
        raise DesignError(
            f"{path}.diameter must be less than the mesh's spacing of {format_quantity(mesh.spacing, 'm')}"
        )
    if max(lengths) / mesh.spacing > _MOST_MESH_LINES:
        raise DesignError(f"{path}.spacing makes more than {_MOST_MESH_LINES} lines; make it wider")
    for sides in ((0, 0), (1, 0), (0, 1), (1, 1)):
        corner = [
            c + sides[0] * a + sides[1] * b
            for c, a, b in zip(mesh.corner, mesh.along, mesh.across, strict=True)
        ]
        _hold_above_earth(path, (corner[0], corner[1], corner[2]), mesh.diameter)
    return mesh


def _hold_above_earth(path: str, point: Vector, diameter: float) -> None:
    if point[2] < diameter / 2:
        raise DesignError(
            f"{path}: z = {format_quantity(point[2], 'm')} puts the metal into the earth; "
            f"keep its axis at {format_quantity(diameter / 2, 'm')} or more"
        )


def _person(table: PersonTable, place: Place) -> Person:
    place.note_unset(table)
    at = _vector(table.at)
    if at[2] < 0.0:
        raise DesignError(
            f"{place.key('at')}: z = {format_quantity(at[2], 'm')} puts {shown(table.name)} under the earth; "
            "heights count from z = 0 up"
        )
    return Person(name=table.name, at=at, kind=table.kind)


def _vector(coordinates: list[float]) -> Vector:
    x, y, z = coordinates
    return x, y, z


def _cross(a: Vector, b: Vector) -> Vector:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]
