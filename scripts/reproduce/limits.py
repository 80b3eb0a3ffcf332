# SPDX-License-Identifier: BSD-3-Clause
"""What must be kept: exposure levels of law and guideline, and the breakdown of air."""

from collections.abc import Iterator

import numpy as np

from ringwright.physics.breakdown import uniform_gap_breakdown
from ringwright.safety.limits import LIMITS, ExposureLimit, Tier
from scripts.line_chart import Chart, Curve
from scripts.page_tables import Table

CFR = {  # MHz: what Table 1 prints for E [V/m] and H [A/m], public, then occupational
    1.0: ("614", "1.63", "614", "1.63"),
    7.1: ("824/f", "2.19/f", "1842/f", "4.89/f"),
    14.2: ("824/f", "2.19/f", "1842/f", "4.89/f"),
    28.5: ("824/f", "2.19/f", "1842/f", "4.89/f"),
    50.5: ("27.5", "0.073", "61.4", "0.163"),
}
EUROPE = {  # MHz: what Annex III, Table 2 prints for E [V/m] and H [A/m]
    1.9: ("87/√f", "0.73/f"),
    7.1: ("87/√f", "0.73/f"),
    14.2: ("28", "0.073"),
    28.5: ("28", "0.073"),
}
SPHERES = {0.05: 2.8, 0.10: 4.7, 0.20: 8.0, 0.30: 11.2, 0.50: 17.4}
"""IEC 60052, spheres of 2 cm: kilovolts peak against the gap in centimetres (from memory)."""


def cfr() -> Iterator[list[str]]:
    """47 CFR 1.1310."""
    yield ["MHz", "tier", "E, printed", "as a number", "here", "H, printed", "as a number", "here"]
    for mhz, cells in CFR.items():
        for tier, (e, h) in ((Tier.PUBLIC, cells[:2]), (Tier.OCCUPATIONAL, cells[2:])):
            yield [f"{mhz:g}", tier.value, *_sides(_limit("fcc-1.1310", tier), mhz, e=e, h=h)]


def europe() -> Iterator[list[str]]:
    """1999/519/EC."""
    yield ["MHz", "E, printed", "as a number", "here", "H, printed", "as a number", "here"]
    for mhz, (e, h) in EUROPE.items():
        yield [f"{mhz:g}", *_sides(_limit("eu-1999-519", Tier.PUBLIC), mhz, e=e, h=h)]


def breakdown() -> Iterator[list[str]]:
    """Spheres against Schumann's law."""
    yield ["gap", "IEC 60052, spheres of 2 cm", "Schumann's law here", "law is low by"]
    for gap, kilovolt in SPHERES.items():
        law = float(uniform_gap_breakdown(gap / 100.0)) / 1e3
        yield [
            f"{gap * 10.0:g} mm",
            f"{kilovolt:g} kV",
            f"{law:.2f} kV",
            f"{100.0 * (1.0 - law / kilovolt):.1f} %",
        ]


def draw_levels() -> str:
    """Magnetic levels for the public, 1.8 to 54 MHz."""
    f = np.geomspace(1.8e6, 54e6, 240)
    curves = [
        Curve(name=name, x=f / 1e6, y=np.array([_limit(name, Tier.PUBLIC).at(float(one))[1] for one in f]))
        for name in ("fcc-1.1310", "icnirp-2020-whole-body", "icnirp-2020-local", "eu-1999-519")
    ]
    at = np.array([7.1, 14.2, 28.5])
    printed = np.concatenate([2.19 / at, [0.73 / 7.1, 0.073, 0.073]])
    curves.append(Curve(name="printed in law", x=np.tile(at, 2), y=printed, is_printed=True))
    return Chart(
        title="Magnetic levels for the public",
        across="MHz",
        up="A/m, root mean square",
        curves=curves,
        low=0.05,
        high=5.0,
        logarithmic="xy",
    ).drawn()


def draw_breakdown() -> str:
    """Breakdown of a gap."""
    gap = np.linspace(0.02, 0.5, 100)
    curves = (
        Curve(name="Schumann's law here", x=gap * 10.0, y=uniform_gap_breakdown(gap / 100.0) / 1e3),
        Curve(
            name="IEC 60052, spheres",
            x=np.array(list(SPHERES)) * 10.0,
            y=np.array(list(SPHERES.values())),
            is_printed=True,
        ),
    )
    return Chart(
        title="Breakdown of air", across="gap in mm", up="kV peak", curves=curves, low=0.0, high=18.0
    ).drawn()


def _limit(name: str, tier: Tier) -> ExposureLimit:
    return next(row for row in LIMITS if row.name == name and row.tier is tier)


def _sides(limit: ExposureLimit, mhz: float, *, e: str, h: str) -> Iterator[str]:
    """What is printed, that as a number, and the program's value, of both fields."""
    for printed, found in zip((e, h), limit.at(mhz * 1e6), strict=True):
        head, _, below = printed.partition("/")
        number = float(head) / {"": 1.0, "f": mhz, "√f": mhz**0.5}[below]
        yield printed
        yield f"{number:.4g}"
        yield f"{found:.4g}"


TABLES: dict[str, Table] = {"cfr": cfr, "europe": europe, "breakdown": breakdown}
PICTURES = {"levels": draw_levels, "breakdown": draw_breakdown}
