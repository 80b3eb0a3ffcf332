# SPDX-License-Identifier: BSD-3-Clause
"""ITU Radio Regulations, Article 5, allocations to the amateur service [kHz]. 160 m to 10 m as in public tables of the
allocations; 6 m from memory (region 1 since the conference of 2019)."""

import pytest

from ringwright.antenna.bands import BANDS

EDGES = {
    "160m": ((1810, 1850), (1800, 2000), (1800, 2000)),
    "80m": ((3500, 3800), (3500, 4000), (3500, 3900)),
    "60m": ((5351.5, 5366.5),) * 3,
    "40m": ((7000, 7200), (7000, 7300), (7000, 7200)),
    "30m": ((10100, 10150),) * 3,
    "20m": ((14000, 14350),) * 3,
    "17m": ((18068, 18168),) * 3,
    "15m": ((21000, 21450),) * 3,
    "12m": ((24890, 24990),) * 3,
    "10m": ((28000, 29700),) * 3,
    "6m": ((50000, 52000), (50000, 54000), (50000, 54000)),
}


@pytest.mark.parametrize("region", [1, 2, 3])
def test_band_edges_of_each_region(region):
    found = {name: (band.low / 1e3, band.high / 1e3) for name, band in BANDS[region].items()}
    assert found == {name: edges[region - 1] for name, edges in EDGES.items()}
