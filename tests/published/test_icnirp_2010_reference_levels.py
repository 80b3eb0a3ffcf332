# SPDX-License-Identifier: BSD-3-Clause
"""ICNIRP, "Guidelines for limiting exposure to time-varying electric and magnetic fields (1 Hz to 100 kHz)," Health
Phys. 99, 2010, Tables 3 and 4, row 3 kHz-10 MHz: "unperturbed rms values"; the same as Table 8 of 2020."""

import pytest

from ringwright.errors import OutOfRangeError
from ringwright.physics.constants import MU_0
from ringwright.safety.limits import LIMITS, Tier

ROWS = {row.tier: row for row in LIMITS if row.name == "icnirp-2010-instantaneous"}


@pytest.mark.parametrize("megahertz", [1.9, 3.6, 7.1, 10.0])
def test_tables_3_and_4(megahertz):
    assert ROWS[Tier.PUBLIC].at(megahertz * 1e6) == (83, 21)
    assert ROWS[Tier.OCCUPATIONAL].at(megahertz * 1e6) == (170, 80)


def test_magnetic_levels_are_the_printed_flux_densities():
    # 27 and 100 microtesla, printed with two digits and one.
    assert ROWS[Tier.PUBLIC].at(7.1e6)[1] * MU_0 == pytest.approx(27e-6, rel=0.03, abs=0)
    assert ROWS[Tier.OCCUPATIONAL].at(7.1e6)[1] * MU_0 == pytest.approx(100e-6, rel=0.01, abs=0)


def test_ends_at_10_megahertz_and_knows_no_averaging():
    assert not ROWS[Tier.PUBLIC].covers(10.1e6)
    with pytest.raises(OutOfRangeError, match="no level at"):
        ROWS[Tier.PUBLIC].at(10.1e6)
    assert not ROWS[Tier.PUBLIC].is_averaged
    assert not ROWS[Tier.OCCUPATIONAL].is_averaged
