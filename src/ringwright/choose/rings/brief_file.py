# SPDX-License-Identifier: BSD-3-Clause
"""From a brief's text to a `Brief`. Whatever is wrong ends as one sentence in a `DesignError`."""

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from pydantic import ValidationError

from ringwright.antenna.design import Design, Target
from ringwright.antenna.design_file.convert import to_design
from ringwright.antenna.design_file.fields import nearest
from ringwright.antenna.design_file.models import DesignTable
from ringwright.antenna.design_file.read import OF_A_BRIEF, read_tables
from ringwright.antenna.design_file.sentences import refusal
from ringwright.choose.rings.brief import OBJECTIVES, Brief, Limits, Room
from ringwright.choose.rings.brief_tables import BriefTable, LimitsTable, WeightsTable, read_perimeters
from ringwright.choose.rings.brief_units import units_of
from ringwright.choose.rings.candidate_text import candidate_tables, corners
from ringwright.choose.rings.parts import (
    CapacitorPart,
    ConductorPart,
    Parts,
    capacitor_part,
    conductor_part,
    priced,
    read_parts,
    stock,
)
from ringwright.errors import DesignError, DesignFileError
from ringwright.physics.constants import C_0
from ringwright.units import format_quantity, shown, to_si

P = TypeVar("P", ConductorPart, CapacitorPart)

BRIEF_REFERENCE = "docs/reference/brief-file.md"
USUAL_SHAPES = ("circle", "octagon")
USUAL_WEIGHTS = {"sky_db": 1.0, "size": 1.0, "mass": 0.1}
"""Where the brief weighs nothing: a decibel is worth a metre of width, or ten kilograms."""
SHORTEST, LONGEST, USUAL_COUNT = 0.05, 0.3, 25
"""Perimeters where the brief names none: wavelengths of the lowest band, and of the highest."""
_SHARED = ("bands", "tune_to", "power", "mode", "transmit_share", "duty", "region", "site", "tolerance")


def parse_brief(
    text: str, *, source: str, parts: str | None = None, parts_source: str = "parts.toml"
) -> Brief:
    """Read a brief, and the person's own `parts` from the text of their file.

    Raises
    ------
    DesignFileError
        Naming the file and the key.
    """
    try:
        tables = read_tables(text)
    except DesignError as exc:
        raise DesignFileError(source, str(exc), key=exc.key) from exc
    return brief_of(tables, source=source, parts=parts, parts_source=parts_source)


def brief_of(
    tables: dict[str, Any], *, source: str, parts: str | None = None, parts_source: str = "parts.toml"
) -> Brief:
    """The brief that a file's tables describe; errors as `parse_brief`."""
    try:
        if {"ring", "capacitor"} <= tables.keys() and not OF_A_BRIEF & tables.keys():
            raise DesignError("this is a design, not a brief; `ringwright predict` says what it does")
        table = _validated(tables)
        bases = _bases(tables, table)
    except DesignError as exc:
        raise DesignFileError(source, str(exc), key=exc.key) from exc
    targets = next(iter(bases.values())).targets
    at_hand = _at_hand(parts, targets, parts_source)
    try:
        return _brief(tables, table, bases, at_hand=at_hand)
    except DesignError as exc:
        raise DesignFileError(source, str(exc), key=exc.key) from exc


def _validated(tables: dict[str, Any]) -> BriefTable:
    try:
        return BriefTable.model_validate(tables)
    except ValidationError as exc:
        raise refusal(exc, root=BriefTable, reference=BRIEF_REFERENCE) from exc


def _at_hand(text: str | None, targets: tuple[Target, ...], source: str) -> Parts:
    """The person's own parts first, then the stock, with what is known of prices."""
    from_stock = stock(targets)
    if text is None:
        return from_stock
    try:
        own = read_parts(text, targets)
        together = Parts(
            conductors=(*own.conductors, *from_stock.conductors),
            capacitors=(*own.capacitors, *from_stock.capacitors),
        )
        return priced(together, own.prices)
    except DesignError as exc:
        raise DesignFileError(source, str(exc), key=exc.key) from exc


def _brief(tables: dict[str, Any], table: BriefTable, bases: dict[str, Design], *, at_hand: Parts) -> Brief:
    grid, notes, units = table.grid, list[str](), units_of(tables)
    targets = next(iter(bases.values())).targets
    conductors, capacitors = at_hand.conductors, at_hand.capacitors
    if grid.conductors is None:
        notes.append("grid.conductors = the stock and your own")
    else:
        conductors = _listed(grid.conductors, conductors, "grid.conductors", part_of=conductor_part)
    if grid.capacitors is None:
        notes.append("grid.capacitors = the stock and your own")
    else:
        capacitors = _listed(
            grid.capacitors,
            capacitors,
            "grid.capacitors",
            part_of=lambda written, path: capacitor_part(written, path, targets),
        )
    if grid.shape is None:
        notes.append(f"grid.shape = {', '.join(USUAL_SHAPES)}")
    perimeters = grid.perimeter
    if perimeters is None:
        unit = units.get("grid.perimeter", "m")
        perimeters = _usual_perimeters(targets, unit)
        least, most = (format_quantity(each, unit, digits=6) for each in (perimeters[0], perimeters[-1]))
        notes.append(f"grid.perimeter = {least} to {most}, {len(perimeters)} of them")
    if table.weights is None:
        notes.append("weights = " + ", ".join(f"{name} {each:g}" for name, each in USUAL_WEIGHTS.items()))
    return Brief(
        name=table.name or "Brief",
        design={key: tables[key] for key in _SHARED if key in tables},
        bases=bases,
        room=Room(width=table.room.width, depth=table.room.depth, height=table.room.height),
        limits=_limits(table.limits, Parts(conductors=conductors, capacitors=capacitors)),
        weights=_weights(table.weights),
        perimeters=perimeters,
        conductors=conductors,
        capacitors=capacitors,
        units=units,
        defaults_used=tuple(notes),
    )


def _bases(tables: dict[str, Any], table: BriefTable) -> dict[str, Design]:
    """For each shape a design with the brief's keys, its ring and parts of no meaning."""
    shared = {key: tables[key] for key in _SHARED if key in tables}
    shapes = dict.fromkeys(table.grid.shape or USUAL_SHAPES)
    bases = {}
    for shape in shapes:
        placeholder = candidate_tables(
            shared,
            name="placeholder",
            ring=(shape, "3 m"),
            conductor={"diameter": "6 mm", "kind": "solid"},
            capacitor={"minimum": "10 pF", "maximum": "100 pF"},
            coupling_diameter="0.2 m",
            joints=corners(shape),
        )
        bases[shape] = to_design(DesignTable.model_validate(placeholder))
    return bases


def _listed(
    written: Sequence[object], known: Sequence[P], path: str, *, part_of: Callable[[object, str], P]
) -> tuple[P, ...]:
    """Parts of a list in which each is a table, or the name of one at hand."""
    by_name = {each.name: each for each in known}
    found = []
    for number, each in enumerate(written, 1):
        if isinstance(each, str) and each not in by_name:
            close = nearest(each, by_name)
            hint = f"did you mean {shown(close)}?" if close else "write a table as in a design"
            key = f"{path}[{number}]"
            raise DesignError(f"{key} = {shown(each)} is no part at hand; {hint}", key=key)
        found.append(by_name[each] if isinstance(each, str) else part_of(each, f"{path}[{number}]"))
    return tuple(found)


def _usual_perimeters(targets: tuple[Target, ...], unit: str) -> tuple[float, ...]:
    longest, shortest = (C_0 / pick(target.frequency for target in targets) for pick in (min, max))
    low, high = sorted((SHORTEST * longest, LONGEST * shortest))
    size = to_si(f"1 {unit}", "m")
    first, last = (f"{end / size:.1f} {unit}" for end in (low, max(high, low + 0.5)))
    return read_perimeters([first, last, USUAL_COUNT])


def _weights(table: WeightsTable | None) -> dict[str, float]:
    if table is None:
        return dict.fromkeys(OBJECTIVES, 0.0) | USUAL_WEIGHTS
    weights = {name: float(getattr(table, name)) for name in OBJECTIVES}
    if not any(weights.values()):
        raise DesignError("weights: nothing counts; give sky_db or another a weight above 0", key="weights")
    return weights


def _limits(table: LimitsTable, parts: Parts) -> Limits:
    prices = [each.price for each in parts.conductors] + [each.price for each in parts.capacitors]
    currencies = {price.currency for price in prices if price is not None}
    if table.cost is not None:
        currencies.add(table.cost[1])
    if len(currencies) > 1:
        raise DesignError(
            f"limits.cost and the parts' prices are in {' and '.join(sorted(currencies))}; write all in one currency",
            key="limits.cost",
        )
    return Limits(
        mass=table.mass,
        cost=None if table.cost is None else table.cost[0],
        currency=next(iter(currencies), None),
        voltage_margin=table.capacitor_voltage_margin,
        swr=table.swr,
        exposure=tuple(table.exposure or ()),
    )
