# SPDX-License-Identifier: BSD-3-Clause
"""47 CFR 1.1310(e)(1), Table 1 (public law, several independent transcriptions agree)."""

import pytest

from ringwright.safety.limits import LIMITS, Tier

ROWS = {row.tier: row for row in LIMITS if row.name == "fcc-1.1310"}


@pytest.mark.parametrize(
    ("megahertz", "public", "occupational"),
    [  # all digits follow from 824/f, 2.19/f; 1842/f, 4.89/f; 614, 1.63 below 3 MHz for the occupational tier
        (1.9, (433.684, 1.15263), (614, 1.63)),
        (3.6, (228.889, 0.608333), (511.667, 1.35833)),
        (7.1, (116.056, 0.308451), (259.437, 0.688732)),
        (14.2, (58.0282, 0.154225), (129.718, 0.344366)),
        (28.5, (28.9123, 0.0768421), (64.6316, 0.171579)),
        (1.0, (614, 1.63), (614, 1.63)),
        (50.5, (27.5, 0.073), (61.4, 0.163)),
    ],
)
def test_table_1(megahertz, public, occupational):
    # The printed digits are rounded to six.
    assert ROWS[Tier.PUBLIC].at(megahertz * 1e6) == pytest.approx(public, rel=1e-5, abs=0)
    assert ROWS[Tier.OCCUPATIONAL].at(megahertz * 1e6) == pytest.approx(occupational, rel=1e-5, abs=0)


def test_averaging_times():
    assert ROWS[Tier.PUBLIC].averaging_minutes == 30
    assert ROWS[Tier.OCCUPATIONAL].averaging_minutes == 6


@pytest.mark.parametrize("megahertz", [1.9, 7.1, 14.2, 28.5])
def test_fields_belong_to_the_printed_power_density(megahertz):
    # Column S: 180/f^2 and, occupational above 3 MHz, 900/f^2 mW/cm^2, plane-wave equivalent; E H of the printed
    # three digits is within 0.3 % of it.
    e, h = ROWS[Tier.PUBLIC].at(megahertz * 1e6)
    assert e * h / 10.0 == pytest.approx(180.0 / megahertz**2, rel=5e-3, abs=0)
    if megahertz > 3:
        e, h = ROWS[Tier.OCCUPATIONAL].at(megahertz * 1e6)
        assert e * h / 10.0 == pytest.approx(900.0 / megahertz**2, rel=5e-3, abs=0)
