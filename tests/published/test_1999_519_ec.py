# SPDX-License-Identifier: BSD-3-Clause
"""Council Recommendation 1999/519/EC, Annex III, Table 2: the public levels of ICNIRP 1998; no tier for workers."""

import pytest

from ringwright.safety.limits import LIMITS, Tier

(ROW,) = (row for row in LIMITS if row.name == "eu-1999-519")


@pytest.mark.parametrize(
    ("megahertz", "levels"),
    [(7.1, (32.6505, 0.102817)), (14.2, (28, 0.073)), (28.5, (28, 0.073)), (50.5, (28, 0.073))],
)
def test_table_2(megahertz, levels):
    # 87/f^0.5 and 0.73/f from 1 to 10 MHz.
    assert ROW.at(megahertz * 1e6) == pytest.approx(levels, rel=1e-5, abs=0)


def test_covers_every_amateur_band_for_the_public_over_six_minutes():
    assert ROW.tier is Tier.PUBLIC
    assert ROW.averaging_minutes == 6
    assert ROW.covers(1.81e6)


@pytest.mark.parametrize("name", ["fcc-1.1310", "icnirp-2020-whole-body"])
def test_magnetic_level_at_14_megahertz_is_half_of_later_ones(name):
    # The known surprise: 0.073 A/m against 0.154 and 0.155.
    later = next(row for row in LIMITS if row.name == name and row.tier is Tier.PUBLIC)
    assert ROW.at(14.2e6)[1] / later.at(14.2e6)[1] == pytest.approx(0.472, rel=3e-3, abs=0)
