# SPDX-License-Identifier: BSD-3-Clause
"""How the figures of a build are written down, and the sources that several of them share."""

from typing import NamedTuple

from ringwright.antenna.figures.figure import Figure, Scale

KILOGRAM = Scale("kg", "kg", 1.0)
KILOGRAM_PER_METRE = Scale("kg/m", "kg/m", 1.0)
NEWTON = Scale("N", "N", 1.0)
NEWTON_METRE = Scale("N m", "N m", 1.0)
PASCAL = Scale("Pa", "Pa", 1.0)
MEGAPASCAL = Scale("Pa", "MPa", 1e-6)
METRE_PER_SECOND = Scale("m/s", "m/s", 1.0)
METRE = Scale("m", "m", 1.0)
MINUTE = Scale("s", "min", 1.0 / 60.0)

PRACTICE = "common practice, no source"
OWN = "docs/explanation/mechanics.md"
WIND = f"EN 1991-1-4:2005 and S. F. Hoerner, Fluid-Dynamic Drag, 1965 (from memory), {OWN}"
EQU = f"EN 1990:2002, table A1.2(A) (from memory), {OWN}"
BEAMS = f"S. Timoshenko, Strength of Materials, 1955 (from memory), {OWN}"
STATIC = "static wind, hard level ground; local codes decide what wind counts where it stands"


class Row(NamedTuple):
    """A figure as it is written below: `text` is its definition, formula, source and validity."""

    key: str
    label: str
    scale: Scale
    digits: int
    text: tuple[str, str, str, str]
    inputs: tuple[str, ...]


def figure(row: Row) -> Figure:
    definition, formula, source, validity = row.text
    return Figure(
        key=row.key,
        label=row.label,
        scale=row.scale,
        digits=row.digits,
        definition=definition,
        formula=formula,
        inputs=row.inputs,
        source=source,
        validity=validity,
    )
