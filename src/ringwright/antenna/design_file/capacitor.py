# SPDX-License-Identifier: BSD-3-Clause
"""From the table [capacitor] to the capacitor of a design."""

import math

from ringwright.antenna.design import Capacitor
from ringwright.antenna.design_file.capacitor_combination import (
    check_combination,
    read_air,
    read_leads,
    read_loss,
    wired,
)
from ringwright.antenna.design_file.models import CapacitorTable
from ringwright.antenna.design_file.place import Place
from ringwright.errors import DesignError
from ringwright.units import format_quantity, shown, to_si

_DEFAULT_TRAVEL = {"air": 180.0, "split-stator": 180.0, "butterfly": 90.0}  # degrees, open to fully meshed


def read_capacitor(table: CapacitorTable, place: Place) -> Capacitor:
    """The capacitor of [capacitor]."""
    if table.minimum is None or table.maximum is None:
        missing = "minimum" if table.minimum is None else "maximum"
        raise DesignError(
            f"capacitor.{missing} is missing; add it, or make the capacitor of its dimensions in [capacitor.made] "
            "(docs/reference/design-file.md shows how)"
        )
    if table.minimum >= table.maximum:
        raise DesignError(
            f"capacitor.minimum of {format_quantity(table.minimum, 'pF', digits=6)} must be less than "
            f"capacitor.maximum of {format_quantity(table.maximum, 'pF', digits=6)}; exchange or correct them"
        )
    if table.minimum + table.fixed + table.stray <= 0.0:
        raise DesignError(
            "capacitor.minimum of 0 pF leaves the ring open; state a minimum or stray capacitance"
        )
    place.note_unset(table)
    check_combination(table)
    travel, unit = _travel(table, place)
    one = Capacitor(
        kind=table.kind,
        minimum=table.minimum,
        maximum=table.maximum,
        fixed=table.fixed,
        series=table.series,
        stray=table.stray,
        stray_within=table.stray_within or 0.0,
        **read_loss(table, place),
        contact_resistance=table.contact_resistance or 0.0,
        rated_voltage=table.rated_voltage,
        rated_current=table.rated_current,
        plate_gap=table.plate_gap,
        air_temperature_c=read_air(table, place),
        travel=travel,
        travel_unit=unit,
        straight_line_frequency=table.law == "straight-line-frequency",
        law=_law(table, travel, place),
        **read_leads(table, place),
        body_diameter=table.body_diameter,
        body_length=table.body_length,
    )
    return wired(one, table)


def _travel(table: CapacitorTable, place: Place) -> tuple[float | None, str]:
    if table.travel is not None:
        return table.travel
    degrees = _DEFAULT_TRAVEL.get(table.kind)
    if degrees is None:
        return None, "turns"
    place.note("travel", f"{degrees:g} deg", "from open to fully meshed")
    return degrees, "deg"


def _law(table: CapacitorTable, travel: float | None, place: Place) -> tuple[tuple[float, float], ...]:
    if table.table is None:
        if table.law is None:
            place.note("law", "linear", "capacitance in proportion to travel")
        return ()
    if table.law is not None:
        raise DesignError("capacitor.law and capacitor.table are both given; leave one of them out")
    if travel is None:
        raise DesignError('capacitor.travel is missing; a table needs it, as in travel = "16 turns"')
    rows = tuple(_row(index, row) for index, row in enumerate(table.table, start=1))
    for index, ((position, farads), (before, less)) in enumerate(
        zip(rows[1:], rows[:-1], strict=True), start=2
    ):
        rising = (farads - less) * (rows[-1][1] - rows[0][1]) > 0
        if position <= before or not rising:
            raise DesignError(
                f"capacitor.table[{index}] does not follow the row before it; order the rows by position, and let "
                "the capacitance only rise or only fall"
            )
    if rows[0][0] < 0.0 or rows[-1][0] > travel:
        raise DesignError(f"capacitor.table leaves the travel; keep its positions from 0 to {travel:g}")
    ends = sorted((rows[0][1], rows[-1][1]))
    for key, limit, end in (("minimum", table.minimum, ends[0]), ("maximum", table.maximum, ends[1])):
        assert limit is not None  # read_capacitor has refused that
        if not math.isclose(limit, end, rel_tol=1e-3):
            raise DesignError(
                f"capacitor.{key} of {format_quantity(limit, 'pF', digits=6)} is not the end of capacitor.table, "
                f"{format_quantity(end, 'pF', digits=6)}; write the same in both"
            )
    return rows


def _row(index: int, row: object) -> tuple[float, float]:
    match row:
        case [int() | float() as position, str() as capacitance] if not isinstance(position, bool):
            if not abs(position) <= 1e6:  # also what is not a number
                raise DesignError(
                    f"capacitor.table[{index}]: {shown(position)} is no position; count as in travel"
                )
            try:
                return float(position), to_si(capacitance, "F")
            except ValueError as exc:
                raise DesignError(f"capacitor.table[{index}]: {exc}") from exc
    raise DesignError(
        f'capacitor.table[{index}] = {shown(row)} is no row; write [position, "pF"], as in [4, "120 pF"]'
    )
