# SPDX-License-Identifier: BSD-3-Clause
"""From accepted sweeps to a layer over the design: where its uncertain inputs lie, by Bayes' rule.

Before any sweep the logarithms of the inputs are normal and independent, as `[tolerance]` states. Sweeps measure Q, to
which all of them add, so that afterwards they hang together. The rings that are left lie along a bent ridge; the normal
distribution that stands for them is the one whose rings show on the swept bands what those show, in mean and spread.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr, ndtri

from ringwright.antenna.calibration import INPUTS, declared_spread
from ringwright.antenna.ranges.sobol import sobol_points
from ringwright.errors import CalibrationError
from ringwright.physics.graph import FloatArray
from ringwright.proof.evidence import MODEL_SPREAD
from ringwright.proof.experiments import SAME_BAND
from ringwright.proof.measured import Measured
from ringwright.proof.sampling import SEED, weigh
from ringwright.proof.suspects import COLUMNS, Cause, draws_of
from ringwright.proof.twin import Twin

Seen = Callable[[FloatArray], FloatArray]
"""Logarithms of Q, (samples, sweeps), of rings given by standard scores of `INPUTS` (samples, 4)."""

UNBELIEVABLE = 1e-3
"""Share of rings within tolerance, below which sweeps as far off show a fault and no such ring."""
TRIED = 13
"""Of the logarithm to the base 2: rings within tolerance that are drawn to see how far off sweeps may be."""
LOOKS = 10
"""Of the logarithm to the base 2: rings of a normal distribution that are asked what they would show."""
ROUNDS = 6
"""Of fitting a normal distribution to a bent ridge. Ranges hold 80 of 100 after four to twelve; after forty they hold
76, as what is shown along a bend has longer tails than a normal distribution."""
_SIGN = np.array([-1.0, 1.0, 1.0, 1.0])
"""A draw's capacitor has a loss, an input a Q."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Learnt:
    """Logarithms of `INPUTS` over what is declared: mean (4,) and covariance (4, 4).

    `chance` that rings within the tolerances show sweeps as far from what is expected as these, or farther.
    """

    shift: FloatArray
    covariance: FloatArray
    chance: float

    @property
    def spread(self) -> FloatArray:
        return np.asarray(np.sqrt(np.diag(self.covariance)))

    @property
    def correlation(self) -> FloatArray:
        """The identity where an input is certain."""
        scale = np.where(self.spread > 0.0, self.spread, np.inf)
        found = self.covariance / np.outer(scale, scale)
        np.fill_diagonal(found, 1.0)
        return np.asarray((found + found.T) / 2.0)


def learn(twin: Twin, measured: Sequence[Measured]) -> Learnt:
    """What sweeps, one for each frequency of the twin, say of its design's uncertain inputs.

    Raises
    ------
    CalibrationError
        If the sweeps lie beyond what the tolerances allow, or the design states none.
    """
    design = twin.design
    spread = _SIGN * declared_spread(design.tolerance, design.site.earth)
    if not spread.any():
        raise CalibrationError(
            "the design's [tolerance] makes every input certain, so that no sweep can move one; state one above 0"
        )
    values = np.array([np.log(each.q_unloaded) for each in measured])
    found = learn_scores(
        lambda scores: _seen(twin, scores), values=values, errors=errors_of(measured, twin.frequency)
    )
    if found.chance < UNBELIEVABLE:
        raise CalibrationError(
            "these sweeps lie beyond what the design's tolerances allow: something is other than declared, and a "
            "calibration would only hide it; mend what the diagnosis suspects and sweep again, or widen [tolerance]"
        )
    return Learnt(
        shift=spread * found.shift,
        covariance=np.outer(spread, spread) * found.covariance,
        chance=found.chance,
    )


def learn_scores(seen: Seen, *, values: FloatArray, errors: FloatArray) -> Learnt:
    """Mean and covariance of standard normal scores after `values` (m,) with covariance `errors` (m, m) were seen."""
    root = np.linalg.cholesky(errors)

    def ln_likelihood(uniform: FloatArray) -> FloatArray:
        apart = np.linalg.solve(root, (seen(ndtri(uniform)) - values).T)
        return np.asarray(-0.5 * np.sum(apart**2, axis=0))

    weighed = weigh(ln_likelihood, len(INPUTS))
    scores = ndtri(weighed.uniform)
    left = _Moments.of(scores, weighed.weight)
    there = _Moments.of(seen(scores), weighed.weight)
    fitted = _fitted(left, seen, there)
    return Learnt(
        shift=fitted.mean,
        covariance=fitted.covariance,
        chance=_chance(seen, values=values, errors=errors),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Moments:
    """Mean (d,) and covariance (d, d)."""

    mean: FloatArray
    covariance: FloatArray

    @classmethod
    def of(cls, rows: FloatArray, weight: FloatArray) -> "_Moments":
        """Of rows (n, d) whose weights sum to 1."""
        mean = np.asarray(weight @ rows)
        return cls(mean=mean, covariance=np.asarray((rows - mean).T @ ((rows - mean) * weight[:, None])))


def _fitted(start: _Moments, seen: Seen, wanted: _Moments) -> _Moments:
    """The normal distribution near `start` whose rings show what is `wanted`.

    Along a bent ridge its straight axis leaves the ridge, so that with the ridge's own moments its rings would show
    more spread than was measured. What the inputs do to the swept bands is therefore narrowed, by linear regression of
    the inputs on what is shown; where the model is straight nothing changes.
    """
    independent = _independent()
    equal = np.full(len(independent), 1.0 / len(independent))
    mean, covariance = start.mean, start.covariance
    for _ in range(ROUNDS):
        scores = mean + independent @ _root(covariance)
        shown = seen(scores)
        here = _Moments.of(shown, equal)
        apart = (scores - mean).T @ (shown - here.mean) / len(scores)
        gain = apart @ np.linalg.inv(here.covariance)
        mean = mean + gain @ (wanted.mean - here.mean)
        covariance = covariance + gain @ (wanted.covariance - here.covariance) @ gain.T
    return _Moments(mean=mean, covariance=(covariance + covariance.T) / 2.0)


def _independent() -> FloatArray:
    """Evenly spread points of exactly mean 0 and covariance 1, standard normal but for that (n, 4)."""
    points = ndtri(sobol_points(LOOKS))
    points = points - points.mean(axis=0)
    return np.asarray(points @ np.linalg.inv(_root(points.T @ points / len(points))))


def _root(covariance: FloatArray) -> FloatArray:
    value, vector = np.linalg.eigh(covariance)
    return np.asarray((np.sqrt(np.maximum(value, 0.0)) * vector) @ vector.T)


def errors_of(measured: Sequence[Measured], frequency: FloatArray) -> FloatArray:
    """Covariance of the logarithms of Q, (m, m): each sweep its own error, those of one band also the prediction's."""
    order = np.argsort(frequency)
    is_next_band = np.diff(np.log(frequency[order])) > SAME_BAND
    band = np.empty(len(frequency), dtype=int)
    band[order] = np.concatenate([[0], np.cumsum(is_next_band)])
    own = np.array([each.q_spread for each in measured])
    return np.asarray(np.diag(own**2) + MODEL_SPREAD**2 * (band[:, None] == band))


def _seen(twin: Twin, scores: FloatArray) -> FloatArray:
    # The coupling loop as declared: how it is bent hardly shows in the unloaded Q.
    uniform = np.full((len(scores), COLUMNS), 0.5)
    uniform[:, : len(INPUTS)] = ndtr(scores)
    return twin.observe(draws_of(Cause.NONE, twin, uniform)).ln_q


def _chance(seen: Seen, *, values: FloatArray, errors: FloatArray) -> float:
    """Share of rings within tolerance whose sweeps lie as far off as these, in the distance of P. C. Mahalanobis."""
    shown = seen(ndtri(sobol_points(TRIED)))
    noise = np.random.default_rng(SEED).standard_normal(shown.shape) @ np.linalg.cholesky(errors).T
    everyone = shown + noise
    here = _Moments.of(everyone, np.full(len(everyone), 1.0 / len(everyone)))
    inverse = np.linalg.inv(here.covariance)

    def distance(rows: FloatArray) -> FloatArray:
        return np.asarray(np.einsum("ni,ij,nj->n", rows - here.mean, inverse, rows - here.mean))

    return float(np.mean(distance(everyone) >= distance(values[None])[0]))
