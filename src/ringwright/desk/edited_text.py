# SPDX-License-Identifier: BSD-3-Clause
"""Edits written into a design file's text, so that the person's comments and order stay."""

from collections.abc import Mapping
from contextlib import suppress
from typing import Any

import tomlkit
from tomlkit.items import Item

from ringwright.antenna.design_file import read_tables
from ringwright.desk.edits import Edit, Edits, Value, in_order, with_edits
from ringwright.desk.table_lists import with_table, without_table
from ringwright.errors import DesignError


def text_with_edits(text: str, edits: Edits) -> str:
    """A design file's text with the edits in it, comments and order kept.

    Raises
    ------
    DesignError
        If the text is laid out in a way that cannot be edited without risk to what the person wrote.
    """
    tables = read_tables(text)
    wanted = with_edits(tables, edits)
    try:
        result = _written(text, tables, in_order(edits))
    except (tomlkit.exceptions.TOMLKitError, LookupError, TypeError, RecursionError) as exc:
        raise _cannot_edit() from exc
    if "\r\n" in text:
        result = result.replace("\r\n", "\n").replace("\n", "\r\n")
    with suppress(DesignError):  # what the lines of a list became may be no TOML at all
        if read_tables(result) == wanted:
            return result
    raise _cannot_edit()


def _written(text: str, tables: Mapping[str, Any], edits: list[Edit]) -> str:
    """Values through the document; whole tables of lists, new and gone, by the lines they stand on."""
    document = tomlkit.parse(text)
    fresh: dict[tuple[str, int], dict[str, Value]] = {}
    gone: list[tuple[str, int]] = []
    for edit in edits:
        listed = _table_of_list(edit)
        if listed is None:
            _write(document, [step.name for step in edit.path], edit.value)
        elif edit.takes_out_a_table:
            gone.append(listed)
        elif listed[1] > _count(tables, listed[0]):
            if edit.value is not None:
                fresh.setdefault(listed, {})[edit.key.partition("].")[2]] = edit.value
        else:
            _write_into_list(document, edit)
    result = document.as_string()
    for (name, number), values in fresh.items():
        if (name, number) not in gone:
            result = with_table(result, name, values)
    for name, number in gone:
        if number <= _count(tables, name):
            result = without_table(result, name, number)
    return result


def _table_of_list(edit: Edit) -> tuple[str, int] | None:
    """The list and the number that an edit's path goes through; None for one that meets no list."""
    names: list[str] = []
    for step in edit.path:
        names.append(step.name)
        if step.number is not None:
            return ".".join(names), step.number
    return None


def _count(tables: Mapping[str, Any], name: str) -> int:
    found: Any = tables
    for part in name.split("."):
        found = found.get(part, {})
    return len(found)


def _write_into_list(document: tomlkit.TOMLDocument, edit: Edit) -> None:
    place: Any = document
    for number, step in enumerate(edit.path):
        place = place[step.name]
        if step.number is not None:
            inner = [step.name for step in edit.path[number + 1 :]]
            _write(place[step.number - 1], inner, edit.value)
            return


def _write(document: Any, path: list[str], value: Value | None) -> None:
    table = document
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


def _cannot_edit() -> DesignError:
    return DesignError("this file is laid out in a way that cannot be edited here safely; change it by hand")
