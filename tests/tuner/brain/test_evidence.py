# SPDX-License-Identifier: BSD-3-Clause
"""What counts as a reading of the dip, and when a place of rest is good enough."""

import pytest

from ringwright.tuner.brain import Phase, Tune
from ringwright.tuner.brain.dip import Dip
from ringwright.tuner.brain.evidence import regret
from tests.tuner.brain.ideal_board import PERIOD, Bench
from tests.tuner.brain.test_errands import RING, F

KNOWN = Dip(centre=100.0, centre_sigma=0.0, half_width=20.0, floor=1.0, depth=0.98)


def test_the_reading_in_which_the_carrier_came_is_no_evidence():
    bench = Bench(RING, dip_at=2610.0)
    bench.ask(Tune(F))
    while bench.state.phase is not Phase.SEARCHING:
        bench.run(PERIOD)
    began = bench.milliseconds  # power for a part of this one, which diodes read as too little
    while bench.state.search is not None and not bench.state.search.readings:
        bench.run(PERIOD)
    assert bench.state.search is not None
    assert bench.state.search.readings[0].taken > began


def test_a_bottom_as_deep_as_promised_makes_a_place_beside_it_worse():
    flat = KNOWN
    deep = Dip(centre=100.0, centre_sigma=0.0, half_width=20.0, floor=1.0, depth=0.98, promised=0.0)
    # By the formula itself: reflection x^2 / (1 + x^2) about a perfect match, x = 0.1 two steps away.
    size = (0.01 / 1.01) ** 0.5
    assert regret(deep, 102) >= (1.0 + size) / (1.0 - size) - 1.0
    assert regret(deep, 102) > 1.5 * regret(flat, 102)


def test_a_bottom_deeper_than_promised_stays_as_deep_as_it_was_read():
    promised = Dip(centre=100.0, centre_sigma=0.0, half_width=20.0, floor=1.0, depth=0.98, promised=0.2)
    assert regret(promised, 102) == pytest.approx(regret(KNOWN, 102))
