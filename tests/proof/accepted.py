# SPDX-License-Identifier: BSD-3-Clause
"""Rings built within their tolerances, swept with noise on some bands and accepted: what a layer is judged by.

Nothing here knows how a layer is found: a ring is a change of the design's own values, predicted full-wave, and what is
measured of it is the circle fitted to a noisy sweep.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime

import numpy as np

from ringwright.antenna.calibration import Calibration, calibrated
from ringwright.antenna.design import Design
from ringwright.antenna.design_file import parse_design
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import BandPrediction, Prediction
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_design
from ringwright.antenna.solution import SolutionMemory
from ringwright.errors import CalibrationError
from ringwright.proof.calibration import Learnt, learn
from ringwright.proof.evidence import MODEL_SPREAD
from ringwright.proof.measured import LEAST_SPREAD, NINETY_FIVE, Measured
from ringwright.proof.resonance_fit import fit_resonance
from ringwright.proof.twin import Twin
from tests.antenna.ranges.uncertain import moved
from tests.proof.planted import GARDEN_CIRCLE, predicted_sweep

FIGURES_HELD = ("q_unloaded", "efficiency_sky_pct", "resistance_ohm.total", "tuning.capacitor_voltage_peak_v")
NOISE = 0.004
"""Of each point of a sweep, as a share of full reflection, in both parts."""
UNTIED_EVERY = 3
"""Of so many rings one is also looked at with the correlations of its layer forgotten."""

SQUARE_OF_TWO = """
format = 1
name = "Square of two turns"
bands = ["80m", "60m", "40m"]
[ring]
shape = "square"
side = "1 m"
turns = 2
turn_spacing = "0.15 m"
joints = 8
joint_resistance = "2 mohm"
[ring.conductor]
kind = "tube"
diameter = "15 mm"
wall = "1 mm"
[coupling]
diameter = "0.25 m"
[coupling.conductor]
kind = "solid"
diameter = "4 mm"
material = "copper"
[capacitor]
kind = "air"
minimum = "10 pF"
maximum = "500 pF"
q = 800
[site]
height = "1.5 m"
earth = "poor"
"""


@dataclass(frozen=True)
class Case:
    """A design and the bands it is measured on."""

    design: Design
    measured: tuple[str, ...]

    @property
    def bands(self) -> tuple[str, ...]:
        return tuple(target.band or "" for target in self.design.targets)

    def twin(self, memory: SolutionMemory) -> Twin:
        swept = [each.frequency for each in self.design.targets if each.band in self.measured]
        return Twin(self.design, np.array(swept), memory)


def cases() -> dict[str, Case]:
    square = parse_design(SQUARE_OF_TWO, source="square.toml")
    return {
        "garden circle": Case(parse_design(GARDEN_CIRCLE, source="circle.toml"), ("40m",)),
        "terrace octagon": Case(shipped_design(TERRACE_OCTAGON), ("60m", "30m")),
        "square of two turns": Case(square, ("60m",)),
    }


def layer_of(learnt: Learnt, *, is_tied: bool = True) -> Calibration:
    """As a calibration that no file holds; not `is_tied`: its correlations forgotten."""
    tied = learnt.correlation if is_tied else np.eye(len(learnt.shift))
    return Calibration(
        name="test",
        accepted=datetime(2026, 6, 1, tzinfo=UTC),
        design="test",
        text_sha256="0" * 64,
        build_sha256="0" * 64,
        shift=tuple(float(each) for each in learnt.shift),
        spread=tuple(float(each) for each in learnt.spread),
        correlation=tuple(tuple(float(each) for each in row) for row in tied),
    )


def measured_on(band: BandPrediction, rng: np.random.Generator) -> Measured:
    """A noisy sweep of a ring, fitted; what the prediction leaves open of a band is in it."""
    sweep = predicted_sweep(band.point, points=61)
    noise = rng.normal(0.0, NOISE, (2, len(sweep.frequency)))
    fit = fit_resonance(replace(sweep, response=sweep.response + noise[0] + 1j * noise[1]))
    return Measured(
        frequency=band.frequency,
        q_unloaded=fit.q_unloaded.value * float(np.exp(rng.normal(0.0, MODEL_SPREAD))),
        q_spread=max(fit.q_unloaded.log_spread / NINETY_FIVE, LEAST_SPREAD),
    )


@dataclass
class Held:
    """How often a range held the truth, by band and figure."""

    inside: dict[tuple[int, str], list[bool]] = field(default_factory=lambda: defaultdict(list))

    def count(self, truth: Prediction, predicted: Prediction) -> None:
        for number, (there, here) in enumerate(zip(truth.bands, predicted.bands, strict=True)):
            for key in FIGURES_HELD:
                low, high = here.range[key]
                self.inside[number, key].append(low <= float(FIGURES[key].of(there)) <= high)

    def share(self, band: int, key: str) -> float:
        return float(np.mean(self.inside[band, key]))


@dataclass
class Tally:
    """What came of many rings of one case."""

    before: Held = field(default_factory=Held)
    after: Held = field(default_factory=Held)
    untied: Held = field(default_factory=Held)
    ratios: dict[tuple[int, str], list[float]] = field(default_factory=lambda: defaultdict(list))
    refused: int = 0

    @classmethod
    def of(cls, case: Case, count: int, rng: np.random.Generator) -> "Tally":
        tally, memory = cls(), SolutionMemory()
        twin, before = case.twin(memory), predict(case.design, memory)
        for number, truth in enumerate(_built(case.design, count, rng, memory=memory)):
            swept = [measured_on(band, rng) for band in truth.bands if band.band in case.measured]
            try:
                learnt = learn(twin, swept)
            except CalibrationError:
                tally.refused += 1
                continue
            after = predict(calibrated(case.design, layer_of(learnt)), memory)
            tally.before.count(truth, before)
            tally.after.count(truth, after)
            tally._compare(before, after)
            if number % UNTIED_EVERY == 0:
                forgotten = layer_of(learnt, is_tied=False)
                tally.untied.count(truth, predict(calibrated(case.design, forgotten), memory))
        return tally

    def width(self, band: int, key: str) -> float:
        """Middle of the widths of ranges after, over those before."""
        return float(np.median(self.ratios[band, key]))

    def _compare(self, before: Prediction, after: Prediction) -> None:
        for number, (wide, narrow) in enumerate(zip(before.bands, after.bands, strict=True)):
            for key in FIGURES_HELD:
                self.ratios[number, key].append(
                    float(np.log(narrow.range[key][1] / narrow.range[key][0]))
                    / float(np.log(wide.range[key][1] / wide.range[key][0]))
                )


def _built(
    design: Design, count: int, rng: np.random.Generator, *, memory: SolutionMemory
) -> Iterator[Prediction]:
    for q, joint, sigma, eps in rng.standard_normal((count, 4)):
        yield predict(moved(design, q=q, joint=joint, sigma=sigma, eps=eps), memory)
