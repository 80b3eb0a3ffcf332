# SPDX-License-Identifier: BSD-3-Clause
"""The integral behind the probabilities, against closed forms of normal distributions."""

import numpy as np
import pytest
from scipy.special import ndtri

from ringwright.proof.sampling import weigh

DIMENSIONS = 11


@pytest.mark.parametrize("narrow", [1.0, 0.1, 0.02])
def test_evidence_of_a_normal_likelihood_is_the_closed_form(narrow):
    # Of x ~ N(0, 1) and a reading a = x + N(0, s): N(a; 0, 1 + s^2), here in three of eleven dimensions.
    at = np.array([0.5, -1.0, 1.7])

    def ln_likelihood(uniform):
        return -0.5 * np.sum(((ndtri(uniform[:, :3]) - at) / narrow) ** 2, axis=1)

    found = weigh(ln_likelihood, DIMENSIONS)
    expected = np.sum(np.log(narrow / np.hypot(1.0, narrow)) - at**2 / (2.0 * (1.0 + narrow**2)))
    # The error of an average is 1/sqrt of the effective samples; 4 of it.
    assert found.effective > 100.0
    assert np.exp(found.ln_evidence - expected) == pytest.approx(
        1.0, rel=4.0 / np.sqrt(found.effective), abs=0
    )
    assert found.weight.sum() == pytest.approx(1.0, rel=1e-9, abs=0)


def test_what_is_drawn_is_the_posterior():
    # x ~ N(0, 1) and a reading of 1 +- 0.5: N(0.8, 0.2).
    found = weigh(lambda uniform: -0.5 * ((ndtri(uniform[:, 0]) - 1.0) / 0.5) ** 2, DIMENSIONS)
    drawn = ndtri(found.drawn(20_000, np.random.default_rng(1))[:, 0])
    assert drawn.mean() == pytest.approx(0.8, rel=0.02, abs=0)
    assert drawn.var() == pytest.approx(0.2, rel=0.05, abs=0)


def test_a_likelihood_with_two_humps_keeps_both():
    # Humps of equal weight at +-1.5: the second moment of the posterior is nearly 1.5^2 in both halves.
    def ln_likelihood(uniform):
        x = ndtri(uniform[:, 0])
        return np.logaddexp(-0.5 * ((x - 1.5) / 0.05) ** 2, -0.5 * ((x + 1.5) / 0.05) ** 2)

    found = weigh(ln_likelihood, DIMENSIONS)
    upper = found.weight[found.uniform[:, 0] > 0.5].sum()
    assert upper == pytest.approx(0.5, rel=0.1, abs=0)


def test_what_explains_nothing_leaves_no_weight_there():
    found = weigh(lambda uniform: np.where(uniform[:, 0] < 0.5, 0.0, -np.inf), DIMENSIONS)
    assert np.exp(found.ln_evidence) == pytest.approx(0.5, rel=0.02, abs=0)
    assert np.all(found.uniform[found.weight > 0.0, 0] < 0.5)
