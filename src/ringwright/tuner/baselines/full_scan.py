# SPDX-License-Identifier: BSD-3-Clause
"""Read everywhere, take the best: the plainest way to find a dip."""

from ringwright.tuner.baselines.bench import Bench, Found


def full_scan(bench: Bench, *, expected: float, reach: float, bandwidth: float) -> Found:
    """Read at every quarter of a half-power `bandwidth` within `reach` of where the table expects the dip [steps].

    Goes upwards only, then comes to the best place from below.
    """
    spacing = max(1.0, bandwidth / 4.0)
    count = int(2.0 * reach / spacing) + 1
    places = list(dict.fromkeys(bench.within(expected - reach + spacing * number) for number in range(count)))
    bench.come_to(places[0])
    bench.key()
    shares = []
    for place in places:
        bench.go(place)
        shares.append(bench.read())
    best = places[min(range(len(places)), key=lambda number: shares[number])]
    bench.come_to(best)
    return bench.found(best)
