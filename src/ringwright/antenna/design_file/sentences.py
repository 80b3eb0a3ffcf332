# SPDX-License-Identifier: BSD-3-Clause
"""One sentence for the person at the bench out of what pydantic found: the key, the value, the remedy."""

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from ringwright.antenna.design_file.fields import is_later_format, nearest
from ringwright.antenna.design_file.models import DesignTable, Table
from ringwright.errors import DesignError
from ringwright.units import shown

DESIGN_REFERENCE = "docs/reference/design-file.md"
_TAGS = ("wire", "mesh")  # pydantic puts the kind of metal into the place of an error
_LEADING_KEY = re.compile(r"(?P<key>[a-z_]\w*(?:\[\d+\])*(?:\.[a-z_]\w*(?:\[\d+\])*)*)(?=[:\s])", re.ASCII)
_EXPECTED = {
    "model_type": "must be a table of keys",
    "list_type": "must be a list in square brackets",
}


def refusal(
    error: ValidationError, *, root: type[Table] = DesignTable, reference: str = DESIGN_REFERENCE
) -> DesignError:
    """The first thing to put right. A misspelt key comes first, since a missing one is often the same key.

    `root` is the table that was read, `reference` the page that describes its file.
    """
    details = error.errors(include_url=False)
    later = of_later_format(details)
    unknown = [] if later else [item for item in details if item["type"] == "extra_forbidden"]
    item = later or (unknown or details)[0]
    text = _unknown_key(item["loc"], root) if unknown else _other(item, root, reference)
    return DesignError(text, key=_path(item["loc"]))


def of_later_format(details: Iterable[ErrorDetails]) -> ErrorDetails | None:
    """That the whole file is a newer program's, if it is: whatever else is wrong with it follows from that."""
    return next(
        (item for item in details if item["loc"] == ("format",) and is_later_format(item["input"])), None
    )


def leading_key(text: str) -> str | None:
    """The dotted key that a sentence starts with, as every sentence about one does."""
    match = _LEADING_KEY.match(text)
    if match is None:
        return None
    is_path = "." in match["key"]
    return match["key"] if is_path or match["key"].partition("[")[0] in _keys(DesignTable) else None


def _other(item: ErrorDetails, root: type[Table], reference: str) -> str:
    path, kind = _path(item["loc"]), item["type"]
    context: Mapping[str, Any] = item.get("ctx", {})
    if kind == "missing":
        what = f"the table [{path}]" if _is_table(item["loc"], root) else "it"
        return f"{path} is missing; add {what} ({reference} shows how)"
    if kind == "value_error":
        return f"{path}: {context['error']}"
    if kind in {"too_short", "too_long"}:
        few = kind == "too_short"
        limit = context["min_length"] if few else context["max_length"]
        return f"{path} has {context['actual_length']} entries; give at {'least' if few else 'most'} {limit}"
    if kind == "model_type" and _is_list_of_tables(item["input"]):
        return f"{path} stands in double brackets; there is one, so write [{path}]"
    return f"{path} = {shown(item['input'])} {_EXPECTED.get(kind, 'is not what belongs here')}"


def _is_list_of_tables(value: object) -> bool:
    return isinstance(value, list) and all(isinstance(each, dict) for each in value)


def _path(location: tuple[int | str, ...]) -> str:
    text = ""
    for part in location:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        elif part not in _TAGS:
            text += f".{_quiet(part)}"
    return text.removeprefix(".")


def _quiet(key: str) -> str:
    return key if key.isidentifier() and len(key) <= 40 else shown(key)


def _unknown_key(location: tuple[int | str, ...], root: type[Table]) -> str:
    *parents, key = location
    table = _table_at(tuple(parents), root)
    here, path = _keys(table), _path(location)
    key = str(key)
    close = nearest(key, here)
    if close is not None:
        return f"{path} is not a known key; did you mean {_path((*parents, close))}?"
    elsewhere = [place for place, other in _tables(root, ()) if key in _keys(other)]
    if elsewhere:
        places = " or ".join(
            f"[{place}]" if place else "the top of the file, before any [table]" for place in elsewhere
        )
        return f"{path} is not a known key here; {key} belongs to {places}"
    return f"{path} is not a known key; known here: {', '.join(here)}"


def _keys(table: type[BaseModel]) -> list[str]:
    return [field.alias or name for name, field in table.model_fields.items()]


def _table_at(parents: tuple[int | str, ...], root: type[Table]) -> type[BaseModel]:
    table: type[BaseModel] = root
    for index, part in enumerate(parents):
        if isinstance(part, str) and part not in _TAGS:
            inner = list(_inner(table.model_fields[part].annotation))
            is_mesh = parents[index + 2 : index + 3] == ("mesh",)
            table = inner[-1] if is_mesh else inner[0]
    return table


def _is_table(location: tuple[int | str, ...], root: type[Table]) -> bool:
    *parents, key = location
    fields = _table_at(tuple(parents), root).model_fields
    return any(any(_inner(field.annotation)) for name, field in fields.items() if key in (name, field.alias))


def _inner(annotation: Any) -> Iterator[type[BaseModel]]:
    """The tables inside an annotation such as list[A | B] | None."""
    if isinstance(annotation, type) and issubclass(annotation, Table):
        yield annotation
    for argument in get_args(annotation):
        yield from _inner(argument)


def _tables(table: type[BaseModel], path: tuple[str, ...]) -> Iterator[tuple[str, type[BaseModel]]]:
    yield ".".join(path), table
    for name, field in table.model_fields.items():
        for inner in _inner(field.annotation):
            yield from _tables(inner, (*path, name))
