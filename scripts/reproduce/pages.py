# SPDX-License-Identifier: BSD-3-Clause
"""Which tables and pictures stand on which page."""

from collections.abc import Callable
from pathlib import Path

from scripts.page_tables import Table
from scripts.reproduce import antennas, conductors, limits, numbers

_DOCS = Path("docs/reproductions")
_DRAWN = Path("docs/pictures")
PAGES: dict[Path, dict[str, Table]] = {
    _DOCS / "antennas.md": antennas.TABLES,
    _DOCS / "conductors.md": conductors.TABLES,
    _DOCS / "limits.md": limits.TABLES,
    _DOCS / "numbers.md": numbers.TABLES,
}
PICTURES: dict[Path, Callable[[], str]] = {
    _DRAWN / f"reproduced-{name}.svg": draw
    for part in (antennas.PICTURES, conductors.PICTURES, limits.PICTURES, numbers.PICTURES)
    for name, draw in part.items()
}
