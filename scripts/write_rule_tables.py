# SPDX-License-Identifier: BSD-3-Clause
"""Compute tables and figure of docs/explanation/rules-of-thumb.md: `python -m scripts.write_rule_tables`.

Each rule is held against the full-wave solution of the same ring: a circle of copper tube in free space. Frequencies
follow from the size that a row is about, so that nothing but the size changes.
"""

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import numpy as np

from ringwright.antenna.design import (
    Capacitor,
    Conductor,
    ConductorKind,
    Coupling,
    CouplingKind,
    Design,
    Ring,
    RingShape,
    Site,
    Target,
)
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import BandPrediction
from ringwright.antenna.solution import SolutionMemory
from ringwright.physics.constants import C_0
from ringwright.physics.small_loop import lowest_loop_q, uniform_loop_radiation_resistance
from scripts.line_chart import Chart, Curve
from scripts.page_tables import Table, with_tables

PAGE = Path("docs/explanation/rules-of-thumb.md")
PICTURE = Path("docs/pictures/rule-radiation.svg")
PERIMETER, COPPER, POWER = 3.0, 58e6, 100.0
SIZES = (0.03, 0.05, 0.07, 0.1, 0.125, 0.15, 0.2, 0.25, 0.3)
"""Perimeter over wavelength. 3 m at 0.03 is 3 MHz, at 0.3 is 30 MHz."""


@cache
def ring(size: float, *, diameter: float = 0.022, longer: float = 1.0, q: float = 3000.0) -> BandPrediction:
    """A circle at the frequency at which 3 m are `size` wavelengths; `longer` than these 3 m by a factor."""
    return predict(design(size, diameter=diameter, longer=longer, q=q), SolutionMemory()).bands[0]


def design(size: float, *, diameter: float, longer: float, q: float) -> Design:
    """That ring in free space with a capacitor of this Q."""
    frequency = size * C_0 / PERIMETER
    tube = Conductor(kind=ConductorKind.TUBE, diameter=diameter, wall=0.001, conductivity=COPPER)
    wire = Conductor(kind=ConductorKind.SOLID, diameter=0.004, conductivity=COPPER)
    return Design(
        name="rule",
        targets=(Target(band=None, frequency=frequency, low=frequency, high=frequency),),
        power=POWER,
        ring=Ring(shape=RingShape.CIRCLE, perimeter=PERIMETER * longer, conductor=tube),
        coupling=Coupling(kind=CouplingKind.LOOP, diameter=0.15, conductor=wire),
        capacitor=Capacitor(kind="vacuum", minimum=3e-12, maximum=2e-9, q=q),
        site=Site(),
    )


def radiation() -> Iterator[list[str]]:
    """The small loop's resistance against what the gap sees."""
    heads = ("31171 (A/λ²)²", "even current, any size", "full-wave, at the gap", "formula is low by")
    yield ["perimeter", *heads, "efficiency by closed formulas", "full-wave efficiency"]
    for size in SIZES:
        band = ring(size)
        formula, found = band.cross_check.radiation_resistance_small_loop, band.resistance.radiation
        even = float(uniform_loop_radiation_resistance(band.frequency, circumference=PERIMETER))
        row = (f"{_short(one * 1e3)} mohm" for one in (formula, even, found))
        closed = band.cross_check.efficiency_lumped_pct
        assert closed is not None
        both = (f"{_short(one)} %" for one in (closed, band.efficiency_free_space_pct))
        yield [f"{size:g} λ", *row, f"{100.0 * (1.0 - formula / found):.1f} %", *both]


def tuning() -> Iterator[list[str]]:
    """An inductance and a capacitance against what tunes the ring."""
    yield ["perimeter", "1/(ω²L)", "shorted line", "full-wave", "1/(ω²L) is too much by"]
    for size in SIZES:
        band = ring(size)
        lumped, line = band.cross_check.tuning_capacitance_lumped, band.cross_check.tuning_capacitance_line
        assert lumped is not None
        assert line is not None
        row = (f"{_short(one * 1e12)} pF" for one in (lumped, line, band.tuning.capacitance))
        yield [f"{size:g} λ", *row, f"{(lumped - band.tuning.capacitance) * 1e12:.1f} pF"]


def size() -> Iterator[list[str]]:
    """What a ring of a size does with 100 W."""
    heads = ("efficiency", "unloaded Q", "half-power width over frequency", "peak volts at 100 W")
    yield ["perimeter", *heads, "current at the gap over the largest", "directivity"]
    for one in SIZES:
        band = ring(one)
        evenness = band.tuning.capacitor_current_rms / band.tuning.ring_current_max_rms
        directivity = band.pattern.gain_max_dbi - 10.0 * np.log10(band.efficiency_free_space_pct / 100.0)
        row = [f"{one:g} λ", f"{_short(band.efficiency_free_space_pct)} %", f"{band.q_unloaded:.0f}"]
        width = band.bandwidth_half_power / band.frequency
        row += [f"{1e3 * width:.2g} ‰", f"{_short(band.tuning.capacitor_voltage_peak / 1e3)} kV"]
        yield [*row, f"{evenness:.2f}", f"{directivity:.2f} dBi"]


def bound() -> Iterator[list[str]]:
    """The least Q over efficiency, and what a ring of tube has."""
    yield [
        "perimeter",
        "least Q over efficiency",
        "22 mm tube",
        "over the bound",
        "6 mm tube",
        "over the bound",
    ]
    for one in (0.05, 0.1, 0.15, 0.2, 0.3):
        row = [f"{one:g} λ"]
        for number, diameter in enumerate((0.022, 0.006)):
            band = ring(one, diameter=diameter)
            reach = PERIMETER / (2.0 * np.pi) + diameter / 2.0
            least = float(lowest_loop_q(2.0 * np.pi * band.frequency / C_0 * reach))
            found = 100.0 * band.q_unloaded / band.efficiency_free_space_pct
            row += [_whole(least)] if number == 0 else []
            row += [_whole(found), f"{found / least:.2f}"]
        yield row


def thicker_or_longer() -> Iterator[list[str]]:
    """Decibels of efficiency that a thicker tube or a longer ring gains."""
    changes = ("tube 22 to 44 mm", "tube 15 to 22 mm", "ring a tenth longer", "capacitor's Q doubled")
    yield ["perimeter", "capacitor's Q", "efficiency", *changes]
    for one in (0.05, 0.1, 0.2):
        for q in (500.0, 3000.0, 1e6):
            before = _efficiency(one, q=q)
            changed = (
                before - _efficiency(one, q=q, diameter=0.044),
                _efficiency(one, q=q, diameter=0.015) - before,
                before - _efficiency(one, q=q, longer=1.1),
                before - _efficiency(one, q=2.0 * q),
            )
            row = [f"{one:g} λ", "none lost" if q > 1e5 else f"{q:g}", f"{before:.1f} dB"]
            yield [*row, *(f"{-each:+.2f} dB" for each in changed)]


def volts() -> Iterator[list[str]]:
    """Volts by the circuit's formula from the measured Q, X sqrt(2P/R)."""
    yield ["perimeter", "√(2 P ω L Q), Q as found", "full-wave", "formula is off by"]
    for one in SIZES:
        band = ring(one)
        inductance = band.cross_check.inductance
        assert inductance is not None
        formula = np.sqrt(2.0 * POWER * 2.0 * np.pi * band.frequency * inductance * band.q_unloaded)
        found = band.tuning.capacitor_voltage_peak
        off = 100.0 * (formula / found - 1.0)
        yield [f"{one:g} λ", f"{_short(formula / 1e3)} kV", f"{_short(found / 1e3)} kV", f"{off:+.1f} %"]


def _efficiency(size: float, *, q: float, diameter: float = 0.022, longer: float = 1.0) -> float:
    """Of the ring in free space [dB]."""
    band = ring(size, q=q, diameter=diameter, longer=longer)
    return float(10.0 * np.log10(band.efficiency_free_space_pct / 100.0))


def _short(value: float) -> str:
    """Three digits, no exponent."""
    digits = max(0, 2 - int(np.floor(np.log10(abs(value)))))
    return f"{round(value, digits):,.{digits}f}" if value < 1000 else f"{float(f'{value:.3g}'):,.0f}"


def _whole(value: float) -> str:
    return f"{float(f'{value:.3g}'):,.0f}"


def picture() -> str:
    """How far off the formulas of the radiation resistance are, against size."""
    found = np.array([ring(size).resistance.radiation for size in SIZES])
    checks = [ring(size).cross_check for size in SIZES]
    f, sizes = np.array(SIZES) * C_0 / PERIMETER, np.array(SIZES)
    even = uniform_loop_radiation_resistance(f, circumference=PERIMETER)
    small = np.array([one.radiation_resistance_small_loop for one in checks])
    fit = np.array([one.radiation_resistance_gap_fit or np.nan for one in checks])
    curves = (
        Curve(name="31171 (A/λ²)²", x=sizes, y=small / found),
        Curve(name="even current, any size", x=sizes, y=even / found),
        Curve(name="fit for a ring with a gap", x=sizes[np.isfinite(fit)], y=(fit / found)[np.isfinite(fit)]),
    )
    return Chart(
        title="Formulas of a ring's radiation resistance over the full-wave one",
        across="perimeter over wavelength",
        up="formula over full-wave solution, at the gap",
        curves=curves,
        low=0.0,
        high=1.2,
    ).drawn()


TABLES: dict[str, Table] = {
    "radiation": radiation,
    "tuning": tuning,
    "size": size,
    "bound": bound,
    "thicker": thicker_or_longer,
    "volts": volts,
}


def rewritten(page: str) -> str:
    """The page with its tables as the program has them now."""
    return with_tables(page, TABLES)


if __name__ == "__main__":
    PAGE.write_text(rewritten(PAGE.read_text(encoding="utf-8")), encoding="utf-8", newline="\n")
    PICTURE.write_text(picture(), encoding="utf-8", newline="\n")
    print(PAGE, PICTURE)
