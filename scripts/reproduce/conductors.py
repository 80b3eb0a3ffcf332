# SPDX-License-Identifier: BSD-3-Clause
"""Metal: skin effect in round wire, turns side by side, polygons, coaxial circles, wire gauges and tubes."""

from collections.abc import Iterator

import numpy as np

from ringwright.physics.conductors import solid_wire_impedance
from ringwright.physics.constants import MU_0
from ringwright.physics.graph import FloatArray
from ringwright.physics.inductance import polygon_constant
from ringwright.physics.mutual_inductance import mutual_inductance_coaxial
from ringwright.physics.proximity import proximity_factor
from ringwright.safety.mechanics.masses import mass_per_metre
from ringwright.units import to_si
from scripts.line_chart import Chart, Curve
from scripts.page_tables import Table
from tests.published.test_astm_b258_wire_gauge import MILS
from tests.published.test_en_1057_astm_b88_tubes import ASTM_B88, EN_1057, FOOT, INCH, POUND, tube
from tests.published.test_nbs_circular_74_skin_effect import RADIUS, SIGMA
from tests.published.test_smith_1972_proximity import TABLE as SMITH

CIRCULAR_74 = {1.0: "1.0052", 2.0: "1.0782", 3.0: "1.3181", 4.0: "1.6779", 10.0: "3.799", 100.0: "35.607"}
"""Resistance over that at direct current, as the Circular prints it (from memory), against x."""
GROVER = {3: "-1.40546", 4: "-0.77401", 6: "-0.15152", 8: "0.21198"}


def skin() -> Iterator[list[str]]:
    """Round wire."""
    yield ["x", "R/R0, printed", "computed here"]
    for x, printed in CIRCULAR_74.items():
        yield [f"{x:g}", printed, f"{float(_over_direct(np.array([x]))[0]):.6g}"]


def turns() -> Iterator[list[str]]:
    """Added loss of turns in a row."""
    yield ["spacing over diameter", *(f"{count} turns: table, here" for count in (2, 3, 4, 8))]
    for closeness, row in SMITH.items():
        found = (
            (row[n - 2], proximity_factor(n, spacing=closeness, diameter=1.0) - 1.0) for n in (2, 3, 4, 8)
        )
        yield [f"{closeness:.2f}", *(f"{table:.4f}, {here:.4f}" for table, here in found)]


def polygons() -> Iterator[list[str]]:
    """Grover's constants, and the worked example of two circles."""
    yield ["what", "printed", "computed here"]
    for sides, printed in GROVER.items():
        yield [
            f"polygon of {sides} sides, constant",
            printed.replace("-", "−"),
            f"{polygon_constant(sides):.6f}".replace("-", "−"),
        ]
    mutual = float(mutual_inductance_coaxial(0.25, 0.20, distance=0.10))
    yield ["coaxial circles of 25 and 20 cm, 10 cm apart", "248.787 nH", f"{mutual * 1e9:.4f} nH"]


def gauges() -> Iterator[list[str]]:
    """American wire gauge."""
    yield ["AWG", "printed", "computed here"]
    for gauge in ("0000", "4", "6", "8", "10", "12", "14", "18", "24", "36"):
        yield [gauge, f"{MILS[gauge]:.1f} mil", f"{to_si(f'AWG {gauge}', 'm') / 25.4e-6:.2f} mil"]


def tubes() -> Iterator[list[str]]:
    """Masses of water tube."""
    yield ["tube", "printed", "computed here"]
    for diameter, wall, printed in EN_1057:
        found = mass_per_metre(tube(diameter * 1e-3, wall * 1e-3))
        yield [f"EN 1057, {diameter} x {wall:g} mm", f"{printed:.2f} kg/m", f"{found:.4f} kg/m"]
    for outer, thick, pounds in ASTM_B88:
        found = mass_per_metre(tube(outer * INCH, thick * INCH)) * FOOT / POUND
        yield [f"ASTM B88, {outer:.3f} x {thick:.3f} in", f"{pounds:.3f} lb/ft", f"{found:.4f} lb/ft"]


def draw_skin() -> str:
    """R/R0 against x."""
    x = np.geomspace(0.5, 100.0, 120)
    at = np.array(list(CIRCULAR_74))
    curves = (
        Curve(name="computed here", x=x, y=_over_direct(x)),
        Curve(
            name="printed in Circular 74",
            x=at,
            y=np.array([float(one) for one in CIRCULAR_74.values()]),
            is_printed=True,
        ),
    )
    return Chart(
        title="Skin effect in a round wire",
        across="x = radius times root of (angular frequency, permeability, conductivity)",
        up="resistance over that at direct current",
        curves=curves,
        low=0.9,
        high=50.0,
        logarithmic="xy",
        names_left=True,
    ).drawn()


def draw_turns() -> str:
    """Added loss against spacing, two to eight turns."""
    closeness = np.geomspace(1.03, 4.0, 40)
    curves = [
        Curve(
            name=f"{count} turns",
            x=closeness,
            y=np.array([proximity_factor(count, spacing=float(c), diameter=1.0) - 1.0 for c in closeness]),
        )
        for count in (2, 3, 4, 8)
    ]
    at = np.array([c for c in SMITH for _ in range(4)])
    printed = np.array([SMITH[c][n - 2] for c in SMITH for n in (2, 3, 4, 8)])
    curves.append(Curve(name="table", x=at, y=printed, is_printed=True))
    return Chart(
        title="Added loss of turns side by side",
        across="spacing of the axes over diameter",
        up="added resistance over that of single turns",
        curves=curves,
        low=0.0,
        high=2.5,
    ).drawn()


def _over_direct(x: FloatArray) -> FloatArray:
    f = x**2 / (2.0 * np.pi * MU_0 * SIGMA * RADIUS**2)
    z = solid_wire_impedance(f, radius=RADIUS, conductivity=SIGMA)
    return np.asarray(z.real * np.pi * RADIUS**2 * SIGMA)


TABLES: dict[str, Table] = {
    "skin": skin,
    "turns": turns,
    "polygons": polygons,
    "gauges": gauges,
    "tubes": tubes,
}
PICTURES = {"skin": draw_skin, "turns": draw_turns}
