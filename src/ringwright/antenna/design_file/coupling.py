# SPDX-License-Identifier: BSD-3-Clause
"""From the table [coupling] to the coupling loop of a design."""

import math
from dataclasses import replace

import numpy as np

from ringwright.antenna.design import Conductor, ConductorKind, Coupling, CouplingPlace, CouplingShape, Ring
from ringwright.antenna.design_file.conductor import greatest_thickness, read_conductor
from ringwright.antenna.design_file.models import CouplingTable
from ringwright.antenna.design_file.place import Place
from ringwright.antenna.geometry import ring_outline
from ringwright.antenna.outline import ellipse_semi_axes, leave_point
from ringwright.errors import DesignError
from ringwright.units import format_quantity, to_si

_USUAL_CLEARANCE = ("15 mm", "room for insulation and a holder, common practice")


def read_coupling(table: CouplingTable, ring: Ring, place: Place) -> Coupling:
    """The coupling loop of [coupling] and [coupling.conductor]."""
    place.note_unset(table)
    conductor = read_conductor(table.conductor, ConductorKind.SOLID, place.under("conductor"))
    _hold_opening(table, conductor)
    coupling = Coupling(
        kind=table.kind,
        diameter=table.diameter,
        conductor=conductor,
        shape=_shape(table, place),
        squash=table.squash,
        place=table.at,
        feed_side=table.feed_at,
    )
    return replace(coupling, clearance=_clearance(table, coupling, ring, place=place))


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


def _clearance(table: CouplingTable, coupling: Coupling, ring: Ring, *, place: Place) -> float:
    if coupling.place is CouplingPlace.OPPOSITE_GAP:
        if table.clearance is None:
            place.note("clearance", *_USUAL_CLEARANCE)
        return to_si(_USUAL_CLEARANCE[0], "m") if table.clearance is None else table.clearance
    if table.clearance is not None:
        raise DesignError('coupling.clearance follows from the sizes with at = "centre"; leave it out')
    foot, _ = leave_point(ring_outline(ring), ring.gap_angle + math.pi)
    _, half_across = ellipse_semi_axes(math.pi * coupling.diameter, coupling.squash)
    radii = ring.conductor.electrical_radius + coupling.conductor.electrical_radius
    return float(np.linalg.norm(foot)) - half_across - radii


def _hold_opening(table: CouplingTable, conductor: Conductor) -> None:
    opening = 2.0 * min(ellipse_semi_axes(math.pi * table.diameter, table.squash))
    if opening <= greatest_thickness(conductor):
        raise DesignError(
            f"coupling.diameter of {format_quantity(table.diameter, 'mm')} leaves no opening in a loop of "
            f"{format_quantity(greatest_thickness(conductor), 'mm')} conductor; make the loop larger or the conductor "
            "thinner"
        )
