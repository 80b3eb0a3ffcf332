# SPDX-License-Identifier: BSD-3-Clause
"""Recommendation ITU-R P.372: medians of man-made noise (table of c and d) and of galactic noise, 52 - 23 log f.

The constants agree with the noise program that ITU-R Study Group 3 publishes beside the Recommendation.
"""

import numpy as np
import pytest

from ringwright.antenna.reception import NoisePlace, external_noise_figure


@pytest.mark.parametrize(
    ("place", "c", "d"),
    [("city", 76.8, 27.7), ("residential", 72.5, 27.7), ("rural", 67.2, 27.7), ("quiet rural", 53.6, 28.6)],
)
def test_man_made_medians(place, c, d):
    for megahertz in (1.0, 1.81, 3.65, 7.1, 9.99):
        found = external_noise_figure(megahertz * 1e6, NoisePlace(place))
        assert found == pytest.approx(c - d * np.log10(megahertz), rel=1e-12, abs=0)


@pytest.mark.parametrize("megahertz", [14.2, 28.5, 50.0])
def test_galactic_noise_is_added_as_power(megahertz):
    city, quiet = (
        10.0 ** (external_noise_figure(megahertz * 1e6, place) / 10.0)
        for place in (NoisePlace.CITY, NoisePlace.QUIET_RURAL)
    )
    galactic = 10.0 ** ((52.0 - 23.0 * np.log10(megahertz)) / 10.0)
    man_made = [10.0 ** ((c - d * np.log10(megahertz)) / 10.0) for c, d in ((76.8, 27.7), (53.6, 28.6))]
    assert city - man_made[0] == pytest.approx(galactic, rel=1e-9, abs=0)
    assert quiet - man_made[1] == pytest.approx(galactic, rel=1e-9, abs=0)
    assert galactic > man_made[1]  # at quiet places the galaxy is what one hears on these bands
