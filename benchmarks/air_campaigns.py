# SPDX-License-Identifier: BSD-3-Clause
"""Whether the interval of a comparison holds: `python -m benchmarks.air_campaigns [--campaigns N] [--seed S]`.

Makes up campaigns with a known difference of two antennas and compares them. Prints for each kind how often the truth
lay in the 95 % interval, the mean error and its spread, the median half width, and how far off plain averages are.
"""

import argparse

import numpy as np

from ringwright.air.comparison import compare
from ringwright.air.pairs import at_one_watt
from tests.air.campaigns import Campaign, made

KINDS = {
    "200, slots of 10 min": Campaign(reports=200, true_db=2.5, receivers=20),
    "200, slots of 5 min": Campaign(reports=200, true_db=-4.0, receivers=20, slot=300.0),
    "1000, two dozen slots": Campaign(reports=1000, true_db=-3.0),
    "1000, nothing in common": Campaign(reports=1000, true_db=-3.0, differs=0.0, fading=0.0, slot_fading=0.0),
    "1000, slots of 5 min": Campaign(
        reports=1000, true_db=-3.0, slot=300.0, slot_fading=0.0, fading=2.0, day=6.0, differs=1.0
    ),
    "1000, three wild receivers": Campaign(reports=1000, true_db=-3.0, wild=3),
    "2000, slots of 2 min": Campaign(reports=2000, true_db=4.0, slot=120.0),
    "2000, floor at -22 dB": Campaign(reports=2000, true_db=-4.0, floor=-22.0),
    "2000, floor at -26 dB": Campaign(reports=2000, true_db=-4.0, floor=-26.0, offsets=6.0),
    "3000, six receivers": Campaign(reports=3000, true_db=-3.0, receivers=6),
    "5000, 80 receivers": Campaign(reports=5000, true_db=-3.0, receivers=80),
    "20000, 150 receivers": Campaign(reports=20_000, true_db=-1.5, receivers=150),
}


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--campaigns", type=int, default=200, help="of each kind; a quarter of the largest")
    parser.add_argument("--seed", type=int, default=21)
    options = parser.parse_args()
    held = total = 0
    print(f"{'kind':<28}{'holds':>8}{'error':>8}{'spread':>8}{'half':>7}{'plain':>8}")
    for name, campaign in KINDS.items():
        rng = np.random.default_rng(options.seed)
        count = options.campaigns if campaign.reports < 10_000 else max(1, options.campaigns // 4)
        hits, errors, halves, plain = 0, [], [], []
        for _ in range(count):
            reports = made(campaign, rng)
            is_a, level = reports.antenna == 0, at_one_watt(reports)
            if is_a.all() or not is_a.any():
                continue  # chance put one antenna alone on the air
            plain.append(level[is_a].mean() - level[~is_a].mean() - campaign.true_db)
            found = compare(reports, "A", "B").found
            if found is None:
                continue
            hits += found.low <= campaign.true_db <= found.high
            errors.append(found.value - campaign.true_db)
            halves.append((found.high - found.low) / 2.0)
        held, total = held + hits, total + len(errors)
        print(
            f"{name:<28}{100.0 * hits / len(errors):7.1f}%{np.mean(errors):+8.2f}{np.std(errors):8.2f}"
            f"{np.median(halves):7.2f}{np.mean(plain):+8.2f}",
            flush=True,
        )
    print(f"{'all':<28}{100.0 * held / total:7.1f}% of {total}")


if __name__ == "__main__":
    main()
