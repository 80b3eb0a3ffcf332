# SPDX-License-Identifier: BSD-3-Clause
"""Compute the tables of docs/explanation/site.md and write them there: `python -m scripts.write_site_tables`.

Each table stands between `<!-- table NAME -->` and `<!-- end -->`. All are of the scenario's octagon on 40 m, at 25 W.
"""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from ringwright.antenna.bands import bands_of
from ringwright.antenna.design import Design, SiteMesh, SiteWire, Target
from ringwright.antenna.directions_document import directions
from ringwright.antenna.earths import EARTHS
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.figures.directions import DIRECTION_FIGURES
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import BandPrediction
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_design
from scripts.page_tables import Table, with_tables

PAGE = Path("docs/explanation/site.md")
STEEL: dict[str, Any] = {"conductivity": 7e6, "mu_r": 100.0}
ALUMINIUM: dict[str, Any] = {"conductivity": 25e6, "mu_r": 1.0}
_BUDGET = ("watts_pct.sky", "watts_pct.earth")
_PATTERN = ("pattern.gain_max_dbi", "pattern.elevation_deg", "pattern.gain_20deg_dbi")


def octagon(*, band: str = "40m", horizontal: bool = False, **site: Any) -> Design:
    """The scenario's octagon on one band without its metal, its site changed."""
    design = shipped_design(TERRACE_OCTAGON).without_metal()
    found = bands_of(1)[band]
    ring = replace(design.ring, tilt=np.pi / 2.0) if horizontal else design.ring
    target = Target(band=band, frequency=found.centre, low=found.low, high=found.high)
    return replace(design, targets=(target,), ring=ring, site=replace(design.site, people=(), **site))


def heights() -> Iterator[list[str]]:
    """Sky and earth against height, the ring standing and lying."""
    yield [
        "lowest point",
        *(f"standing: {word}" for word in _heads(_BUDGET)),
        "gain at 20 deg",
        *(f"lying: {word}" for word in _heads(_BUDGET)),
        "gain at 20 deg",
    ]
    for height in (0.3, 0.6, 1.0, 1.8, 3.0, 6.0, 10.0, 20.0):
        keys = (*_BUDGET, "pattern.gain_20deg_dbi")
        both = (_band(octagon(height=height, horizontal=lying)) for lying in (False, True))
        yield [f"{height:g} m", *(text for band in both for text in _texts(band, keys))]


def soils() -> Iterator[list[str]]:
    """The same ring over every named earth."""
    keys = (*_BUDGET, "q_unloaded", *_PATTERN)
    yield ["earth", "mS/m", "permittivity", *_heads(keys)]
    for name, named in EARTHS.items():
        earth = named.earth
        constants = (
            ["-", "-"] if earth.perfect else [f"{earth.conductivity * 1e3:g}", f"{earth.permittivity:g}"]
        )
        yield [name, *constants, *_texts(_band(octagon(earth=earth)), keys)]
    yield ["free space", "-", "-", *_texts(_band(octagon(earth=None)), keys)]


def metal() -> Iterator[list[str]]:
    """What stands beside the ring."""
    keys = (*_BUDGET, "watts_pct.metal", "q_unloaded", "tuning.capacitance_f", "pattern.gain_20deg_dbi")
    yield ["beside the ring", *_heads(keys)]
    for name, pieces in _pieces().items():
        yield [name, *_texts(_band(octagon(metal=pieces)), keys)]


def beside_a_dipole() -> Iterator[list[str]]:
    """The ring against a half-wave dipole at its centre's height."""
    yield [
        "band",
        "lowest point",
        "ring's largest gain",
        "dipole's largest gain",
        "ring over dipole",
        "at 20 deg",
    ]
    for band in ("60m", "40m", "30m"):
        for height in (1.8, 10.0):
            design = octagon(band=band, height=height)
            found = directions(design, predict(design))[0]
            figures = DIRECTION_FIGURES
            yield [
                band,
                f"{height:g} m",
                FIGURES["pattern.gain_max_dbi"].text(found.band.pattern.gain_max_dbi),
                figures["dipole.gain_max_dbi"].text(found.dipole.gain_max_dbi),
                figures["dipole.ahead_db"].text(found.ahead_db),
                figures["dipole.ahead_20deg_db"].text(found.ahead_20deg_db),
            ]


def _pieces() -> dict[str, tuple[SiteWire | SiteMesh, ...]]:
    slab = SiteMesh(
        corner=(-1.5, -1.5, 1.2),
        along=(3.0, 0.0, 0.0),
        across=(0.0, 3.0, 0.0),
        spacing=0.5,
        diameter=0.01,
        **STEEL,
    )
    return {
        "nothing": (),
        "4 m of steel rail, 1.2 m away": (_rail(1.2, 2.0),),
        "the same, 0.3 m away": (_rail(0.3, 2.0),),
        "20 m of steel rail, half a wave, 1.2 m away": (_rail(1.2, 10.0),),
        "steel frame, cut in one corner, 0.5 m away": _frame(0.01, **STEEL),
        "the same, bonded": _frame(0.0, **STEEL),
        "bonded frame of aluminium": _frame(0.0, **ALUMINIUM),
        "slab with steel mesh, 0.6 m below": (slab,),
    }


def _rail(away: float, half: float) -> SiteWire:
    return SiteWire(kind="railing", start=(-half, away, 2.5), end=(half, away, 2.5), diameter=0.04, **STEEL)


def _frame(cut: float, *, conductivity: float, mu_r: float) -> tuple[SiteWire, ...]:
    """A rectangle of 2 m by 1.6 m abreast of the ring."""
    corners = [(-1.0, 0.5, 1.7), (1.0, 0.5, 1.7), (1.0, 0.5, 3.3), (-1.0, 0.5, 3.3)]
    ends = [*corners[1:], (-1.0, 0.5, 1.7 + cut)]
    return tuple(
        SiteWire(kind="frame", start=a, end=b, diameter=0.03, conductivity=conductivity, mu_r=mu_r)
        for a, b in zip(corners, ends, strict=True)
    )


def _band(design: Design) -> BandPrediction:
    return predict(design).bands[0]


def _heads(keys: tuple[str, ...]) -> list[str]:
    return [FIGURES[key].label for key in keys]


def _texts(band: BandPrediction, keys: tuple[str, ...]) -> list[str]:
    return [FIGURES[key].text(FIGURES[key].of(band)) for key in keys]


TABLES: dict[str, Table] = {
    "heights": heights,
    "soils": soils,
    "metal": metal,
    "dipole": beside_a_dipole,
}


def rewritten(page: str) -> str:
    """The page with its tables as the program has them now."""
    return with_tables(page, TABLES)


if __name__ == "__main__":
    PAGE.write_text(rewritten(PAGE.read_text(encoding="utf-8")), encoding="utf-8", newline="\n")
    print(PAGE)
