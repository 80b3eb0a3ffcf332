# SPDX-License-Identifier: BSD-3-Clause
"""Edits of a design file: a flat map from dotted key to a value in the file's own form, None to leave the key out.

The same edits go two ways: into the parsed tables (here), at once, while a slider moves; and into the text when it is
saved (`ringwright.desk.edited_text`), so that the person's comments and order stay.

A table of a list is named by its number in the file, from 1: `site.people[2].at`. Numbers past the last make new
tables; None for the table itself, `site.people[2]`, leaves it out, and no number changes before the text is saved.
"""

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from ringwright.errors import DesignError

Scalar = bool | int | float | str
Value = Scalar | list[Any]
Edits = Mapping[str, Value | None]

_EXACT = 2**53  # whole numbers beyond it do not survive a page's arithmetic
_STEP = re.compile(r"(?P<name>[^\[\]]*)(?:\[(?P<number>[1-9]\d{0,4})\])?")


@dataclass(frozen=True, slots=True)
class Step:
    """One part of a dotted key: a name, and a table's number where the name is that of a list of tables."""

    name: str
    number: int | None


@dataclass(frozen=True, slots=True)
class Edit:
    """One edit with its key taken apart."""

    key: str
    path: tuple[Step, ...]
    value: Value | None

    @property
    def takes_out_a_table(self) -> bool:
        return self.value is None and self.path[-1].number is not None


def in_order(edits: Edits) -> list[Edit]:
    """Edits in the order in which numbers mean what they say: new tables by number, those taken out from the end."""
    found = [Edit(key, _path_of(key), value) for key, value in edits.items()]
    kept = [edit for edit in found if not edit.takes_out_a_table]
    gone = [edit for edit in found if edit.takes_out_a_table]
    return [*sorted(kept, key=_numbers), *sorted(gone, key=_numbers, reverse=True)]


def with_edits(tables: Mapping[str, Any], edits: Edits) -> dict[str, Any]:
    """Parsed tables with the edits in them; what was handed in stays as it is."""
    result = dict(tables)
    for edit in in_order(edits):
        result = _with_edit(result, edit.path, edit)
    return result


def flat(tables: Mapping[str, Any], prefix: str = "") -> Iterator[tuple[str, Any]]:
    """Every value of nested tables with its dotted key; lists are values."""
    for name, value in tables.items():
        if isinstance(value, Mapping):
            yield from flat(value, f"{prefix}{name}.")
        else:
            yield f"{prefix}{name}", value


def plain_values(tables: Mapping[str, Any]) -> dict[str, Value]:
    """What `flat` gives, tables of lists by number, less what a page cannot show or edit: dates, endless numbers."""
    found: dict[str, Value] = {}
    for key, value in flat(tables):
        if is_list_of_tables(value):
            for number, table in enumerate(value, start=1):
                found |= {f"{key}[{number}].{name}": inner for name, inner in plain_values(table).items()}
        elif _is_plain(value):
            found[key] = value
    return found


def changed_keys(before: Mapping[str, Any], after: Mapping[str, Any]) -> set[str]:
    """Dotted keys whose value differs between two files' tables."""
    one, other = dict(flat(before)), dict(flat(after))
    return {key for key in one.keys() | other.keys() if key not in one or one.get(key) != other.get(key)}


def overlap(key: str, other: str) -> bool:
    """Whether two dotted keys are the same or one holds the other."""
    one, two = (f"{each.replace('[', '.[')}." for each in (key, other))
    return one.startswith(two) or two.startswith(one)


def is_list_of_tables(value: Any) -> bool:
    return isinstance(value, list) and value != [] and all(isinstance(one, Mapping) for one in value)


def _path_of(key: str) -> tuple[Step, ...]:
    steps = [_STEP.fullmatch(step) for step in key.split(".")]
    if None in steps:
        raise DesignError(f"{key} is no key of a design file; write a table of a list as name[2]", key=key)
    return tuple(
        Step(step["name"], int(step["number"]) if step["number"] else None) for step in steps if step
    )


def _numbers(edit: Edit) -> list[int]:
    return [step.number for step in edit.path if step.number is not None]


def _with_edit(table: dict[str, Any], path: tuple[Step, ...], edit: Edit) -> dict[str, Any]:
    first, rest = path[0], path[1:]
    if edit.value is None and first.name not in table:
        return table
    if first.number is not None:
        tables = _with_edit_of_one(table.get(first.name, []), path, edit)
        return table | {first.name: tables} if tables else _without(table, first.name)
    if not rest:
        return _without(table, first.name) if edit.value is None else table | {first.name: edit.value}
    inner = table.get(first.name, {})
    if not isinstance(inner, dict):
        raise DesignError(f"{edit.key} cannot be set: {first.name} is no table in this file", key=edit.key)
    return table | {first.name: _with_edit(inner, rest, edit)}


def _with_edit_of_one(tables: Any, path: tuple[Step, ...], edit: Edit) -> list[Any]:
    """A list of tables with the edit in the one that the path's first step names."""
    first, rest = path[0], path[1:]
    at = (first.number or 0) - 1
    if tables != [] and not is_list_of_tables(tables):
        reason = f"{first.name} is no list of tables in this file"
    elif edit.value is None and at >= len(tables):
        return list(tables)
    elif not rest and edit.value is not None:
        reason = "a table of a list is set key by key"
    elif at > len(tables):
        reason = f"{first.name} has {len(tables)} so far; count on from there"
    else:
        one = tables[at] if at < len(tables) else {}
        changed = [_with_edit(one, rest, edit)] if rest else []
        return [*tables[:at], *changed, *tables[at + 1 :]]
    raise DesignError(f"{edit.key} cannot be set: {reason}", key=edit.key)


def _without(table: dict[str, Any], name: str) -> dict[str, Any]:
    return {other: value for other, value in table.items() if other != name}


def _is_plain(value: Any) -> bool:
    match value:
        case bool() | str():
            return True
        case int():
            return abs(value) <= _EXACT
        case float():
            return math.isfinite(value)
        case list():
            return all(_is_plain(part) for part in value)
    return False
