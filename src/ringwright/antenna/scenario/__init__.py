# SPDX-License-Identifier: BSD-3-Clause
"""The design files that ship with the program: a first ring for a new workspace, and the two of the scenario."""

from importlib.resources import files

from ringwright.antenna.design import Design
from ringwright.antenna.design_file import parse_design

FIRST_RING = "first-ring.toml"
TERRACE_OCTAGON = "terrace-octagon.toml"
RUCKSACK_BRAID = "rucksack-braid.toml"


def shipped_text(name: str) -> str:
    """A shipped design file as it is, comments and all."""
    return files(__name__).joinpath(name).read_text(encoding="utf-8")


def shipped_design(name: str) -> Design:
    """A shipped design file, read."""
    return parse_design(shipped_text(name), source=name)
