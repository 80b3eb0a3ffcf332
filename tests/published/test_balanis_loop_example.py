# SPDX-License-Identifier: BSD-3-Clause
"""C. A. Balanis, Antenna Theory: Analysis and Design, loop antennas, examples 5.1 to 5.3, from memory, confirmed by
recomputing: radius lambda/25, wire radius 1e-4 lambda, 5.7e7 S/m, 100 MHz; one turn, and eight turns at c/a = 2.

The book writes eta_0 = 120 pi, 0.07 % above the exact one, and prints three digits. The added resistance of eight turns
is 0.38 of one turn's (its figure 5.3, after G. S. Smith, 1972).
"""

import numpy as np
import pytest

from ringwright.physics.conductors import surface_resistance
from ringwright.physics.constants import C_0, ETA_0
from ringwright.physics.small_loop import (
    small_loop_radiation_resistance,
    uniform_loop_directivity,
    uniform_loop_radiation_resistance,
)

F = 100e6
WAVELENGTH = 3.0  # as the book has it
RADIUS, WIRE = WAVELENGTH / 25, 1e-4 * WAVELENGTH


def ring_loss() -> float:
    return float(RADIUS / WIRE * surface_resistance(F, 5.7e7))


def radiation(turns: int) -> float:
    """At a wavelength of exactly 3 m."""
    return float(small_loop_radiation_resistance(C_0 / WAVELENGTH, area=np.pi * RADIUS**2, turns=turns))


def test_single_turn():
    assert radiation(1) == pytest.approx(0.788, rel=1.5e-3, abs=0)
    assert ring_loss() == pytest.approx(1.053, rel=5e-4, abs=0)
    assert 100 * radiation(1) / (radiation(1) + ring_loss()) == pytest.approx(42.8, rel=1.5e-3, abs=0)


def test_eight_turns():
    loss = 8 * ring_loss() * 1.38
    assert radiation(8) == pytest.approx(50.43, rel=1.5e-3, abs=0)
    assert loss == pytest.approx(11.62, rel=5e-4, abs=0)
    assert 100 * radiation(8) / (radiation(8) + loss) == pytest.approx(81.3, rel=1e-3, abs=0)


def test_small_loop_form_is_2_per_cent_high_at_a_third_of_a_wavelength():
    # The book's limit of the small-loop form, for its uniform current; the ratio 0.97800 computed elsewhere.
    c = 1.0 / 3.0
    small = small_loop_radiation_resistance(C_0, area=c**2 / (4 * np.pi))
    assert uniform_loop_radiation_resistance(C_0, circumference=c) / small == pytest.approx(
        0.978, rel=1e-5, abs=0
    )


@pytest.mark.parametrize(
    ("circumference", "small", "uniform", "directivity"),
    [
        (0.10, 0.01973921, 0.01969977, 1.49925),
        (0.20, 0.3158273, 0.3133097, 1.496996),
        (0.25, 0.7710628, 0.7614782, 1.495302),
        (1 / 3, 2.436939, 2.383319, 1.491633),
        (0.50, 12.33701, 11.73375, 1.481078),
    ],
)
def test_uniform_current_of_any_size(circumference, small, uniform, directivity):
    # The book's integrals (after D. Foster, Proc. IRE 32, 1944) by another program, with eta_0 = 120 pi; 7 digits.
    book = 120 * np.pi / ETA_0
    area = circumference**2 / (4 * np.pi)
    assert book * small_loop_radiation_resistance(C_0, area=area) == pytest.approx(small, rel=5e-7, abs=0)
    assert book * uniform_loop_radiation_resistance(C_0, circumference=circumference) == pytest.approx(
        uniform, rel=5e-7, abs=0
    )
    assert uniform_loop_directivity(C_0, circumference=circumference) == pytest.approx(
        directivity, rel=4e-6, abs=0
    )


@pytest.mark.parametrize(
    ("name", "area_of_circle", "ohm"),
    [
        ("circle", 1.0, 0.080480),
        ("octagon", 0.89882, 0.072336),
        ("hexagon", 0.82247, 0.066192),
        ("square", 0.61685, 0.049644),
    ],
)
def test_shapes_of_three_metres_at_14_2_mhz(name, area_of_circle, ohm):
    # The ratio of areas is squared in the resistance; the table's ratios are those of the resistances. eta_0 = 120 pi.
    area = 9.0 / (4 * np.pi) * np.sqrt(area_of_circle)
    value = 120 * np.pi / ETA_0 * small_loop_radiation_resistance(14.2e6, area=area)
    assert value == pytest.approx(ohm, rel=2e-5, abs=0)
