# SPDX-License-Identifier: BSD-3-Clause
"""Whatever bytes and values come in: a design that holds only finite numbers, or one sentence. Never anything else."""

import contextlib
import dataclasses
import math
import re
import tomllib
from pathlib import Path

import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ringwright.antenna.design_file import load_design, parse_design
from ringwright.errors import DesignError

EXAMPLE = Path(__file__).with_name("contract_example.toml").read_text(encoding="utf-8")
TABLES = tomllib.loads(EXAMPLE)

numbers = (
    st.integers(-(2**63), 2**63 - 1)
    | st.floats()
    | st.sampled_from([0, 1, -1, 1e-300, 1e300, math.nan, math.inf])
)
units = st.sampled_from(
    ["m", "mm", "in", "ft", "MHz", "pF", "ohm", "W", "kV", "A", "MS/m", "deg", "degC", "dB", "turns", ""]
)
quantities = st.builds(lambda number, unit: f"{number} {unit}", numbers | st.integers(0, 200), units)
names = st.sampled_from(
    [
        "circle",
        "square",
        "oval",
        "polygon",
        "tube",
        "solid",
        "strip",
        "braid",
        "air",
        "vacuum",
        "copper",
        "mesh",
        "centre",
    ]
)
scalars = numbers | quantities | names | st.booleans() | st.text(max_size=20)
values = st.recursive(
    scalars,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=12,
)


def paths(table: object, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    inner = table.items() if isinstance(table, dict) else enumerate(table) if isinstance(table, list) else ()
    return [found for key, value in inner for found in [(*path, key), *paths(value, (*path, key))]]


def read(text: str) -> None:
    """Read a text that may be anything; only a right design or a sentence may come out."""
    try:
        design = parse_design(text, source="fuzz.toml")
    except DesignError as exc:
        message = str(exc)
    else:
        assert_finite(dataclasses.asdict(design))
        return
    assert message.startswith("fuzz.toml: ")
    assert "\n" not in message
    assert len(message) < 600


def assert_finite(value: object) -> None:
    if isinstance(value, float):
        assert math.isfinite(value)
    elif isinstance(value, dict):
        for inner in value.values():
            assert_finite(inner)
    elif isinstance(value, list | tuple):
        for inner in value:
            assert_finite(inner)


@given(st.text())
def test_any_text(text):
    read(text)


@given(st.binary(max_size=2000))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_bytes(tmp_path, content):
    path = tmp_path / "any.toml"
    path.write_bytes(content)
    with contextlib.suppress(DesignError):
        load_design(path)


@given(st.integers(0, len(EXAMPLE)), st.integers(0, 40), st.text(max_size=20))
def test_example_with_a_piece_of_it_replaced_by_any_text(start, length, text):
    read(EXAMPLE[:start] + text + EXAMPLE[start + length :])


@given(st.lists(st.tuples(st.sampled_from(paths(TABLES)), values), min_size=1, max_size=3))
@settings(max_examples=400)
def test_example_with_any_value_under_any_key(changes):
    tables = tomllib.loads(EXAMPLE)
    for path, value in changes:
        parent: object = tables
        with contextlib.suppress(
            KeyError, IndexError, TypeError, AttributeError
        ):  # an earlier change took it away
            for key in path[:-1]:
                parent = parent[key]  # type: ignore[index]
            parent[path[-1]] = value  # type: ignore[index]
    text = ""
    with contextlib.suppress(ValueError):  # what TOML cannot hold
        text = tomlkit.dumps(tables)
    read(text)


@given(st.lists(st.tuples(st.integers(0, 40), st.floats(-10, 4)), min_size=1, max_size=4))
@settings(max_examples=400)
def test_example_with_any_size_in_its_quantities(changes):
    text = EXAMPLE
    for which, exponent in changes:
        found = list(re.finditer(r'"[0-9.]+ (?=[a-zA-Z/]+")', text))
        place = found[which % len(found)]
        text = f'{text[: place.start()]}"{10**exponent:.6g} {text[place.end() :]}'
    read(text)


@given(st.sampled_from(paths(TABLES)), st.text(max_size=12))
def test_example_with_any_key_renamed(path, name):
    tables = tomllib.loads(EXAMPLE)
    parent: object = tables
    for key in path[:-1]:
        parent = parent[key]  # type: ignore[index]
    if isinstance(parent, dict):
        parent[name] = parent.pop(path[-1])
    read(tomlkit.dumps(tables))
