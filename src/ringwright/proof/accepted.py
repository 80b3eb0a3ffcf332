# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps accepted as what is true of a ring: the layer they make, and what the prediction says with it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import PurePath
from typing import Any

import numpy as np

from ringwright.antenna.calibration import (
    INPUTS,
    Calibration,
    SweepTaken,
    as_declared,
    calibrated,
    declared_spread,
)
from ringwright.antenna.design import Design
from ringwright.antenna.design_file import build_checksum, text_checksum
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import Prediction
from ringwright.antenna.solution import SolutionMemory
from ringwright.proof.calibration import learn
from ringwright.proof.comparison import Comparison
from ringwright.proof.measured import Measured
from ringwright.proof.proving import Proof
from ringwright.proof.twin import Twin

TELLING = ("q_unloaded", "efficiency_sky_pct")
"""Figures that are told before and after."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """A layer made of sweeps: the `design` that carries it, and the predictions without it and with it.

    `chance` that rings within the design's tolerances show sweeps as far from the expected, or farther.
    """

    layer: Calibration
    design: Design
    before: Prediction
    after: Prediction
    chance: float

    @property
    def spread_before(self) -> tuple[float, ...]:
        """Standard deviations of the logarithms as the design states them, in the order of `INPUTS`."""
        declared = as_declared(self.design)
        return tuple(float(each) for each in declared_spread(declared.tolerance, declared.site.earth))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sweeps:
    """Sweeps set against a design as declared: its prediction, its twin at their frequencies, each against its band."""

    design: Design
    prediction: Prediction
    comparisons: tuple[Comparison, ...]
    twin: Twin

    @classmethod
    def of(cls, design: Design, prediction: Prediction, comparisons: Sequence[Comparison]) -> "Sweeps":
        """Solve the design at the sweeps."""
        frequency = np.array([each.fit.frequency.value for each in comparisons])
        return cls(
            design=design,
            prediction=prediction,
            comparisons=tuple(comparisons),
            twin=Twin(design, frequency, SolutionMemory()),
        )

    @classmethod
    def of_proof(cls, proof: Proof) -> "Sweeps":
        """Those of a proof, whose diagnosis has the twin already."""
        return cls(
            design=proof.design,
            prediction=proof.prediction,
            comparisons=proof.comparisons,
            twin=proof.diagnosis.evidence.twin,
        )


def accept_measured(
    sweeps: Sweeps, text: str, *, name: str, accepted: datetime, checksums: Sequence[str]
) -> Accepted:
    """Make a layer of sweeps.

    Parameters
    ----------
    sweeps : Sweeps
        Of a design as declared.
    text : str
        The design file's, which the layer then belongs to.
    name : str
        What the layer is called.
    accepted : datetime
        Now, with its zone.
    checksums : sequence of str
        SHA-256 of each sweep as it was given, in the order of the sweeps.

    Raises
    ------
    CalibrationError
        If the sweeps lie beyond what the design's tolerances allow, or it states none.
    """
    learnt = learn(sweeps.twin, [Measured.of(each) for each in sweeps.comparisons])
    layer = Calibration(
        name=name,
        accepted=accepted,
        design=sweeps.design.name,
        text_sha256=text_checksum(text),
        build_sha256=build_checksum(text),
        shift=tuple(float(each) for each in learnt.shift),
        spread=tuple(float(each) for each in learnt.spread),
        correlation=tuple(tuple(float(each) for each in row) for row in learnt.correlation),
        sweeps=_sweeps_taken(sweeps.comparisons, checksums),
    )
    design = calibrated(sweeps.design, layer)
    return Accepted(
        layer=layer, design=design, before=sweeps.prediction, after=predict(design), chance=learnt.chance
    )


def _sweeps_taken(comparisons: Sequence[Comparison], checksums: Sequence[str]) -> tuple[SweepTaken, ...]:
    return tuple(
        SweepTaken(
            file=PurePath(comparison.fit.source).name,
            sha256=checksum,
            frequency=comparison.fit.frequency.value,
            q_unloaded=comparison.fit.q_unloaded.value,
        )
        for comparison, checksum in zip(comparisons, checksums, strict=True)
    )


def accepted_document(found: Accepted) -> dict[str, Any]:
    """The entry `calibration` of the proof's document."""
    layer = found.layer
    return {
        "name": layer.name,
        "accepted": layer.accepted.isoformat(timespec="seconds"),
        "chance": found.chance,
        "inputs": {
            name: {"shift": shift, "standard_deviation": spread, "standard_deviation_before": before}
            for name, shift, spread, before in zip(
                INPUTS, layer.shift, layer.spread, found.spread_before, strict=True
            )
            if before > 0.0
        },
        "correlation": [list(row) for row in layer.correlation],
        "bands": [*_bands(found)],
    }


def _bands(found: Accepted) -> Iterator[dict[str, Any]]:
    for before, after in zip(found.before.bands, found.after.bands, strict=True):
        told: dict[str, Any] = {"band": after.band, "frequency_hz": after.frequency}
        for key in TELLING:
            told |= {key: after.range[key], f"{key}_before": before.range[key]}
        yield told
