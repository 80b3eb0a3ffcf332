# SPDX-License-Identifier: BSD-3-Clause
"""J. S. McLean, IEEE Trans. Antennas Propag. 44, 672-676, 1996: Q = 1/x^3 + 1/x of the lowest mode."""

import pytest

from ringwright.physics.small_loop import lowest_q


@pytest.mark.parametrize(("x", "q"), [(0.05, 8020.0), (0.1, 1010.0), (0.2, 130.0), (0.3, 40.37), (0.5, 10.0)])
def test_q_of_the_lowest_mode(x, q):
    # Computed from the formula elsewhere; 4 digits at 0.3.
    assert lowest_q(x) == pytest.approx(q, rel=2e-5, abs=0)
