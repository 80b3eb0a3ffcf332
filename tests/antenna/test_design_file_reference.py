# SPDX-License-Identifier: BSD-3-Clause
"""docs/reference/design-file.md says what the reader reads: keys, defaults, names, numbers; and its examples run."""

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

import pytest
import tomlkit
from pydantic import BaseModel

from ringwright.antenna.bands import BANDS
from ringwright.antenna.design_file import parse_design
from ringwright.antenna.design_file.models import BAND_NAMES, CAPACITOR_KINDS, MADE_KINDS, DesignTable
from ringwright.antenna.dielectrics import CABLES, DIELECTRICS
from ringwright.antenna.earths import EARTHS
from ringwright.antenna.materials import MATERIALS
from ringwright.antenna.modes import MODE_FACTORS
from ringwright.antenna.shaft_materials import SHAFT_MATERIALS

PAGE = (Path(__file__).parents[2] / "docs" / "reference" / "design-file.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```toml\n(.*?)```", PAGE, re.DOTALL)
ROWS = [line for line in PAGE.splitlines() if line.startswith("|")]


def tables(annotation: Any) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
        for field in annotation.model_fields.values():
            yield from tables(field.annotation)
    for argument in get_args(annotation):
        yield from tables(argument)


FIELDS = [
    (field.alias or name, field.default, bool(field.json_schema_extra))
    for table in dict.fromkeys(tables(DesignTable))
    for name, field in table.model_fields.items()
    if not list(tables(field.annotation))
]


@pytest.mark.parametrize("key", sorted({key for key, _, _ in FIELDS}))
def test_every_key_has_a_row(key):
    assert any(f"`{key}`" in row.split(" | ")[0] for row in ROWS)


@pytest.mark.parametrize(("key", "value"), [(key, value) for key, value, has_reason in FIELDS if has_reason])
def test_every_default_stands_in_its_row(key, value):
    shown = f"{value:g}" if isinstance(value, float) else str(value)
    rows = [row for row in ROWS if f"`{key}`" in row.split(" | ")[0]]
    assert any(f"`{shown}`" in row or f'`"{shown}"`' in row for row in rows)


@pytest.mark.parametrize(
    "name",
    [
        *MATERIALS,
        *EARTHS,
        *MODE_FACTORS,
        *CAPACITOR_KINDS,
        *MADE_KINDS,
        *DIELECTRICS,
        *CABLES,
        *BAND_NAMES,
        *SHAFT_MATERIALS,
    ],
)
def test_every_name_is_listed(name):
    assert f"`{name}`" in PAGE


@pytest.mark.parametrize("name", BAND_NAMES)
def test_band_edges_are_those_of_the_program(name):
    (row,) = [row for row in ROWS if row.startswith(f"| `{name}`")]
    edges = [f"{BANDS[region][name].low / 1e3:g}-{BANDS[region][name].high / 1e3:g}" for region in (1, 2, 3)]
    assert row.split(" | ")[1:] == [*edges[:2], f"{edges[2]} |"]


@pytest.mark.parametrize("example", EXAMPLES)
def test_every_example_reads(example):
    least = tomllib.loads(EXAMPLES[0])
    # An example that shows one table stands in for that table of the least file.
    design = parse_design(tomlkit.dumps(least | tomllib.loads(example)), source="design-file.md")
    assert design.name == "Least"
