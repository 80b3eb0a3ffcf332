# SPDX-License-Identifier: BSD-3-Clause
"""How fast a body warms: the slope at the start, the end that is never reached, and a time constant."""

import math

import pytest

from ringwright.errors import OutOfRangeError
from ringwright.physics.warming import warming_time


def test_at_the_start_all_heat_stays_in_the_body():
    # C dT/P = 1000 x 0.001/10 = 0.1 s
    assert warming_time(0.001, power=10.0, heat_capacity=1000.0, final_rise=20.0) == pytest.approx(
        1e-1, rel=1e-4, abs=0
    )


def test_one_time_constant_reaches_63_per_cent():
    # tau = C dT_inf/P = 1000 x 20/10 = 2000 s
    share = 20.0 * (1.0 - math.exp(-1.0))
    assert warming_time(share, power=10.0, heat_capacity=1000.0, final_rise=20.0) == pytest.approx(
        2000.0, rel=1e-12, abs=0
    )


def test_what_never_gets_that_warm_takes_for_ever():
    assert math.isinf(warming_time(20.0, power=10.0, heat_capacity=1000.0, final_rise=20.0))
    assert math.isinf(warming_time(25.0, power=10.0, heat_capacity=1000.0, final_rise=20.0))


def test_no_heat_is_refused():
    with pytest.raises(OutOfRangeError, match="power"):
        warming_time(1.0, power=0.0, heat_capacity=1000.0, final_rise=20.0)
