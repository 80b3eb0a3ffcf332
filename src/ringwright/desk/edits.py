# SPDX-License-Identifier: BSD-3-Clause
"""Edits of a design file: a flat map from dotted key to a value in the file's own form, None to leave the key out.

The same edits go two ways: into the parsed tables, at once, while a slider moves; and into the text when it is
saved, so that the person's comments and order stay.
"""

import math
from collections.abc import Iterator, Mapping
from typing import Any

import tomlkit
from tomlkit.items import Item

from ringwright.antenna.design_file import read_tables
from ringwright.errors import DesignError

Scalar = bool | int | float | str
Value = Scalar | list[Any]
Edits = Mapping[str, Value | None]

_EXACT = 2**53  # whole numbers beyond it do not survive a page's arithmetic


def with_edits(tables: Mapping[str, Any], edits: Edits) -> dict[str, Any]:
    """Parsed tables with the edits in them; what was handed in stays as it is."""
    result = dict(tables)
    for key, value in edits.items():
        result = _with_edit(result, key.split("."), value, key=key)
    return result


def text_with_edits(text: str, edits: Edits) -> str:
    """A design file's text with the edits in it, comments and order kept.

    Raises
    ------
    DesignError
        If the text is laid out in a way that cannot be edited without risk to what the person wrote.
    """
    wanted = with_edits(read_tables(text), edits)
    try:
        document = tomlkit.parse(text)
        for key, value in edits.items():
            _write(document, key.split("."), value)
        result = document.as_string()
    except (tomlkit.exceptions.TOMLKitError, LookupError, TypeError, RecursionError) as exc:
        raise _cannot_edit() from exc
    if "\r\n" in text:
        result = result.replace("\r\n", "\n").replace("\n", "\r\n")
    if read_tables(result) != wanted:
        raise _cannot_edit()
    return result


def flat(tables: Mapping[str, Any], prefix: str = "") -> Iterator[tuple[str, Any]]:
    """Every value of nested tables with its dotted key; lists are values."""
    for name, value in tables.items():
        if isinstance(value, Mapping):
            yield from flat(value, f"{prefix}{name}.")
        else:
            yield f"{prefix}{name}", value


def plain_values(tables: Mapping[str, Any]) -> dict[str, Value]:
    """What `flat` gives, less what a page cannot show or edit: dates, endless numbers, lists of tables."""
    return {key: value for key, value in flat(tables) if _is_plain(value)}


def changed_keys(before: Mapping[str, Any], after: Mapping[str, Any]) -> set[str]:
    """Dotted keys whose value differs between two files' tables."""
    one, other = dict(flat(before)), dict(flat(after))
    return {key for key in one.keys() | other.keys() if key not in one or one.get(key) != other.get(key)}


def overlap(key: str, other: str) -> bool:
    """Whether two dotted keys are the same or one holds the other."""
    return f"{key}.".startswith(f"{other}.") or f"{other}.".startswith(f"{key}.")


def _with_edit(table: dict[str, Any], path: list[str], value: Value | None, *, key: str) -> dict[str, Any]:
    first, *rest = path
    if value is None and first not in table:
        return table
    if not rest:
        return (
            {name: old for name, old in table.items() if name != first}
            if value is None
            else table | {first: value}
        )
    inner = table.get(first, {})
    if not isinstance(inner, dict):
        raise DesignError(f"{key} cannot be set: {first} is no table in this file", key=key)
    return table | {first: _with_edit(inner, rest, value, key=key)}


def _write(document: tomlkit.TOMLDocument, path: list[str], value: Value | None) -> None:
    table: Any = document
    for parent in path[:-1]:
        if parent not in table:
            if value is None:
                return
            table[parent] = tomlkit.table()
        table = table[parent]
    last = path[-1]
    if value is None:
        if last in table:
            del table[last]
        return
    item = tomlkit.item(value)
    if last in table:
        _keep_comment_in_its_column(table[last], item)
    table[last] = item


def _keep_comment_in_its_column(old: Any, new: Item) -> None:
    """A comment behind the value stays where it was, if the new value leaves room."""
    if isinstance(old, Item) and old.trivia.comment:
        shift = len(old.as_string()) - len(new.as_string())
        new.trivia.comment_ws = " " * max(1, len(old.trivia.comment_ws) + shift)


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


def _cannot_edit() -> DesignError:
    return DesignError("this file is laid out in a way that cannot be edited here safely; change it by hand")
