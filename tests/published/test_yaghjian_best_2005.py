# SPDX-License-Identifier: BSD-3-Clause
"""A. D. Yaghjian, S. R. Best, IEEE Trans. Antennas Propag. 53, 1298-1324, 2005: matched SWR bandwidth and Q."""

import numpy as np
import pytest
from scipy.optimize import brentq

from ringwright.physics.networks import matched_bandwidth, reflection_coefficient, swr


@pytest.mark.parametrize(
    ("ratio", "in_f0_over_q"), [(1.5, 0.408248), (2.0, 0.707107), (2.618034, 1.0), (3.0, 1.154701)]
)
def test_bandwidth_between_swr_points(ratio, in_f0_over_q):
    # (s - 1)/sqrt(s); six digits, at 0.408 half a unit is 1.2e-6; and the golden ratio squared.
    assert matched_bandwidth(1.0, unloaded_q=1.0, ratio=ratio) == pytest.approx(
        in_f0_over_q, rel=1.3e-6, abs=0
    )


def test_bandwidth_is_what_a_resonator_shows():
    """A series resonator of Q 2000 matched to 50 ohm, its SWR-2 points found on the curve."""
    f0, q = 14.2e6, 2000.0

    def excess(f: float) -> float:
        z = 50.0 * (1 + 1j * q * (f / f0 - f0 / f))
        return float(swr(reflection_coefficient(z, reference=50.0)) - 2.0)

    low, high = brentq(excess, f0 * 0.999, f0), brentq(excess, f0, f0 * 1.001)
    # f/f0 - f0/f against 2 df/f0: 1/Q^2.
    assert high - low == pytest.approx(matched_bandwidth(f0, unloaded_q=q, ratio=2.0), rel=1e-6, abs=0)


def test_resonator_off_resonance_as_in_kajfez():
    """One-port resonator, Q0 1000, coupling 0.8, 14.2 MHz (D. Kajfez, Q Factor, 1994; digits by another program)."""
    q0, kappa, f0 = 1000.0, 0.8, 14.2e6
    offset = np.array([0.0, 2e3, 5e3, 10e3])
    z = kappa / (
        1 + 2j * q0 * offset / f0
    )  # parallel resonator seen through its coupling, over the reference
    gamma = reflection_coefficient(z, reference=1.0)
    assert gamma[0] == pytest.approx(-1 / 9, rel=1e-12, abs=0)
    assert gamma[1] == pytest.approx(-0.132360 - 0.135781j, rel=5e-6, abs=0)
    assert swr(gamma) == pytest.approx([1.25, 1.4680, 2.2193, 4.2969], rel=3e-5, abs=0)
