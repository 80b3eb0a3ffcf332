# SPDX-License-Identifier: BSD-3-Clause
"""Conductors and capacitors to choose from: the stock, the person's own, and what they cost."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from pydantic import ValidationError

from ringwright.antenna.design import Capacitor, Conductor, ConductorKind, Target
from ringwright.antenna.design_file.capacitor import read_capacitor
from ringwright.antenna.design_file.conductor import read_conductor
from ringwright.antenna.design_file.fields import nearest
from ringwright.antenna.design_file.made_capacitor import write_out
from ringwright.antenna.design_file.models import CapacitorTable, ConductorTable
from ringwright.antenna.design_file.place import Place
from ringwright.antenna.design_file.read import read_tables
from ringwright.antenna.design_file.sentences import refusal
from ringwright.choose.rings.brief_tables import OwnCapacitor, OwnConductor, PartsTable
from ringwright.choose.stock import stock_tables
from ringwright.errors import DesignError
from ringwright.safety.mechanics.masses import CAPACITOR_MASS
from ringwright.units import format_quantity, imperial_unit, shown

PARTS_REFERENCE = "docs/reference/parts-file.md"
_OWN = ("name", "price", "mass")  # keys beside those of a design's table


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """Of a metre of conductor, or of a piece."""

    amount: float
    currency: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ConductorPart:
    """`table` as it stands in a design's [ring.conductor]."""

    name: str
    table: Mapping[str, Any]
    conductor: Conductor
    price: Price | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CapacitorPart:
    """`table` as it stands in a design's [capacitor]; `mass` [kg], `mass_text` as it was written if it was."""

    name: str
    table: Mapping[str, Any]
    capacitor: Capacitor
    mass: float
    mass_text: str | None = None
    price: Price | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """All that is at hand, in order."""

    conductors: tuple[ConductorPart, ...] = ()
    capacitors: tuple[CapacitorPart, ...] = ()
    prices: Mapping[str, Price] = field(default_factory=dict)


def read_parts(text: str, targets: Sequence[Target]) -> Parts:
    """A parts file's own parts and prices.

    Raises
    ------
    DesignError
        Naming the key.
    """
    try:
        table = PartsTable.model_validate(read_tables(text))
    except ValidationError as exc:
        raise refusal(exc, root=PartsTable, reference=PARTS_REFERENCE) from exc
    return Parts(
        conductors=tuple(
            conductor_part(each, f"conductors[{n}]") for n, each in enumerate(table.conductors, 1)
        ),
        capacitors=tuple(
            capacitor_part(each, f"capacitors[{n}]", targets) for n, each in enumerate(table.capacitors, 1)
        ),
        prices={each.of: Price(amount=each.price[0], currency=each.price[1]) for each in table.prices},
    )


def stock(targets: Sequence[Target]) -> Parts:
    """What can be bought everywhere, prices unknown."""
    return Parts(
        conductors=tuple(conductor_part(each, "stock") for each in stock_tables("conductors")),
        capacitors=tuple(capacitor_part(each, "stock", targets) for each in stock_tables("capacitors")),
    )


def priced(parts: Parts, prices: Mapping[str, Price]) -> Parts:
    """With prices by name, a part's own price first.

    Raises
    ------
    DesignError
        If a price is of no part known here.
    """
    names = [each.name for each in parts.conductors] + [each.name for each in parts.capacitors]
    for name in prices:
        if name not in names:
            close = nearest(name, names)
            hint = (
                f"; did you mean {shown(close)}?" if close else "; name a part of the stock or of this file"
            )
            raise DesignError(f"prices: there is no part {shown(name)}{hint}", key="prices")

    return replace(
        parts,
        conductors=tuple(
            replace(each, price=each.price or prices.get(each.name)) for each in parts.conductors
        ),
        capacitors=tuple(
            replace(each, price=each.price or prices.get(each.name)) for each in parts.capacitors
        ),
    )


def conductor_part(written: object, path: str) -> ConductorPart:
    """From a table of a brief or a parts file."""
    table = _validated(OwnConductor, written, path)
    assert isinstance(table, OwnConductor)
    own = _design_keys(written)
    conductor = read_conductor(ConductorTable.model_validate(own), ConductorKind.TUBE, Place(path))
    return ConductorPart(
        name=table.name or conductor_words(conductor, own),
        table=own,
        conductor=conductor,
        price=_price(table.price),
    )


def capacitor_part(written: object, path: str, targets: Sequence[Target]) -> CapacitorPart:
    """From a table of a brief or a parts file."""
    table = _validated(OwnCapacitor, written, path)
    assert isinstance(table, OwnCapacitor)
    own = _design_keys(written)
    try:
        as_written, made = write_out(CapacitorTable.model_validate(own), tuple(targets), Place("capacitor"))
        capacitor = replace(read_capacitor(as_written, Place("capacitor")), made=made)
    except DesignError as exc:
        raise DesignError(str(exc).replace("capacitor.", f"{path}."), key=path) from exc
    assert isinstance(written, dict)
    return CapacitorPart(
        name=table.name or capacitor_words(capacitor),
        table=own,
        capacitor=capacitor,
        mass=CAPACITOR_MASS[capacitor.kind] if table.mass is None else table.mass,
        mass_text=written.get("mass"),
        price=_price(table.price),
    )


def conductor_words(conductor: Conductor, written: Mapping[str, Any]) -> str:
    """A conductor without a name, as one asks for it; in inches as they were written."""
    own = [written[key] for key in ("diameter", "wall", "width", "thickness") if key in written]
    if any(imperial_unit(text) for text in own):
        return f"{conductor.kind.value} {' x '.join(own)}"
    sizes = (conductor.diameter, conductor.wall, conductor.width, conductor.thickness)
    shown_sizes = " x ".join(f"{size * 1e3:.4g}" for size in sizes if size is not None)
    return f"{conductor.kind.value} {shown_sizes} mm"


def capacitor_words(capacitor: Capacitor) -> str:
    """A capacitor without a name, as one asks for it."""
    ends = [format_quantity(end, "pF", digits=4) for end in (capacitor.minimum, capacitor.maximum)]
    return f"{capacitor.kind} {ends[0].partition(' ')[0]}-{ends[1]}"


def _validated(
    kind: type[OwnConductor | OwnCapacitor], written: object, path: str
) -> OwnConductor | OwnCapacitor:
    if not isinstance(written, dict):
        raise DesignError(
            f'{path} = {shown(written)} is no table; write one as in a design, as in {{ diameter = "22 mm" }}',
            key=path,
        )
    try:
        return kind.model_validate(written)
    except ValidationError as exc:
        error = refusal(exc, root=kind)
        raise DesignError(f"{path}.{error}", key=f"{path}.{error.key}") from exc


def _design_keys(written: object) -> dict[str, Any]:
    assert isinstance(written, dict)
    return {key: value for key, value in written.items() if key not in _OWN}


def _price(read: tuple[float, str] | None) -> Price | None:
    return None if read is None else Price(amount=read[0], currency=read[1])
