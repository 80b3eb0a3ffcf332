# SPDX-License-Identifier: BSD-3-Clause
"""Golden-section search: a bracket that shrinks by 0.618 with each reading, wherever the function has one valley."""

import math

from ringwright.tuner.baselines.bench import Bench, Found

SHARE = (math.sqrt(5.0) - 1.0) / 2.0
END = 0.1
"""Of a half-power bandwidth, to which the bracket shrinks: SWR then changes by 0.1 from its middle to its ends."""


def golden_section(bench: Bench, *, expected: float, reach: float, bandwidth: float) -> Found:
    """Shrink the bracket of `reach` to both sides of where the table expects the dip [steps], until SWR stands to 0.1.

    Every reading is taken coming from below with the slack taken up, else backlash alone would mislead it.

    References
    ----------
    .. [1] J. Kiefer, "Sequential minimax search for a maximum," Proc. Amer. Math. Soc. 4(3), 1953, pp. 502-506.
    """
    low, high = float(bench.within(expected - reach)), float(bench.within(expected + reach))
    read: dict[int, float] = {}

    def share_at(place: float) -> float:
        step = bench.within(place)
        if step not in read:
            bench.come_to(step)
            if not read:
                bench.key()
            read[step] = bench.read()
        return read[step]

    left, right = high - SHARE * (high - low), low + SHARE * (high - low)
    at_left, at_right = share_at(left), share_at(right)
    while high - low > max(1.0, END * bandwidth):
        if at_left <= at_right:
            high, right, at_right = right, left, at_left
            left = high - SHARE * (high - low)
            at_left = share_at(left)
        else:
            low, left, at_left = left, right, at_right
            right = low + SHARE * (high - low)
            at_right = share_at(right)
    best = min(read, key=lambda step: read[step])
    bench.come_to(best)
    return bench.found(best)
