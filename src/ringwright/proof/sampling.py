# SPDX-License-Identifier: BSD-3-Clause
"""The average of a likelihood over what was believed before, where the likelihood is narrow."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.special import logsumexp, ndtr, ndtri

from ringwright.physics.graph import FloatArray

FIRST, CLOSER = 2**14, 2**12
"""Samples from the prior, and of each closer look."""
CLOSER_LOOKS = 3
ENOUGH = 200.0
"""Effective samples below which a look's weights are flattened before the next is placed."""
WIDER = 1.5
"""Times the covariance found: a proposal too narrow loses tails, one too wide only samples."""
EDGE = 1e-9
SEED = 6
"""The same numbers on every run, so that the same sweeps get the same answer."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Weighed:
    """Samples in the unit cube, (n, d), with weights that sum to 1, and the logarithm of the evidence."""

    uniform: FloatArray
    weight: FloatArray
    ln_evidence: float

    @property
    def effective(self) -> float:
        """How many independent samples of the posterior these are worth."""
        return float(1.0 / np.sum(self.weight**2))

    def drawn(self, count: int, rng: np.random.Generator) -> FloatArray:
        """`count` of the samples, each as often as it deserves, (count, d)."""
        return self.uniform[rng.choice(len(self.weight), count, p=self.weight)]


def weigh(ln_likelihood: Callable[[FloatArray], FloatArray], dimensions: int) -> Weighed:
    """Integrate a likelihood over the unit cube by quasi-random points that close in on where it is large.

    Parameters
    ----------
    ln_likelihood : callable
        Logarithm of the likelihood of points (n, dimensions), -inf where there is none.
    dimensions : int
        Of the cube.

    Returns
    -------
    Weighed

    Notes
    -----
    Adaptive multiple importance sampling [1] in the normal quantiles of the cube: each look is a normal distribution
    fitted to all samples so far, and every sample is weighed by the mixture of all looks, the prior among them, so that
    no weight exceeds the share of prior samples.

    References
    ----------
    .. [1] J.-M. Cornuet, J.-M. Marin, A. Mira, C. P. Robert, "Adaptive multiple importance sampling," Scand. J. Stat.
           39(4), 2012.
    """
    looks = [_Normal(np.zeros(dimensions), np.eye(dimensions))]
    counts = [FIRST]
    points = looks[0].samples(FIRST, seed=SEED)
    ln = ln_likelihood(np.clip(ndtr(points), EDGE, 1.0 - EDGE))
    for number in range(1, CLOSER_LOOKS + 1):
        looks.append(_closer(points, ln + _ln_prior_over(points, looks, counts)))
        counts.append(CLOSER)
        closer = looks[-1].samples(CLOSER, seed=SEED + number)
        points = np.concatenate([points, closer])
        ln = np.concatenate([ln, ln_likelihood(np.clip(ndtr(closer), EDGE, 1.0 - EDGE))])
    ln_weight = ln + _ln_prior_over(points, looks, counts)
    total = float(logsumexp(ln_weight))
    return Weighed(
        uniform=np.clip(ndtr(points), EDGE, 1.0 - EDGE),
        weight=np.exp(ln_weight - total),
        ln_evidence=total - np.log(len(points)),
    )


class _Normal:
    """A normal distribution in several dimensions."""

    def __init__(self, mean: FloatArray, covariance: FloatArray) -> None:
        self._mean = mean
        self._root = np.linalg.cholesky(covariance)

    def samples(self, count: int, *, seed: int) -> FloatArray:
        from scipy.stats.qmc import Sobol  # half a second that only this needs

        uniform = Sobol(len(self._mean), rng=seed).random(count)
        return np.asarray(self._mean + ndtri(np.clip(uniform, EDGE, 1.0 - EDGE)) @ self._root.T)

    def ln_density(self, points: FloatArray) -> FloatArray:
        """But for the constant that all share."""
        white = np.linalg.solve(self._root, (points - self._mean).T)
        return np.asarray(-0.5 * np.sum(white**2, axis=0) - np.sum(np.log(np.diag(self._root))))


def _ln_prior_over(points: FloatArray, looks: list[_Normal], counts: list[int]) -> FloatArray:
    """Logarithm of the prior's density over that of the mixture of all looks."""
    share = np.array(counts)[:, None] / sum(counts)
    each = np.stack([look.ln_density(points) for look in looks])
    return np.asarray(each[0] - logsumexp(each, axis=0, b=share))


def _closer(points: FloatArray, ln_weight: FloatArray) -> _Normal:
    """Where the weights are, flattened until enough samples carry them."""
    ln_weight = ln_weight - ln_weight.max()
    flat = 1.0
    while flat > 1e-3:
        weight = np.exp(flat * ln_weight)
        if weight.sum() ** 2 / np.sum(weight**2) >= ENOUGH:
            break
        flat *= 0.7
    weight = weight / weight.sum()
    mean = weight @ points
    apart = points - mean
    covariance = WIDER * (apart * weight[:, None]).T @ apart + 1e-6 * np.eye(points.shape[1])
    return _Normal(mean, covariance)
