# SPDX-License-Identifier: BSD-3-Clause
"""Do the ranges of a calibrated ring hold the truth? `python -m benchmarks.calibrated_ranges [--cases N] [--seed S]`.

Builds N rings of each design within its tolerances, each predicted full-wave, sweeps them on some of their bands with
noise, accepts the sweeps, and counts on every band how often the 10 to 90 % range of a figure holds what that very ring
has: before, after, and with the layer's correlations forgotten. Beside each: how wide the range is after, over before.
"""

import argparse

import numpy as np

from tests.proof.accepted import FIGURES_HELD, Tally, cases


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--cases", type=int, default=200, help="rings of each design")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", choices=list(cases()), help="one design instead of all")
    options = parser.parse_args()
    for name, case in cases().items():
        if options.only not in (None, name):
            continue
        tally = Tally.of(case, options.cases, np.random.default_rng(options.seed))
        print(
            f"\n{name}, {options.cases} rings, measured on {', '.join(case.measured)}; {tally.refused} refused"
        )
        print(f"{'band':>5} {'':9} {'figure':<24} {'before':>7} {'after':>7} {'untied':>7} {'width':>6}")
        for number, band in enumerate(case.bands):
            word = "measured" if band in case.measured else ""
            for key in FIGURES_HELD:
                shares = [held.share(number, key) for held in (tally.before, tally.after, tally.untied)]
                row = " ".join(f"{share:7.1%}" for share in shares)
                print(f"{band:>5} {word:<9} {key:<24} {row} {tally.width(number, key):6.2f}", flush=True)


if __name__ == "__main__":
    main()
