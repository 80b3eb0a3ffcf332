# SPDX-License-Identifier: BSD-3-Clause
"""What ships with the program: a first ring for a new workspace, the two of the scenario, and one of them to follow."""

from importlib.resources import files
from typing import Final

from ringwright.antenna.design import Design
from ringwright.antenna.design_file import parse_design

FIRST_RING = "first-ring.toml"
TERRACE_OCTAGON = "terrace-octagon.toml"
RUCKSACK_BRAID = "rucksack-braid.toml"
EXAMPLES: Final = {"terrace": TERRACE_OCTAGON}
"""Workspaces to follow a lesson in, each with its design."""


def shipped_text(name: str) -> str:
    """A shipped design file as it is, comments and all."""
    return files(__name__).joinpath(name).read_text(encoding="utf-8")


def shipped_design(name: str) -> Design:
    """A shipped design file, read."""
    return parse_design(shipped_text(name), source=name)


def example_files(name: str) -> dict[str, str]:
    """What the workspace of an example holds, by path in it: a design, a brief, and simulated sweeps and reports."""
    design = EXAMPLES[name]
    folder = files(__name__).joinpath(name)
    plain = {one.name: one for one in folder.iterdir() if one.is_file()}
    swept = {f"sweeps/{one.name}": one for one in folder.joinpath("sweeps").iterdir()}
    found = {path: one.read_text(encoding="utf-8") for path, one in sorted((plain | swept).items())}
    return {f"designs/{design}": shipped_text(design)} | found
