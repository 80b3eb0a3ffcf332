# SPDX-License-Identifier: BSD-3-Clause
"""FCC OET Bulletin 65, Supplement B (97-01), Table 2, and the worked averaging example there."""

import pytest

from ringwright.antenna.modes import MODE_FACTORS


@pytest.mark.parametrize(
    ("mode", "per_cent"),
    [
        ("SSB voice", 20),
        ("SSB voice processed", 50),
        ("FM", 100),
        ("RTTY", 100),
        ("AFSK", 100),
        ("CW", 40),
        ("carrier", 100),
    ],
)
def test_mode_factor_is_the_duty_factor_of_the_table(mode, per_cent):
    assert MODE_FACTORS[mode] == per_cent / 100


def test_worked_example_averages_500_watts_to_25():
    # 500 W PEP, conversational telegraphy, 45 seconds in 6 minutes.
    assert 500 * MODE_FACTORS["CW"] * 45 / 360 == pytest.approx(25, rel=1e-12, abs=0)
