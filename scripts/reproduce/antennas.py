# SPDX-License-Identifier: BSD-3-Clause
"""Radiation: dipoles side by side, the textbook's loop, the tuned ring, elements over earth, Fresnel's coefficients."""

from collections.abc import Iterator

import numpy as np

from ringwright.physics.conductors import surface_resistance
from ringwright.physics.constants import C_0
from ringwright.physics.half_space import complex_permittivity, wavenumber
from ringwright.physics.half_space.sky import fresnel
from ringwright.physics.small_loop import small_loop_radiation_resistance, tuning_capacitance
from scripts.line_chart import Chart, Curve
from scripts.page_tables import Table
from tests.physics.wires import ring, solve
from tests.published.emf_dipole import side_by_side
from tests.published.test_carter_1932_dipoles import BOOK, reactions
from tests.published.test_sommerfeld_input_resistance import TABLE as OVER_EARTH
from tests.published.test_sommerfeld_input_resistance import X, Y, Z, added, dipole, loop

CARTER = {
    0.10: 67.333615 + 7.537792j,
    0.25: 40.785720 - 28.349052j,
    0.50: -12.532077 - 29.928641j,
    0.75: -22.496807 + 6.632232j,
    1.00: 4.011631 + 17.742029j,
}
"""Mutual impedance by his formulas, by another program [ohm], against the distance in wavelengths."""
STORER = {
    3.60: (1.014, 841.4),
    7.10: (1.060, 213.0),
    10.12: (1.127, 102.6),
    14.20: (1.272, 49.9),
    21.20: (1.763, 19.9),
    28.50: (3.08, 8.9),
}
"""3 m of 22 mm tube: resistance at the gap over the small loop's, and what tunes it [pF], against MHz."""
FRESNEL = {
    5.0: (-0.95504 + 0.01086j, -0.49441 - 0.08005j),
    10.0: (-0.91233 + 0.02065j, -0.19183 - 0.10200j),
    20.0: (-0.83438 + 0.03711j, 0.14599 - 0.10436j),
    30.0: (-0.76720 + 0.04970j, 0.32466 - 0.09649j),
    90.0: (-0.58851 + 0.07469j, 0.58851 - 0.07469j),
}
"""Horizontal and vertical coefficient over average earth at 14.2 MHz, against the elevation in degrees."""
PERIMETER, TUBE = 3.0, 0.011
KINDS = {
    "vertical dipole": (dipole, Z),
    "level dipole": (dipole, X),
    "lying loop": (loop, Z),
    "standing loop": (loop, Y),
}


def carter() -> Iterator[list[str]]:
    """Two half-wave dipoles side by side."""
    yield ["distance", "Carter's formula, another program", "this solver's matrix, half sines imposed"]
    for distance, expected in CARTER.items():
        found = BOOK * reactions(80, (distance, 0.0, 0.0))[1]
        yield [f"{distance:g} λ", _ohms(expected), _ohms(found)]


def balanis() -> Iterator[list[str]]:
    """The loop antenna's worked example."""
    yield ["figure", "printed", "computed here"]
    area, wavelength = np.pi * 0.12**2, 3.0
    loss = 0.12 / 3e-4 * float(surface_resistance(100e6, 5.7e7))
    for turns, factor, printed in (
        (1, 1.0, ("0.788", "1.053", "42.8")),
        (8, 1.38, ("50.43", "11.62", "81.3")),
    ):
        radiated = float(small_loop_radiation_resistance(C_0 / wavelength, area=area, turns=turns))
        lost = turns * factor * loss
        name = "one turn" if turns == 1 else f"{turns} turns"
        yield [f"{name}: radiation resistance", f"{printed[0]} ohm", f"{radiated:.4g} ohm"]
        yield [f"{name}: loss resistance", f"{printed[1]} ohm", f"{lost:.4g} ohm"]
        yield [f"{name}: efficiency", f"{printed[2]} %", f"{100.0 * radiated / (radiated + lost):.1f} %"]


def storer() -> Iterator[list[str]]:
    """What tunes a ring of 3 m."""
    yield ["MHz", "series: R at the gap / small loop", "here", "series: tuned by", "here, 48 segments"]
    for mhz, (over, picofarad) in STORER.items():
        f = mhz * 1e6
        z = solve(ring(PERIMETER, TUBE, 48), [0], f).impedance[0, 0, 0]
        small = float(small_loop_radiation_resistance(f, area=PERIMETER**2 / (4.0 * np.pi)))
        found = 1e12 * float(tuning_capacitance(f, z.imag))
        yield [f"{mhz:g}", f"{over:.3f}", f"{z.real / small:.3f}", f"{picofarad:.1f} pF", f"{found:.1f} pF"]


def over_earth() -> Iterator[list[str]]:
    """Resistance of elements over average earth against free space."""
    yield ["MHz", "height", *(f"{name}: {whose}" for name in KINDS for whose in ("table", "here"))]
    for frequency, level, *values, _, _ in OVER_EARTH:
        row = [f"{frequency / 1e6:g}", f"{level:g} λ"]
        for kind, expected in zip(KINDS, values, strict=True):
            row += [f"{expected:.4f}", f"{_relative(kind, level, frequency):.4f}"]
        yield row


def draw_carter() -> str:
    """Mutual resistance and reactance against distance."""
    distance = np.linspace(0.05, 2.0, 60)
    found = np.array([BOOK * reactions(40, (float(one), 0.0, 0.0))[1] for one in distance])
    at = np.array(sorted({*CARTER, 1.25, 1.5, 1.75, 2.0}))
    printed = np.array([BOOK * side_by_side(float(one)) for one in at])
    curves = (
        Curve(name="resistance, this solver", x=distance, y=found.real),
        Curve(name="reactance, this solver", x=distance, y=found.imag),
        Curve(name="Carter's formula", x=at, y=printed.real, is_printed=True),
        Curve(name="Carter's formula, reactance", x=at, y=printed.imag, is_printed=True),
    )
    title = "Mutual impedance of two half-wave dipoles side by side"
    return Chart(
        title=title, across="distance over wavelength", up="ohm", curves=curves, low=-40.0, high=80.0
    ).drawn()


def draw_over_earth() -> str:
    """Elements over average earth at 7.1 MHz."""
    level = np.geomspace(0.04, 1.0, 28)
    curves = [
        Curve(name=kind, x=level, y=np.array([_relative(kind, float(one), 7.1e6) for one in level]))
        for kind in KINDS
    ]
    rows = [row for row in OVER_EARTH if row[0] == 7.1e6]
    x = np.array([row[1] for row in rows for _ in range(4)])
    y = np.array([value for row in rows for value in row[2:6]])
    curves.append(Curve(name="Sommerfeld's integrals, another program", x=x, y=y, is_printed=True))
    return Chart(
        title="Resistance of elements over average earth at 7.1 MHz, over that in free space",
        across="height over wavelength",
        up="resistance over that in free space",
        curves=curves,
        low=0.0,
        high=5.0,
        logarithmic="x",
    ).drawn()


def draw_fresnel() -> str:
    """Reflection of average earth against elevation."""
    degrees = np.linspace(0.0, 90.0, 181)
    horizontal, vertical = fresnel(np.radians(degrees), complex_permittivity(14.2e6, 13.0, 5e-3))
    at = np.array(list(FRESNEL))
    printed = np.abs(np.array(list(FRESNEL.values())))
    curves = (
        Curve(name="horizontal", x=degrees, y=np.abs(horizontal)),
        Curve(name="vertical", x=degrees, y=np.abs(vertical)),
        Curve(name="formulas, another program", x=np.tile(at, 2), y=printed.T.ravel(), is_printed=True),
    )
    title = "Fresnel's coefficients of average earth at 14.2 MHz"
    return Chart(
        title=title,
        across="elevation in degrees",
        up="size of the reflection",
        curves=curves,
        low=0.0,
        high=1.0,
    ).drawn()


def _relative(kind: str, level: float, frequency: float) -> float:
    make, way = KINDS[kind]
    k = wavenumber(frequency)
    source = make(way, level * 2.0 * np.pi / k, k)
    return 1.0 + added(source, frequency, complex_permittivity(frequency, 13.0, 5e-3)).real


def _ohms(z: complex) -> str:
    return f"{z.real:.3f} {'+' if z.imag > 0.0 else '−'} j{abs(z.imag):.3f} ohm"


TABLES: dict[str, Table] = {"carter": carter, "balanis": balanis, "storer": storer, "over-earth": over_earth}
PICTURES = {"carter": draw_carter, "over-earth": draw_over_earth, "fresnel": draw_fresnel}
