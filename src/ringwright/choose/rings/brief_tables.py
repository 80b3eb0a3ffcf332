# SPDX-License-Identifier: BSD-3-Clause
"""The brief's and the parts file's tables as they may be written. Every key is in docs/reference/brief-file.md."""

from typing import Annotated, Any

from pydantic import Field, PlainValidator

from ringwright.antenna.design_file.fields import (
    default,
    name_among,
    number,
    quantity,
    read_format,
    read_price,
    words,
)
from ringwright.antenna.design_file.models import (
    CapacitorTable,
    ConductorTable,
    OperatingTable,
    SiteTable,
    Table,
    ToleranceTable,
)
from ringwright.safety.limits import LIMITS
from ringwright.units import imperial_unit, shown, to_si

SHAPES = ("circle", "square", "hexagon", "octagon")
MOST_PERIMETERS, MOST_PARTS = 1000, 500
_LEAST, _GREATEST = 0.1, 100.0  # perimeter [m], as a design's
_Size = Annotated[float, quantity("m", above="0 m", high="200 m")]
_Weight = Annotated[float, number(low=0.0, high=1000.0)]
_Price = Annotated[tuple[float, str], PlainValidator(read_price, json_schema_input_type=str)]
_Mass = Annotated[float, quantity("kg", above="0 kg", high="10000 kg")]
_Name = Annotated[str, words(longest=100)]


_DECIMALS = {"ft": 3, "in": 2}
"""Of the unit that steps are rounded to; 0.1 mm elsewhere."""


def read_perimeters(value: object) -> tuple[float, ...]:
    """From, to and count, as even steps rounded to 0.1 mm, or as finely in the unit they are written in."""
    match value:
        case [str() as first, str() as last, int() as count] if not isinstance(count, bool):
            low, high = to_si(first, "m"), to_si(last, "m")
        case _:
            raise ValueError(
                f'{shown(value)} is no range; write from, to and how many, as in ["2 m", "5 m", 25]'
            )
    for text, size in ((first, low), (last, high)):
        if not _LEAST <= size <= _GREATEST:
            raise ValueError(f"{shown(text)} must be from {_LEAST:g} m to {_GREATEST:g} m")
    if not 1 <= count <= MOST_PERIMETERS:
        raise ValueError(f"{count} must be from 1 to {MOST_PERIMETERS}")
    if low > high or (count > 1) != (low < high):
        raise ValueError(f"{shown(value)} must rise from the first to the last, or be one size with count 1")
    step = (high - low) / max(count - 1, 1)
    unit = imperial_unit(first) or "m"
    return tuple(dict.fromkeys(_rounded(low + number * step, unit) for number in range(count)))


def _rounded(metres: float, unit: str) -> float:
    """To a number that is short in its unit, so that a design file repeats it to the last bit."""
    return to_si(f"{metres / to_si(f'1 {unit}', 'm'):.{_DECIMALS.get(unit, 4)}f} {unit}", "m")


class RoomTable(Table):
    width: _Size | None = None
    depth: _Size | None = None
    height: _Size | None = None


class LimitsTable(Table):
    mass: _Mass | None = None
    cost: _Price | None = None
    capacitor_voltage_margin: Annotated[float, number(low=0.1, high=10.0)] = default(
        1.0, "it stands what it must at the unfavourable end of the tolerances"
    )
    swr: Annotated[float, number(above=1.0, high=100.0)] | None = None
    exposure: (
        Annotated[
            list[Annotated[str, name_among(tuple(dict.fromkeys(row.name for row in LIMITS)))]],
            Field(min_length=1, max_length=len(LIMITS)),
        ]
        | None
    ) = None


class WeightsTable(Table):
    sky_db: _Weight = 1.0
    size: _Weight = 0.0
    mass: _Weight = 0.0
    cost: _Weight = 0.0
    bandwidth: _Weight = 0.0
    margin: _Weight = 0.0


class GridTable(Table):
    shape: Annotated[list[Annotated[str, name_among(SHAPES)]], Field(min_length=1, max_length=4)] | None = (
        None
    )
    perimeter: Annotated[tuple[float, ...], PlainValidator(read_perimeters)] | None = None
    conductors: Annotated[list[Any], Field(min_length=1, max_length=MOST_PARTS)] | None = None
    capacitors: Annotated[list[Any], Field(min_length=1, max_length=MOST_PARTS)] | None = None


class BriefTable(OperatingTable):
    """Bands, power, site and tolerance have the keys of a design."""

    name: _Name | None = None
    site: SiteTable | None = None
    tolerance: ToleranceTable | None = None
    room: RoomTable = Field(default_factory=RoomTable)
    limits: LimitsTable = Field(default_factory=LimitsTable)
    weights: WeightsTable | None = None
    grid: GridTable = Field(default_factory=GridTable)


class OwnConductor(ConductorTable):
    name: _Name | None = None
    price: _Price | None = None


class OwnCapacitor(CapacitorTable):
    name: _Name | None = None
    price: _Price | None = None
    mass: _Mass | None = None


class PriceTable(Table):
    of: _Name
    price: _Price


class PartsTable(Table):
    format: Annotated[int, PlainValidator(read_format, json_schema_input_type=int)]
    conductors: Annotated[list[Any], Field(max_length=MOST_PARTS, default_factory=list)]
    capacitors: Annotated[list[Any], Field(max_length=MOST_PARTS, default_factory=list)]
    prices: Annotated[list[PriceTable], Field(max_length=MOST_PARTS, default_factory=list)]
