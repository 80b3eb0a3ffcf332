# SPDX-License-Identifier: BSD-3-Clause
"""The search, on functions whose lowest place is known in closed form."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.choose.lowest import ENOUGH, smallest_worst, spaced
from tests.choose.coupled_circuit import R0, coupling_coefficient

WIDE = [(1e-9, 1e-6)]
BANDS = np.array([5.3e6, 7.1e6, 10.1e6])


def test_one_band_is_matched_where_coupled_circuits_say():
    # (w M)^2 = 50 R (1 + (w Lf/50)^2): 34.901 nH, worked by hand for the ring of 0.123 153 ohm at 14.2 MHz. A miss of
    # ENOUGH is not chased, which is a quarter of a thousandth of M.
    def misses_at(sizes):
        return np.log(coupling_coefficient([14.2e6], sizes[0], coil=424.826e-9, resistance=0.123153))

    (found,) = smallest_worst(misses_at, [10e-9], WIDE)
    assert found == pytest.approx(34.901e-9, rel=ENOUGH, abs=0)


@given(
    st.lists(st.floats(0.02, 2.0), min_size=2, max_size=5), st.floats(100e-9, 900e-9), st.floats(2e-9, 9e-7)
)
def test_of_several_bands_the_outer_two_share_the_miss(resistances, coil, start):
    # The logarithms of all coefficients move together with M, so that the best worst SWR is the root of the greatest
    # over the least of them, whatever lies between.
    frequencies = np.linspace(5e6, 15e6, len(resistances))
    at_once = coupling_coefficient(frequencies, 1e-9, coil=coil, resistance=resistances)

    def misses_at(sizes):
        return np.log(coupling_coefficient(frequencies, sizes[0], coil=coil, resistance=resistances))

    (found,) = smallest_worst(misses_at, [start], [(1e-10, 1e-4)])
    worst = np.exp(abs(misses_at((found,))).max())
    assert worst == pytest.approx(np.sqrt(at_once.max() / at_once.min()), rel=2 * ENOUGH, abs=0)


def test_two_sizes_match_two_bands_perfectly():
    # Mutual and own inductance both free: two equations, two unknowns. With x = (w/R0)^2 the match on both asks for
    # Lf^2 = (R1 x2 - R2 x1)/(x1 x2 (R2 - R1)); R2/R1 = 1.3 at f2/f1 = 1.8 has one.
    omega = 2.0 * np.pi * np.array([5.3e6, 9.54e6])
    resistance = np.array([0.1, 0.13])
    x = (omega / R0) ** 2
    ratio = resistance / omega**2 * R0
    coil = np.sqrt((ratio[0] - ratio[1]) / (ratio[1] * x[1] - ratio[0] * x[0]))
    mutual = np.sqrt(ratio[0] * (1.0 + x[0] * coil**2))

    def misses_at(sizes):
        return np.log(
            coupling_coefficient(omega / (2 * np.pi), sizes[0], coil=sizes[1], resistance=resistance)
        )

    found = smallest_worst(misses_at, [mutual * 1.7, coil * 0.6], [(1e-9, 1e-6), (1e-8, 1e-5)])
    assert abs(misses_at(found)).max() < 5 * ENOUGH
    assert found == pytest.approx((mutual, coil), rel=0.01, abs=0)


def test_it_stays_within_its_bounds_and_off_what_cannot_be_built():
    def misses_at(sizes):
        if sizes[0] > 0.3:
            return None
        return np.array([np.log(sizes[0] / 2.0), np.log(sizes[0] / 3.0)])

    assert smallest_worst(misses_at, [0.1], [(0.05, 0.2)])[0] == pytest.approx(0.2, rel=1e-9, abs=0)
    edge = smallest_worst(misses_at, [0.1], [(0.05, 5.0)])[0]
    assert 0.97 * 0.3 < edge <= 0.3  # short of the edge by no more than a probe


def test_spaced_sizes_are_close_enough_and_meet_both_ends():
    sizes = spaced(0.04, 1.0, 1.25)
    assert (sizes[0], sizes[-1]) == pytest.approx((0.04, 1.0), rel=1e-12, abs=0)
    ratios = np.diff(np.log(sizes))
    assert ratios.max() <= np.log(1.25) * (1 + 1e-12)
    assert np.ptp(ratios) < 1e-12
