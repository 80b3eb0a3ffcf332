# SPDX-License-Identifier: BSD-3-Clause
"""From accepted sweeps to a layer over the design: where its uncertain inputs lie, by Bayes' rule.

Before any sweep the logarithms of the inputs are normal and independent, as `[tolerance]` states. Sweeps measure Q, to
which all of them add; what is left is a normal distribution again, near enough, in which they hang together.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import chdtrc, ndtr, ndtri

from ringwright.antenna.calibration import INPUTS, declared_spread
from ringwright.antenna.ranges.sobol import sobol_points
from ringwright.errors import CalibrationError
from ringwright.physics.graph import FloatArray
from ringwright.proof.evidence import MODEL_SPREAD
from ringwright.proof.experiments import SAME_BAND
from ringwright.proof.measured import Measured
from ringwright.proof.sampling import weigh
from ringwright.proof.suspects import Cause, draws_of
from ringwright.proof.twin import Twin

Seen = Callable[[FloatArray], FloatArray]
"""Logarithms of Q, (samples, sweeps), of rings given by standard scores of `INPUTS` (samples, 4)."""

UNBELIEVABLE = 1e-3
"""Sweeps that one ring in so many within tolerance would show, or fewer, show a fault and no such ring."""
LOOKS = 12
"""Of the logarithm to the base 2: rings within tolerance that are asked what they would show."""
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
    mean = weighed.weight @ scores
    apart = scores - mean
    return Learnt(
        shift=np.asarray(mean),
        covariance=np.asarray((apart * weighed.weight[:, None]).T @ apart),
        chance=_chance(seen, values=values, errors=errors),
    )


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
    uniform = np.full((len(scores), len(INPUTS) + 1), 0.5)
    uniform[:, : len(INPUTS)] = ndtr(scores)
    return twin.observe(draws_of(Cause.NONE, twin, uniform)).ln_q


def _chance(seen: Seen, *, values: FloatArray, errors: FloatArray) -> float:
    """By what rings within tolerance show, taken as normal: the tail of chi squared."""
    shown = seen(ndtri(sobol_points(LOOKS)))
    whole = np.atleast_2d(np.cov(shown, rowvar=False)) + errors
    apart = values - shown.mean(axis=0)
    return float(chdtrc(len(values), apart @ np.linalg.solve(whole, apart)))
