# SPDX-License-Identifier: BSD-3-Clause
"""NBS Circular 31, Copper Wire Tables: annealed copper of 100 % IACS, 1.7241e-8 ohm m at 20 degrees C, 0.00393 /K.

The Circular gives resistivity and coefficient; skin depths are one multiplication and a root away, done elsewhere.
"""

import pytest

from ringwright.physics.conductors import conductivity_at, skin_depth, surface_resistance

IACS = 1 / 1.7241e-8


@pytest.mark.parametrize(
    ("conductivity", "frequency_mhz", "micrometres"),
    [
        (IACS, 1.8, 49.257),
        (IACS, 3.5, 35.324),
        (IACS, 7.1, 24.801),
        (IACS, 14.2, 17.537),
        (IACS, 28.5, 12.379),
        (0.61 * IACS, 14.2, 22.454),
        (0.28 * IACS, 14.2, 33.142),
    ],
)
def test_skin_depth(conductivity, frequency_mhz, micrometres):
    # Five printed digits.
    assert 1e6 * skin_depth(frequency_mhz * 1e6, conductivity) == pytest.approx(micrometres, rel=5e-5, abs=0)


def test_surface_resistance_at_14_2_mhz():
    assert 1e3 * surface_resistance(14.2e6, IACS) == pytest.approx(0.983117, rel=1e-6, abs=0)


def test_heat_from_20_to_60_degrees():
    hot = conductivity_at(60.0, conductivity=IACS, temperature_coefficient=0.00393)
    # 1 + 0.00393 x 40 for direct current, its root at radio frequency.
    assert IACS / hot == pytest.approx(1.1572, rel=1e-12, abs=0)
    assert surface_resistance(14.2e6, hot) / surface_resistance(14.2e6, IACS) == pytest.approx(
        1.075732, rel=1e-6, abs=0
    )
