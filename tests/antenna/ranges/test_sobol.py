# SPDX-License-Identifier: BSD-3-Clause
"""The even points against scipy's, whose module takes too long to load for the program itself."""

import numpy as np
import pytest

from ringwright.antenna.ranges.sobol import DIMENSIONS, sobol_points


@pytest.mark.parametrize("bits", [1, 2, 5, 8, 10])
def test_points_are_the_library_s_moved_to_the_middle_of_their_intervals(bits):
    from scipy.stats import qmc

    theirs = qmc.Sobol(DIMENSIONS, scramble=False).random(2**bits) + 0.5 / 2**bits
    ours = sobol_points(bits)
    # The library goes through the same points in another order.
    assert np.array_equal(ours[np.lexsort(ours.T)], theirs[np.lexsort(theirs.T)])
