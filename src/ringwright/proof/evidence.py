# SPDX-License-Identifier: BSD-3-Clause
"""How well each suspect explains what was measured, all sweeps together."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from ringwright.physics.graph import FloatArray
from ringwright.proof.draws import Draws
from ringwright.proof.measured import Measured
from ringwright.proof.sampling import SEED, Weighed, weigh
from ringwright.proof.suspects import COLUMNS, PRIOR, Cause, draws_of
from ringwright.proof.twin import Observed, Twin

Told = Callable[[int, int, str], None]
"""Hears of steps done, of how many, and what comes now; what it raises ends the work."""

MODEL_SPREAD = 0.015
"""What the prediction itself leaves open from band to band, of the logarithm (docs/explanation/thin-wire.md)."""
TAIL = 5.0
"""Degrees of freedom of Student's distribution: a sweep may be worse than its interval says."""
WITHHELD = 0.2
"""Share of belief that no sweep moves from what was believed before: two faults at once, or one nobody thought of
(common practice, no source)."""
KEPT = 500
"""Rings kept of each suspect, drawn by how well they explain the sweeps."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Explained:
    """One suspect after the sweeps: its share of the belief, `KEPT` rings that fit, and how many these are worth.

    `posterior` is the share that the sweeps alone give, nothing withheld.
    """

    cause: Cause
    probability: float
    posterior: float
    draws: Draws
    effective: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Evidence:
    """What was measured against a twin, suspect by suspect in the order of `Cause`."""

    twin: Twin
    measured: tuple[Measured, ...]
    suspects: tuple[Explained, ...]


class Channels:
    """All logarithms that some sweeps give, as one row, and how sure each is."""

    def __init__(self, measured: Sequence[Measured]) -> None:
        rows = [
            (kind, number, value, spread)
            for number, each in enumerate(measured)
            for kind, (value, spread) in enumerate(each.logarithms)
            if value is not None
        ]
        self._kind, self._number = (np.array([row[n] for row in rows]) for n in (0, 1))
        self.values = np.array([row[2] for row in rows])
        is_predicted_exactly = self._kind == OFF_RESONANCE
        self.spread = np.hypot([row[3] for row in rows], np.where(is_predicted_exactly, 0.0, MODEL_SPREAD))

    def of(self, seen: Observed) -> FloatArray:
        """The same logarithms of many rings, (samples, channels)."""
        every = np.stack([seen.ln_q, seen.ln_coupling, seen.ln_off_resonance])
        return np.asarray(every[self._kind, :, self._number].T)

    def ln_likelihood(self, seen: Observed) -> FloatArray:
        """(samples,), by Student's distribution in each channel, but for a constant.

        Channel by channel, so that one sweep that went wrong does not drown what the others say.
        """
        square = ((self.of(seen) - self.values) / self.spread) ** 2
        ln = -(TAIL + 1.0) / 2.0 * np.sum(np.log1p(square / TAIL), axis=1)
        # A bar that pulls a resonance in two leaves no Q to compare.
        return np.where(np.isfinite(ln), ln, -np.inf)


OFF_RESONANCE = 2


def explain(twin: Twin, measured: Sequence[Measured], *, told: Told) -> Evidence:
    """Weigh every cause by what was measured, a sweep for each frequency of the twin."""
    steps = len(Cause) + 1
    channels, found = Channels(measured), dict[Cause, Weighed]()
    for step, cause in enumerate(Cause, start=1):
        told(step, steps, f"trying {cause.value.replace('_', ' ')}")
        found[cause] = weigh(_fit_of(cause, twin, channels), COLUMNS)
    told(steps, steps, "done")
    rng = np.random.default_rng(SEED)
    return Evidence(
        twin=twin,
        measured=tuple(measured),
        suspects=tuple(
            Explained(
                cause=cause,
                probability=(1.0 - WITHHELD) * posterior + WITHHELD * PRIOR[cause],
                posterior=posterior,
                draws=draws_of(cause, twin, weighed.drawn(KEPT, rng)),
                effective=weighed.effective,
            )
            for (cause, weighed), posterior in zip(found.items(), _posterior(found), strict=True)
        ),
    )


def _fit_of(cause: Cause, twin: Twin, channels: Channels) -> Callable[[FloatArray], FloatArray]:
    return lambda uniform: channels.ln_likelihood(twin.observe(draws_of(cause, twin, uniform)))


def _posterior(found: dict[Cause, Weighed]) -> list[float]:
    ln = np.log([PRIOR[cause] for cause in found]) + np.array(
        [weighed.ln_evidence for weighed in found.values()]
    )
    share = np.exp(ln - ln.max())
    return [float(each) for each in share / share.sum()]
