# SPDX-License-Identifier: BSD-3-Clause
"""What to measure next: for each thing one could do, how much the sweep after it is expected to tell.

The rings that explain the sweeps so far are asked what they would show; the expected information is the mutual
information between the cause and that reading, in bits.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from scipy.special import logsumexp

from ringwright.antenna.solution import SolutionMemory
from ringwright.physics.graph import FloatArray
from ringwright.proof.diagnosis import Diagnosis, silent
from ringwright.proof.evidence import Told
from ringwright.proof.experiments import Experiment, experiments
from ringwright.proof.sampling import SEED
from ringwright.proof.suspects import Cause

READINGS = 40
"""Simulated of each suspect for each thing to do."""
NEGLIGIBLE = 0.005
"""Suspects that the sweeps make less probable than this are left out, but for the first two."""
TELLS = 0.1
"""Bits; what is expected to tell less is not worth a walk to the ring. By as much two equals become about two to one
(common practice, no source)."""
LEAST_DENSITY = -12.0
"""Of a reading under one suspect over that under the best, natural logarithm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NextMeasurement:
    """One thing to do; names are the JSON's keys. `separates` are the two suspects that it tells apart best."""

    do: str
    separates: tuple[Cause, Cause]
    expected_information_bits: float

    @property
    def is_worth_making(self) -> bool:
        """Whether it is expected to tell more than hardly anything."""
        return self.expected_information_bits >= TELLS


def hardly_more(offered: Sequence[NextMeasurement]) -> str:
    """One sentence, for where nothing that is offered is worth making."""
    most = max((each.expected_information_bits for each in offered), default=0.0)
    return f"Another sweep would tell hardly more: at most {most:.2f} bits, where 1 tells two equals apart."


def next_measurements(
    diagnosis: Diagnosis, memory: SolutionMemory | None = None, *, told: Told = silent
) -> tuple[NextMeasurement, ...]:
    """All that one could do next, what tells most first; one entry per kind of doing, at its best band.

    Parameters
    ----------
    diagnosis : Diagnosis
        What the sweeps so far say.
    memory : SolutionMemory, optional
        Keeps solutions between calls; a fresh one without it.
    told : callable, optional
        Hears of progress; what it raises ends the work.
    """
    best: dict[str, NextMeasurement] = {}
    for experiment in experiments(diagnosis.evidence, memory or SolutionMemory(), told):
        judged = _judge(experiment, diagnosis)
        known = best.get(experiment.kind)
        if known is None or judged.expected_information_bits > known.expected_information_bits:
            best[experiment.kind] = judged
    return tuple(sorted(best.values(), key=lambda each: -each.expected_information_bits))


def _judge(experiment: Experiment, diagnosis: Diagnosis) -> NextMeasurement:
    by_posterior = sorted(diagnosis.evidence.suspects, key=lambda each: -each.posterior)
    suspects = [each for place, each in enumerate(by_posterior) if place < 2 or each.posterior >= NEGLIGIBLE]
    probability = np.array([each.posterior for each in suspects])
    probability = probability / probability.sum()
    ln = _reading_likelihoods([experiment.reading(each) for each in suspects], experiment.spread)
    pairs = list(combinations(range(len(suspects)), 2))
    first, second = pairs[int(np.argmax([_information(ln, probability, pair) for pair in pairs]))]
    return NextMeasurement(
        do=experiment.do,
        separates=(suspects[first].cause, suspects[second].cause),
        expected_information_bits=max(_information(ln, probability, tuple(range(len(suspects)))), 0.0),
    )


def _reading_likelihoods(readings: list[FloatArray], spread: FloatArray) -> FloatArray:
    """Logarithm of the density under suspect k of reading i simulated of suspect c, (c, i, k).

    Each suspect's density is a mixture over its rings; the ring that a reading was made from is left out of it, which
    would otherwise recognise itself.
    """
    rng = np.random.default_rng(SEED)
    out = np.empty((len(readings), READINGS, len(readings)))
    for number, rings in enumerate(readings):
        chosen = rng.choice(len(rings), READINGS, replace=False)
        noisy = rings[chosen] + spread * rng.standard_normal((READINGS, len(spread)))
        for other, candidates in enumerate(readings):
            square = np.sum(((noisy[:, None] - candidates) / spread) ** 2, axis=2)
            if other == number:
                square[np.arange(READINGS), chosen] = np.inf
            out[number, :, other] = logsumexp(-0.5 * square, axis=1) - np.log(
                len(candidates) - (other == number)
            )
    # A reading that no ring of a suspect comes near would be certain; nothing measured is.
    return np.asarray(np.maximum(out, out.max(axis=2, keepdims=True) + LEAST_DENSITY))


def _information(ln: FloatArray, probability: FloatArray, among: tuple[int, ...]) -> float:
    """Expected by the suspects `among` others, weighed by how probable it is that it is one of them [bit]."""
    index = np.array(among)
    chosen = ln[np.ix_(index, np.arange(ln.shape[1]), index)]
    weight = probability[index]
    mixed = logsumexp(chosen, axis=2, b=weight / weight.sum())
    own = np.stack([chosen[number, :, number] for number in range(len(index))])
    return float(weight @ np.mean(own - mixed, axis=1) / np.log(2.0))
