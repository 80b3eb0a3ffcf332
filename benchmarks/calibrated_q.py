# SPDX-License-Identifier: BSD-3-Clause
"""Does the range of Q of a calibrated ring hold the truth? `python -m benchmarks.calibrated_q [--cases N] [--seed S]`.

The quick sister of `benchmarks.calibrated_ranges`: what a ring shows is reckoned from its parts, solved once, and not
full-wave for each ring. Prints band by band how often the 10 to 90 % range holds the Q of that very ring, before, after
and with the correlations forgotten, and how wide it is after, over before.
"""

import argparse

import numpy as np

from ringwright.antenna.calibration import calibrated
from ringwright.antenna.ranges.draws import Draws
from ringwright.antenna.solution import SolutionMemory
from ringwright.errors import CalibrationError
from ringwright.proof.calibration import learn
from ringwright.proof.evidence import MODEL_SPREAD
from ringwright.proof.tried import ROUGHLY
from ringwright.proof.twin import Twin
from tests.proof.accepted import Case, cases, layer_of
from tests.proof.test_calibration import measured, seen, spread_of_q

NOISE = 0.01
"""Of a sweep's Q, of the logarithm."""


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--cases", type=int, default=200, help="rings of each design")
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    for name, case in cases().items():
        print(f"\n{name}, {options.cases} rings, measured on {', '.join(case.measured)}", flush=True)
        before, after, untied, width = _shares(case, options.cases, np.random.default_rng(options.seed))
        for number, band in enumerate(case.bands):
            print(
                f"{band:>5}  before {before[number]:.1%}  after {after[number]:.1%}  "
                f"untied {untied[number]:.1%}  width {width[number]:.2f}",
                flush=True,
            )


def _shares(case: Case, count: int, rng: np.random.Generator) -> tuple[np.ndarray, ...]:
    design = case.design
    frequency = np.array([target.frequency for target in design.targets])
    swept = [number for number, band in enumerate(case.bands) if band in case.measured]
    memory = SolutionMemory()
    whole, some = (
        Twin(design, chosen, memory, earths_each_way=ROUGHLY) for chosen in (frequency, frequency[swept])
    )
    wide = spread_of_q(whole, Draws.of(design.tolerance, design.site.earth))
    held: tuple[list[np.ndarray], ...] = ([], [], [])
    widths = []
    for scores in rng.standard_normal((count, 4)):
        truth = seen(whole, scores[None])[0]
        shown = truth[swept] + rng.normal(0.0, np.hypot(NOISE, MODEL_SPREAD), len(swept))
        sweeps = [measured(f, np.exp(each), NOISE) for f, each in zip(frequency[swept], shown, strict=True)]
        try:
            found = learn(some, sweeps)
        except CalibrationError:
            continue
        held[0].append((wide[0] <= truth) & (truth <= wide[1]))
        for is_tied, inside in ((True, held[1]), (False, held[2])):
            layer = layer_of(found, is_tied=is_tied)
            draws = Draws.of(design.tolerance, calibrated(design, layer).site.earth, layer)
            low, high = spread_of_q(whole, draws, layer.shift)
            inside.append((low <= truth) & (truth <= high))
            if is_tied:
                widths.append((high - low) / (wide[1] - wide[0]))
    return (*(np.mean(each, axis=0) for each in held), np.median(widths, axis=0))


if __name__ == "__main__":
    main()
