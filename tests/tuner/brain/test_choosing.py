# SPDX-License-Identifier: BSD-3-Clause
"""A fit on the few readings chosen is nearly as good as one on all of them, and says so."""

import numpy as np
import pytest

from ringwright.tuner.brain.choosing import chosen, is_seen
from ringwright.tuner.brain.dip import Reading
from ringwright.tuner.brain.fit import Fit, Prior, fit_dip
from tests.tuner.brain.dips import reading

PRIOR = Prior(centre=0.0, sigma=5.8, low=-20.0, high=20.0, bottom=0.0, noise=0.04, step=0.05)
MOST = 13


def glide(rng, *, centre=2.0, noise=0.03):
    """Through a dip, far from which there are many readings."""
    ends = np.arange(-14.0, 8.0, 0.4)
    return [
        reading(end - 0.4, end, centre=centre, width=1.1, coupling=1.2, knee=0.1, noise=noise, rng=rng)
        for end in ends
    ]


def fit_as_they_come(readings):
    """What the search does: each new reading is fitted with those chosen of the readings before it."""
    fit: Fit | None = None
    used: tuple[Reading, ...] = ()
    for number in range(1, len(readings) + 1):
        used = chosen(tuple(readings[:number]), fit)
        fit = fit_dip(used, PRIOR)
    return fit, used


@pytest.mark.parametrize("seed", range(3))
def test_a_handful_of_a_glide_shows_the_centre(seed):
    fit, used = fit_as_they_come(glide(np.random.default_rng(seed)))
    assert is_seen(fit)
    assert len(used) <= MOST
    assert fit.centre == pytest.approx(2.0, abs=max(3.0 * fit.sigma, 0.02))
    assert fit.sigma < 0.08


def test_both_flanks_the_deepest_and_the_newest_are_among_them():
    readings = glide(np.random.default_rng(7))
    _, used = fit_as_they_come(readings)
    middles = [sum(one.detunings) / 2.0 - 2.0 for one in used]
    assert sum(-2.0 < middle < 0.0 for middle in middles) >= 3
    assert sum(0.0 < middle < 2.0 for middle in middles) >= 3
    assert min(readings, key=lambda one: one.reflection) in used
    assert readings[-1] in used


def test_while_no_dip_is_seen_the_newest_count():
    readings = tuple(glide(np.random.default_rng(1))[:30])  # down to two half-widths below it nothing shows
    used = chosen(readings, None)
    assert len(used) <= MOST
    assert used[-6:] == readings[-6:]
