# SPDX-License-Identifier: BSD-3-Clause
"""statsmodels, the general-purpose statistics library: its linear mixed model of a whole campaign, report by report.

The reference fits levels by restricted maximum likelihood with three crossed variance components: the receiver's own
level, what it thinks of antenna A, and the slot. Ours only sees the differences of pairs, robustly. On a campaign with
normal errors and no outliers both must find the same difference and be equally sure of it.
"""

import warnings

import numpy as np
import pandas as pd
import pytest
import statsmodels.formula.api as smf

from ringwright.air.comparison import compare
from tests.air.campaigns import START, reports_of

TRUE_DB = -3.0
RECEIVERS, TWOS = 16, 30


def campaign(seed):
    """Every receiver reports every slot; slots in twos, both antennas in each, two hours from one to the next."""
    rng = np.random.default_rng(seed)
    antenna_of = np.concatenate([rng.permutation([0, 1]) for _ in range(TWOS)])
    receiver, slot = (
        each.ravel() for each in np.meshgrid(np.arange(RECEIVERS), np.arange(2 * TWOS), indexing="ij")
    )
    antenna = antenna_of[slot]
    sky, level, own = rng.normal(size=2 * TWOS), 6.0 * rng.normal(size=RECEIVERS), rng.normal(size=RECEIVERS)
    snr = -12.0 + level[receiver] + sky[slot] + (antenna == 0) * (TRUE_DB + own[receiver])
    snr += 2.0 * rng.normal(size=len(slot))
    time = START + slot // 2 * 7200.0 + slot % 2 * 120.0
    reports = reports_of(time, receiver=receiver, snr=snr, power=np.full(len(slot), 5.0), antenna=antenna)
    table = pd.DataFrame(
        {"snr": snr, "a": 1.0 * (antenna == 0), "receiver": receiver, "slot": slot, "all": 1}
    )
    return reports, table


def reference(table):
    components = {"level": "0 + C(receiver)", "own": "0 + C(receiver):a", "slot": "0 + C(slot)"}
    model = smf.mixedlm("snr ~ a", table, groups="all", re_formula="0", vc_formula=components)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # its optimiser tells how it went; the estimate is looked at below
        fitted = model.fit(reml=True)
    assert fitted.converged
    return float(fitted.params["a"]), float(fitted.bse["a"])


@pytest.fixture(scope="module")
def both():
    """(campaigns, 4): difference and standard error, ours and the reference's."""
    rows = []
    for seed in range(4):
        reports, table = campaign(seed)
        found = compare(reports, "A", "B", within=300.0).found
        assert found is not None
        rows.append((found.value, found.error, *reference(table)))
    return np.array(rows)


def test_the_difference_is_the_mixed_models(both):
    # The biweight has 95 % of the mean's efficiency on normal values: the two differ by sqrt(1/0.95 - 1) = 0.23 of a
    # standard error in the root mean square.
    apart = (both[:, 0] - both[:, 2]) / both[:, 3]
    assert np.abs(apart).max() < 0.46
    assert np.sqrt(np.mean(apart**2)) < 0.3


def test_the_standard_error_is_the_mixed_models(both):
    # One campaign: the variance of sixteen receivers by two methods. On the average the 2.5 % of the biweight.
    ratio = both[:, 1] / both[:, 3]
    assert ratio == pytest.approx(np.ones(4), rel=0.12, abs=0)
    assert ratio.mean() == pytest.approx(1.0, rel=0.05, abs=0)


def test_both_find_the_truth(both):
    assert np.abs(both[:, 0] - TRUE_DB).max() < 2.0 * both[:, 1].max()
