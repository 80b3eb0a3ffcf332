# SPDX-License-Identifier: BSD-3-Clause
"""From the table [coupling] to what brings the power into the ring: a loop, a tapped arm, or a transformer."""

import math
from dataclasses import replace

from ringwright.antenna.coupling_place import in_centre
from ringwright.antenna.design import (
    Conductor,
    ConductorKind,
    Core,
    Coupling,
    CouplingKind,
    CouplingPlace,
    CouplingShape,
    Ring,
)
from ringwright.antenna.design_file.conductor import greatest_thickness, read_conductor
from ringwright.antenna.design_file.models import CouplingTable
from ringwright.antenna.design_file.place import Place
from ringwright.antenna.outline import ellipse_semi_axes
from ringwright.errors import DesignError
from ringwright.units import format_quantity, to_si

_USUAL_CLEARANCE = ("15 mm", "room for insulation and a holder, common practice")
_KEYS = {
    CouplingKind.LOOP: ("shape", "diameter", "squash", "at", "clearance", "feed_at", "conductor"),
    CouplingKind.TAPPED: ("tap_at", "clearance", "conductor"),
    CouplingKind.TRANSFORMER: ("turns", "passes", "inductance_factor", "core_q", "coupling_factor"),
}
_NEEDED = {
    "diameter": ("a loop needs its size", "0.15 m"),
    "tap_at": ("a tapped coupling needs to know how far along the ring its arm ends", "0.4 m"),
    "turns": ("a transformer needs its primary's turns", None),
    "inductance_factor": ("a transformer's core needs its inductance of one turn", "1.1 uH"),
    "core_q": ("a transformer's core needs its Q, which decides its heat", None),
}


def read_coupling(table: CouplingTable, ring: Ring, place: Place) -> Coupling:
    """The coupling of [coupling] and [coupling.conductor]."""
    _hold_keys(table, place)
    foreign = {key for keys in _KEYS.values() for key in keys} - set(_KEYS[table.kind])
    place.note_unset(table, but=foreign)
    match table.kind:
        case CouplingKind.LOOP:
            return _loop(table, ring, place)
        case CouplingKind.TAPPED:
            return Coupling(
                kind=table.kind,
                conductor=read_conductor(table.conductor, ConductorKind.SOLID, place.under("conductor")),
                clearance=_usual_clearance(table, place),
                tap_at=table.tap_at,
            )
        case CouplingKind.TRANSFORMER:
            return Coupling(kind=table.kind, core=_core(table))


def _hold_keys(table: CouplingTable, place: Place) -> None:
    """What belongs to the kind stands there, what does not does not."""
    own = _KEYS[table.kind]
    for key in type(table).model_fields:
        if key not in ("kind", *own) and key in table.model_fields_set:
            kinds = " or ".join(f'"{kind.value}"' for kind, keys in _KEYS.items() if key in keys)
            raise DesignError(
                f'{place.key(key)} does not belong to kind = "{table.kind.value}" but to {kinds}; leave it out'
            )
    for key, (why, example) in _NEEDED.items():
        if key in own and getattr(table, key) is None:
            shown = f'"{example}"' if example else "10"
            raise DesignError(f"{place.key(key)} is missing; {why}, as in {key} = {shown}")


def _loop(table: CouplingTable, ring: Ring, place: Place) -> Coupling:
    conductor = read_conductor(table.conductor, ConductorKind.SOLID, place.under("conductor"))
    assert table.diameter is not None
    _hold_opening(table.diameter, table.squash, conductor)
    coupling = Coupling(
        kind=table.kind,
        diameter=table.diameter,
        conductor=conductor,
        shape=_shape(table, place),
        squash=table.squash,
        place=table.at,
        feed_side=table.feed_at,
    )
    if table.at is CouplingPlace.OPPOSITE_GAP:
        return replace(coupling, clearance=_usual_clearance(table, place))
    if table.clearance is not None:
        raise DesignError('coupling.clearance follows from the sizes with at = "centre"; leave it out')
    return in_centre(coupling, ring)


def _core(table: CouplingTable) -> Core:
    assert table.inductance_factor is not None
    assert table.core_q is not None
    assert table.turns is not None
    return Core(
        inductance_factor=table.inductance_factor,
        q=table.core_q,
        primary_turns=table.turns,
        passes=table.passes,
        coupling_factor=table.coupling_factor,
    )


def _shape(table: CouplingTable, place: Place) -> CouplingShape:
    if table.shape is CouplingShape.CIRCLE and table.squash != 1.0:
        raise DesignError(
            f'coupling.squash = {table.squash:g} does not make a circle; write shape = "oval" or squash = 1'
        )
    if table.shape is not None:
        return table.shape
    shape = CouplingShape.CIRCLE if table.squash == 1.0 else CouplingShape.OVAL
    place.note("shape", shape.value, f"squash is {table.squash:g}")
    return shape


def _usual_clearance(table: CouplingTable, place: Place) -> float:
    if table.clearance is None:
        place.note("clearance", *_USUAL_CLEARANCE)
        return to_si(_USUAL_CLEARANCE[0], "m")
    return table.clearance


def _hold_opening(diameter: float, squash: float, conductor: Conductor) -> None:
    opening = 2.0 * min(ellipse_semi_axes(math.pi * diameter, squash))
    if opening <= greatest_thickness(conductor):
        raise DesignError(
            f"coupling.diameter of {format_quantity(diameter, 'mm')} leaves no opening in a loop of "
            f"{format_quantity(greatest_thickness(conductor), 'mm')} conductor; make the loop larger or the conductor "
            "thinner"
        )
