# SPDX-License-Identifier: BSD-3-Clause
"""A candidate as a design file: the brief's own keys, and the parts as they were written."""

import json
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

from ringwright.antenna.design import RingShape
from ringwright.antenna.geometry import SIDES

CLEARANCE = "15 mm"
_CAUTION = """\
# Found by a search. Kilovolts stand on the capacitor while you transmit: never touch or adjust it then. Limits and
# codes differ by country; your licence's conditions and your local codes decide.
"""


def candidate_tables(
    shared: Mapping[str, Any],
    *,
    name: str,
    ring: tuple[str, str],
    conductor: Mapping[str, Any],
    capacitor: Mapping[str, Any],
    coupling_diameter: str,
    joints: int = 0,
    build: Mapping[str, str] = MappingProxyType({}),
) -> dict[str, Any]:
    """Tables of a design file; `ring`: shape and perimeter, `joints`: soldered corners, `build`: the table [build]."""
    shape, perimeter = ring
    top = {key: value for key, value in shared.items() if not isinstance(value, dict)}
    tables = {key: value for key, value in shared.items() if isinstance(value, dict)}
    return {
        "format": 1,
        "name": name,
        **top,
        "ring": {
            "shape": shape,
            "perimeter": perimeter,
            **({"joints": joints} if joints else {}),
            "conductor": dict(conductor),
        },
        "coupling": {
            "kind": "loop",
            "diameter": coupling_diameter,
            "clearance": CLEARANCE,
            "conductor": {"kind": "solid", "diameter": "6 mm", "material": "copper"},
        },
        "capacitor": dict(capacitor),
        **({"build": dict(build)} if build else {}),
        **tables,
    }


def corners(shape: str) -> int:
    """Of a polygon; a circle has none."""
    return SIDES.get(RingShape(shape), 0)


def toml_text(tables: Mapping[str, Any]) -> str:
    """A design file's text."""
    return _CAUTION + "\n".join(_lines(tables, "")) + "\n"


def _lines(table: Mapping[str, Any], path: str) -> Iterator[str]:
    inner = {key: value for key, value in table.items() if _is_table(value) or _is_tables(value)}
    for key, value in table.items():
        if key not in inner:
            yield f"{_key(key)} = {_value(value)}"
    for key, value in inner.items():
        here = f"{path}{_key(key)}"
        for each in [value] if isinstance(value, dict) else value:
            yield ""
            yield f"[{here}]" if isinstance(value, dict) else f"[[{here}]]"
            yield from _lines(each, f"{here}.")


def _is_table(value: object) -> bool:
    return isinstance(value, dict)


def _is_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(each, dict) for each in value)


def _key(key: str) -> str:
    return key if key.replace("_", "").replace("-", "").isalnum() and key.isascii() else _text(key)


def _value(value: object) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return _text(value)
        case list():
            return f"[{', '.join(map(_value, value))}]"
        case _:
            return repr(value)


def _text(value: str) -> str:
    """A TOML basic string; its escapes are those of JSON, but for the one control character JSON lets pass."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
