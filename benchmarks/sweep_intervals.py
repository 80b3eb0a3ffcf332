# SPDX-License-Identifier: BSD-3-Clause
"""Do the 95 % intervals of a sweep hold the truth? `python -m benchmarks.sweep_intervals [--sweeps N] [--seed S]`.

Makes N sweeps of each of seven kinds, fits each, and prints for every figure how often its interval held the truth.
"""

import argparse

import numpy as np

from tests.proof.intervals import COVERED, FIGURES, tally


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--sweeps", type=int, default=600, help="of each kind")
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    rng = np.random.default_rng(options.seed)
    print(f"{'widths':>6} {'points':>6} " + " ".join(f"{name:>20}" for name in FIGURES))
    shares = []
    for case in COVERED:
        held, _ = tally(case, options.sweeps, rng)
        shares.append(held)
        print(f"{case[0]:6g} {case[1]:6d} " + " ".join(f"{share:20.1%}" for share in held), flush=True)
    print(f"{'all':>13} " + " ".join(f"{share:20.1%}" for share in np.mean(shares, axis=0)))


if __name__ == "__main__":
    main()
