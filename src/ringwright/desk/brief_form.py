# SPDX-License-Identifier: BSD-3-Clause
"""The workspace's `brief.toml` as the fields of a page: what they show of it, and what only the file says."""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ringwright.antenna.design_file import read_text
from ringwright.antenna.design_file.read import read_tables
from ringwright.antenna.modes import FULL_CARRIER
from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.brief_file import brief_of
from ringwright.choose.rings.parts import CapacitorPart, ConductorPart
from ringwright.errors import DesignError, DesignFileError
from ringwright.units import format_quantity

BRIEF_FILE = "brief.toml"
PARTS_FILE = "parts.toml"
USUAL_POWER = "100 W"  # of a brief that states none, as in its reference
_KEPT = ("name", "tune_to", "transmit_share", "duty")
"""Keys without a field that count in a search all the same."""
_OF_THE_BENCH = ("region", "site", "tolerance")
"""Keys that a page takes from the design on the bench."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BriefForm:
    """Quantities as text in the file's own units; `mode` None where the file has a duty instead.

    `conductors` and `capacitors` by name, None for all that is at hand.
    """

    bands: tuple[str, ...]
    power: str
    mode: str | None
    width: str | None
    depth: str | None
    height: str | None
    mass: str | None
    cost: str | None
    margin: float
    swr: float | None
    weights: Mapping[str, float]
    shapes: tuple[str, ...]
    perimeter_from: str
    perimeter_to: str
    perimeter_count: int
    conductors: tuple[str, ...] | None
    capacitors: tuple[str, ...] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredBrief:
    """`file` None where the workspace has none; `form` None then, and where a `problem` is told.

    `own_conductors` and `own_capacitors`: names of parts that only this file describes. `says`: a sentence each for
    what counts without a field, and for what does not count.
    """

    file: str | None = None
    etag: str | None = None
    problem: str | None = None
    form: BriefForm | None = None
    own_conductors: tuple[str, ...] = ()
    own_capacitors: tuple[str, ...] = ()
    says: tuple[str, ...] = ()


def stored_brief(workspace: Path) -> StoredBrief:
    """The workspace's brief; one that cannot be read is told in a sentence."""
    path = workspace / BRIEF_FILE
    if not path.exists():
        return StoredBrief()
    try:
        text = _text(path)
        tables = read_tables(text)
        brief = brief_of(tables, source=BRIEF_FILE, parts=own_parts(workspace))
    except DesignError as exc:
        return StoredBrief(
            file=BRIEF_FILE, problem=str(exc) if isinstance(exc, DesignFileError) else f"{BRIEF_FILE}: {exc}"
        )
    return StoredBrief(
        file=BRIEF_FILE,
        etag=hashlib.sha256(text.encode()).hexdigest(),
        form=_form(tables, brief),
        own_conductors=tuple(name for name, _ in _described(tables, "conductors", brief.conductors)),
        own_capacitors=tuple(name for name, _ in _described(tables, "capacitors", brief.capacitors)),
        says=tuple(_sentences(tables)),
    )


def with_the_file(asked: Mapping[str, Any], workspace: Path) -> dict[str, Any]:
    """A brief's tables as a page asks them, with what only the workspace's `brief.toml` says.

    A mode that is asked for stands instead of the file's duty.

    Raises
    ------
    DesignError
        If the file cannot be read.
    """
    tables = read_tables(_text(workspace / BRIEF_FILE))
    brief = brief_of(tables, source=BRIEF_FILE, parts=own_parts(workspace))
    kept = {key: tables[key] for key in _KEPT if key in tables and not (key == "duty" and asked.get("mode"))}
    together = {**kept, **asked}
    if "tune_to" in kept and not asked.get("bands"):
        del together["bands"]
    exposure = tables.get("limits", {}).get("exposure")
    if exposure is not None:
        together["limits"] = {**asked.get("limits", {}), "exposure": exposure}
    grid = dict(asked.get("grid", {}))
    for kind, parts in (("conductors", brief.conductors), ("capacitors", brief.capacitors)):
        own = _described(tables, kind, parts)
        if kind in grid:
            grid[kind] = [table for name in grid[kind] for table in _tables_of(name, own)]
    return {**together, "grid": grid}


def own_parts(workspace: Path) -> str | None:
    """The text of the workspace's parts file, None without one."""
    own = workspace / PARTS_FILE
    return read_text(own, what="parts") if own.is_file() else None


def _text(path: Path) -> str:
    try:
        return read_text(path, what="brief")
    except DesignFileError as exc:  # a page has no use for the whole path
        raise DesignFileError(BRIEF_FILE, exc.reason, key=exc.key) from exc


def _form(tables: Mapping[str, Any], brief: Brief) -> BriefForm:
    room, limits, grid = (tables.get(name, {}) for name in ("room", "limits", "grid"))
    unit = brief.units.get("grid.perimeter", "m")
    ends = [format_quantity(brief.perimeters[end], unit, digits=6) for end in (0, -1)]
    first, last, count = grid.get("perimeter", [*ends, len(brief.perimeters)])
    return BriefForm(
        bands=tuple(tables.get("bands", ())),
        power=tables.get("power", USUAL_POWER),
        mode=tables.get("mode", None if "duty" in tables else FULL_CARRIER),
        width=room.get("width"),
        depth=room.get("depth"),
        height=room.get("height"),
        mass=limits.get("mass"),
        cost=limits.get("cost"),
        margin=brief.limits.voltage_margin,
        swr=brief.limits.swr,
        weights=brief.weights,
        shapes=brief.shapes,
        perimeter_from=first,
        perimeter_to=last,
        perimeter_count=count,
        conductors=_names(brief.conductors) if "conductors" in grid else None,
        capacitors=_names(brief.capacitors) if "capacitors" in grid else None,
    )


def _names(parts: Sequence[ConductorPart | CapacitorPart]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(part.name for part in parts))


def _described(
    tables: Mapping[str, Any], kind: str, parts: Sequence[ConductorPart | CapacitorPart]
) -> list[tuple[str, dict[str, Any]]]:
    """Name and table of the parts that the brief describes itself; `parts` are all of its list, in order."""
    written = tables.get("grid", {}).get(kind)
    if written is None:
        return []
    return [(part.name, each) for each, part in zip(written, parts, strict=True) if isinstance(each, dict)]


def _tables_of(name: str, own: Sequence[tuple[str, dict[str, Any]]]) -> list[Any]:
    """What the brief describes under a name, else the name of a part at hand."""
    return [table for each, table in own if each == name] or [name]


def _sentences(tables: Mapping[str, Any]) -> list[str]:
    kept = {key: tables[key] for key in _KEPT if key in tables and key != "name"}
    if "exposure" in tables.get("limits", {}):
        kept["limits.exposure"] = tables["limits"]["exposure"]
    found = []
    if kept:
        words = "; ".join(f"{key} = {_written(value)}" for key, value in kept.items())
        unless = " (unless a mode is chosen)" if "duty" in kept else ""
        found.append(f"Kept from it without a field here: {words}{unless}.")
    left = [key if key == "region" else f"[{key}]" for key in _OF_THE_BENCH if key in tables]
    if left:
        found.append(f"Left out: its {' and '.join(left)}; that of the design on the bench counts here.")
    return found


def _written(value: object) -> str:
    """A value of the file in a sentence."""
    if isinstance(value, list):
        return ", ".join(str(each["frequency"]) if isinstance(each, dict) else str(each) for each in value)
    return str(value)
