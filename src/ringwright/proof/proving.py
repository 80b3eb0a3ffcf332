# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps in, truth out: each sweep against its band, then all of them together against the suspects."""

from collections.abc import Sequence
from dataclasses import dataclass

from ringwright.antenna.design import Design
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import Prediction
from ringwright.antenna.solution import SolutionMemory
from ringwright.proof.comparison import Comparison, prove_sweep
from ringwright.proof.diagnosis import Diagnosis, diagnose, silent
from ringwright.proof.evidence import Told
from ringwright.proof.measured import Measured
from ringwright.proof.next_measurement import NextMeasurement, next_measurements
from ringwright.proof.sweep import Sweep


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """What the sweeps say of a built ring. `next_measurements`: what tells most comes first."""

    design: Design
    prediction: Prediction
    sweeps: tuple[Sweep, ...]
    comparisons: tuple[Comparison, ...]
    diagnosis: Diagnosis
    next_measurements: tuple[NextMeasurement, ...]

    def _repr_html_(self) -> str:
        """What a notebook shows."""
        from ringwright.proof.proof_html import proof_html  # it describes this class

        return proof_html(self)


def prove(
    design: Design, sweeps: Sequence[Sweep], memory: SolutionMemory | None = None, *, told: Told = silent
) -> Proof:
    """Set sweeps against a design.

    Parameters
    ----------
    design : Design
        What was declared.
    sweeps : sequence of Sweep
        One or more, of any of its bands, in any order.
    memory : SolutionMemory, optional
        Keeps solutions between calls; a fresh one without it.
    told : callable, optional
        Hears of progress; what it raises ends the work.

    Raises
    ------
    SweepFitError
        If a sweep shows no resonance, or one that belongs to no band of the design.
    DesignError
        If the design cannot be built.
    OutOfRangeError
        If there is no sweep.
    """
    memory = memory or SolutionMemory()
    prediction = predict(design, memory)
    comparisons = tuple(prove_sweep(design, prediction, sweep) for sweep in sweeps)
    diagnosis = diagnose(design, [Measured.of(each) for each in comparisons], memory, told=told)
    return Proof(
        design=design,
        prediction=prediction,
        sweeps=tuple(sweeps),
        comparisons=comparisons,
        diagnosis=diagnosis,
        next_measurements=next_measurements(diagnosis, memory, told=told),
    )
