# SPDX-License-Identifier: BSD-3-Clause
"""In which units a brief is answered: in those that it is written in."""

from collections.abc import Iterator, Mapping
from typing import Any

from ringwright.units import imperial_unit

Units = Mapping[str, str]
"""The imperial unit that an amount is told in, by the constraint's key; what is not here is told in SI units."""

_LEFT_OPEN = "ft"
"""Of a perimeter that the brief leaves open, where its other lengths are imperial."""


def units_of(tables: Mapping[str, Any]) -> dict[str, str]:
    """The imperial units of a brief's tables, each key's own.

    Perimeters that are left open follow the brief's other lengths if all of those are imperial.
    """
    found = {key: unit for key, text in _stated(tables) if (unit := imperial_unit(text)) is not None}
    lengths = [key for key, _ in _stated(tables) if key != "limits.mass"]
    if "grid.perimeter" not in lengths and lengths and all(key in found for key in lengths):
        found["grid.perimeter"] = _LEFT_OPEN
    if "grid.perimeter" in found:
        found["ring.conductor"] = found["grid.perimeter"]  # its remedy is a perimeter, too
    found.pop("site.height", None)
    return found


def _stated(tables: Mapping[str, Any]) -> Iterator[tuple[str, object]]:
    """What is written of sizes and mass, by key; of the perimeters the first."""
    for path in ("room.width", "room.depth", "room.height", "grid.perimeter", "limits.mass", "site.height"):
        table, key = path.split(".")
        written = (tables.get(table) or {}).get(key)
        if written is not None:
            yield path, written[0] if isinstance(written, list) else written
