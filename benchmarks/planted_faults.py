# SPDX-License-Identifier: BSD-3-Clause
"""How often the diagnosis is right: `python -m benchmarks.planted_faults [--cases N] [--seed S]`.

Plants N faults of each kind into each of three rings, predicts them full-wave, measures them with noise and diagnoses
them. Prints for each ring what was planted against what came first, and every true cause that fell below 5 %.
"""

import argparse
import time
from collections import Counter

import numpy as np

from ringwright.antenna.solution import SolutionMemory
from ringwright.proof.diagnosis import diagnosis_with
from ringwright.proof.suspects import Cause
from ringwright.proof.twin import Twin
from tests.proof.planted import FAULTS, built_with, designs

TOO_LOW = 0.05


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--cases", type=int, default=20, help="of each fault in each ring")
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    right = Counter[Cause]()
    low: list[str] = []
    for number, (name, design) in enumerate(designs().items()):
        rng = np.random.default_rng([options.seed, number])
        twin = Twin(design, np.array([target.frequency for target in design.targets]), SolutionMemory())
        print(f"\n{name}\n{'planted':>10} | " + " ".join(f"{cause.value:>9}" for cause in Cause) + "  least")
        for planted in FAULTS:
            first, least, took = Counter[Cause](), 1.0, 0.0
            for _ in range(options.cases):
                built = built_with(planted, design, rng)
                measured = built.measured(rng)
                start = time.perf_counter()
                diagnosis = diagnosis_with(twin, measured)
                took += time.perf_counter() - start
                first[diagnosis.suspects[0].cause] += 1
                belief = next(each.probability for each in diagnosis.suspects if each.cause is planted)
                least = min(least, belief)
                if belief < TOO_LOW:
                    low.append(f"{name}: {planted.value}, {built.size}, adds {built.adds:.2f}: {belief:.3f}")
            right[planted] += first[planted]
            row = " ".join(f"{first[cause]:9d}" for cause in Cause)
            print(f"{planted.value:>10} | {row}  {least:.3f}  {took / options.cases:.2f} s each", flush=True)
    each = options.cases * len(designs())
    print(f"\nright: {sum(right.values()) / (each * len(FAULTS)):.1%}")
    print(", ".join(f"{cause.value} {count / each:.0%}" for cause, count in right.items()))
    print(f"true cause below {TOO_LOW:.0%}: {len(low)} of {each * len(FAULTS)}", *low, sep="\n  ")


if __name__ == "__main__":
    main()
