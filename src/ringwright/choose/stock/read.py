# SPDX-License-Identifier: BSD-3-Clause
"""The stock's data files, each with its source."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

STOCK_FILES = ("en-1057", "astm-b88", "wire", "coax", "capacitors")


def stock_tables(kind: str) -> list[dict[str, Any]]:
    """Tables of all files, `kind` "conductors" or "capacitors": a name, and a design file's keys."""
    return [dict(table) for name in STOCK_FILES for table in _file(name).get(kind, [])]


def stock_source(name: str) -> str:
    """Where a file's numbers come from."""
    return str(_file(name)["source"])


@cache
def _file(name: str) -> dict[str, Any]:
    return tomllib.loads(files(__package__).joinpath(f"{name}.toml").read_text(encoding="utf-8"))
