# SPDX-License-Identifier: BSD-3-Clause
"""Tables of a list, [[such.as.these]], put into a design file's text or taken out of it, line by line.

What stands behind a table's last value, up to the next header, introduces what follows and stays where it is. Lines
are told by their first characters only; whoever calls compares what comes out with what was meant.
"""

import re
from collections.abc import Mapping
from typing import Any

import tomlkit


def with_table(text: str, name: str, values: Mapping[str, Any]) -> str:
    """A table more at the end of the list `name`; where there is no list yet, behind the tables it belongs to."""
    lines = text.splitlines(keepends=True)
    family = name.rpartition(".")[0] or name
    headers = _headers(lines)
    own = [start for start, header in headers if header == name]
    kin = [start for start, header in headers if f"{header}.".startswith(f"{family}.")]
    start = max(own or kin, default=None)
    place = len(lines) if start is None else _end_of_values(lines, start)
    before = "".join(lines[:place])
    written = [f"{key} = {tomlkit.item(value).as_string()}\n" for key, value in values.items()]
    gap = "\n" if before.endswith("\n") or not before else "\n\n"
    return before + "".join([gap, f"[[{name}]]\n", *written, *lines[place:]])


def without_table(text: str, name: str, number: int) -> str:
    """The text without the table `number`, from 1, of the list `name`.

    Raises
    ------
    LookupError
        If the text has no such header on a line of its own.
    """
    lines = text.splitlines(keepends=True)
    start = [start for start, header in _headers(lines) if header == name][number - 1]
    end = _end_of_values(lines, start)
    is_spaced = start > 0 and end < len(lines) and not (lines[start - 1].strip() or lines[end].strip())
    return "".join([*lines[: start - is_spaced], *lines[end:]])


def _headers(lines: list[str]) -> list[tuple[int, str]]:
    """Line number and name of every header."""
    found = ((number, re.match(r"\s*\[\[?\s*([\w.-]+)\s*\]", line)) for number, line in enumerate(lines))
    return [(number, match[1]) for number, match in found if match]


def _end_of_values(lines: list[str], start: int) -> int:
    """The line after the last value of the table whose header is line `start`."""
    end = min((number for number, _ in _headers(lines) if number > start), default=len(lines))
    while lines[end - 1].strip() == "" or lines[end - 1].lstrip().startswith("#"):
        end -= 1
    return end
