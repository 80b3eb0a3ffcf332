# SPDX-License-Identifier: BSD-3-Clause
"""Do ranges cover what they claim? Designs drawn by another generator, each predicted anew by full-wave solution.

Of an exact 10 to 90 % range a share of 80 % of N independent draws falls inside, with a binomial standard deviation of
sqrt(0.8 x 0.2/N): 1.4 % of N = 800. The bounds of 75 and 85 % lie 3.5 of them off, so that an exact range fails by
chance once in 2000; a range over a quarter too wide or a fifth too narrow does not pass. The seed is fixed and was not
chosen. Figures that move together miss together, so that many figures mean hardly more chances.
"""

import numpy as np
import pytest

from ringwright.antenna.design import Design
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.predict import predict
from ringwright.antenna.solution import SolutionMemory
from tests.antenna.ranges.uncertain import drawn, uncertain

N = 800
LEAST, MOST = 0.75, 0.85
STANDS_STILL = 2e-3
"""Of a figure: what moves less is not held to a share. The ranges leave out how another earth redistributes the ring's
current, which moves its own resistance by up to 1.5e-3 on the highest bands."""
HEADLINES = {
    "tuning.capacitor_voltage_peak_v",
    "tuning.capacitor_current_rms_a",
    "tuning.ring_current_max_rms_a",
    "resistance_ohm.joints",
    "resistance_ohm.capacitor",
    "resistance_ohm.total",
    "watts_pct.sky",
    "watts_pct.ring",
    "watts_pct.joints",
    "watts_pct.capacitor",
    "watts_pct.coupling",
    "efficiency_free_space_pct",
    "efficiency_sky_pct",
    "q_unloaded",
    "bandwidth_half_power_hz",
    "bandwidth_swr2_hz",
    "match.swr_min",
    "pattern.gain_max_dbi",
    "pattern.gain_20deg_dbi",
    "limits.eirp_w",
}
OVER_EARTH = {"watts_pct.earth", "resistance_ohm.earth", "resistance_ohm.radiation"}


def shares_inside(design: Design) -> dict[str, float]:
    """Of every figure that moves: the share of drawn designs within its range."""
    memory = SolutionMemory()
    band = predict(design, memory).bands[0]
    found = [predict(each, memory).bands[0] for each in drawn(design, N, np.random.default_rng(2026))]
    shares = {}
    for key, (low, high) in band.range.items():
        # A width that a draw does not have is none: 0.
        values = np.array([FIGURES[key].of(each) or 0.0 for each in found], dtype=float)
        if np.ptp(values) > STANDS_STILL * abs(np.median(values)):
            shares[key] = float(np.mean((values >= low) & (values <= high)))
    return shares


@pytest.mark.parametrize(
    ("design", "held"),
    [
        pytest.param(uncertain(), HEADLINES | OVER_EARTH, id="over average earth"),
        # A smaller loop, so that less than a tenth of the draws stay above SWR 2 and have no width.
        pytest.param(uncertain(earth=None, coupling=0.17), HEADLINES, id="in free space"),
    ],
)
def test_ranges_cover_four_designs_of_five(design, held):
    shares = shares_inside(design)
    assert set(shares) >= held
    assert {key: share for key, share in shares.items() if not LEAST <= share <= MOST} == {}
