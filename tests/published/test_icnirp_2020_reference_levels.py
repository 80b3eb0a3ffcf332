# SPDX-License-Identifier: BSD-3-Clause
"""ICNIRP, "Guidelines for limiting exposure to electromagnetic fields (100 kHz to 300 GHz)," Health Phys. 118, 2020.

Table 5 public through a national standard that reprints it, occupational from memory; Table 6 through a textbook.
"""

import pytest

from ringwright.safety.limits import LIMITS, Tier

ROWS = {(row.name, row.tier): row for row in LIMITS if "2020" in row.name}
WHOLE_BODY, LOCAL = "icnirp-2020-whole-body", "icnirp-2020-local"


@pytest.mark.parametrize(
    ("megahertz", "public", "occupational"),
    [
        (7.1, (76.0747, 0.309859), (167.364, 0.690141)),
        (14.2, (46.8295, 0.154930), (103.025, 0.345070)),
        (28.5, (28.7561, 0.077193), None),
    ],
)
def test_table_5_whole_body(megahertz, public, occupational):
    assert ROWS[WHOLE_BODY, Tier.PUBLIC].at(megahertz * 1e6) == pytest.approx(public, rel=1e-5, abs=0)
    if occupational:
        found = ROWS[WHOLE_BODY, Tier.OCCUPATIONAL].at(megahertz * 1e6)
        assert found == pytest.approx(occupational, rel=1e-5, abs=0)


def test_table_6_local():
    # 671/f^0.7 and 4.9/f for the public, 1504/f^0.7 and 10.8/f for workers: at 1 MHz the constants themselves.
    assert ROWS[LOCAL, Tier.PUBLIC].at(1e6) == (671, 4.9)
    assert ROWS[LOCAL, Tier.OCCUPATIONAL].at(1e6) == (1504, 10.8)
    assert ROWS[LOCAL, Tier.PUBLIC].at(40e6) == (62, 0.163)
    assert ROWS[LOCAL, Tier.OCCUPATIONAL].at(40e6) == (139, 0.36)
    assert ROWS[LOCAL, Tier.PUBLIC].at(8e6)[0] == pytest.approx(671 / 8**0.7, rel=1e-12, abs=0)


def test_averaging_times():
    assert {row.averaging_minutes for row in LIMITS if row.name == WHOLE_BODY} == {30}
    assert {row.averaging_minutes for row in LIMITS if row.name == LOCAL} == {6}


@pytest.mark.parametrize("megahertz", [1.9, 7.1, 28.5, 50.0])
def test_tiers_and_body_regions_keep_the_ratios_they_were_made_with(megahertz):
    # Five times the power between public and workers, and between whole body and local; two printed digits each.
    levels = {key: row.at(megahertz * 1e6) for key, row in ROWS.items()}
    root_5 = pytest.approx(5**0.5, rel=0.03, abs=0)
    for quantity in (0, 1):
        public, workers, local = (
            levels[key][quantity]
            for key in ((WHOLE_BODY, Tier.PUBLIC), (WHOLE_BODY, Tier.OCCUPATIONAL), (LOCAL, Tier.PUBLIC))
        )
        assert workers / public == root_5
        assert local / public == root_5


def test_public_field_meets_the_nerve_level_at_6_27_megahertz():
    assert ROWS[WHOLE_BODY, Tier.PUBLIC].at(6.27e6)[0] == pytest.approx(83.0, rel=1e-3, abs=0)
