# SPDX-License-Identifier: BSD-3-Clause
"""IEC 60028, standard of annealed copper: 1/58 ohm mm2/m at 20 degrees C, coefficient 0.00393 per kelvin."""

import pytest

from ringwright.antenna.materials import MATERIALS


def test_copper_is_the_standard_of_annealed_copper():
    assert MATERIALS["copper"].conductivity == pytest.approx(58e6, rel=1e-15, abs=0)
    assert MATERIALS["copper"].temperature_coefficient == pytest.approx(0.00393, rel=1e-15, abs=0)


def test_water_tube_copper_lies_within_80_to_85_per_cent_of_it():
    # Phosphorus-deoxidised copper, from memory.
    assert 0.80 <= MATERIALS["water tube copper"].conductivity / 58e6 <= 0.85


@pytest.mark.parametrize("name", ["silver", "aluminium", "brass"])
def test_resistivity_is_that_of_the_crc_handbook(name):
    # CRC Handbook of Chemistry and Physics, 1e-8 ohm m at 20 degrees C; conductivities are kept to 3 digits.
    printed = {"silver": 1.587, "aluminium": 2.650, "brass": 6.08}[name]
    assert 1e8 / MATERIALS[name].conductivity == pytest.approx(printed, rel=5e-3, abs=0)


def test_alloying_lowers_conductivity_and_coefficient_together():
    # Matthiessen's rule: the product of resistivity and coefficient stays; 5 % covers its known deviations.
    copper, tube = MATERIALS["copper"], MATERIALS["water tube copper"]
    stays = copper.temperature_coefficient / copper.conductivity
    assert tube.temperature_coefficient / tube.conductivity == pytest.approx(stays, rel=0.05, abs=0)
