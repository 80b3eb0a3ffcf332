# SPDX-License-Identifier: BSD-3-Clause
"""A held-out brief searched, and worked through by brute force: `python -m benchmarks.search_brute`.

Brute force shares nothing with the search: for every candidate its own coupling is sought (`match`), the design that
has it is predicted, and people are looked at by `keepout`. Prints both winners and the greatest difference of a score.
"""

import sys
import time
from dataclasses import replace
from itertools import product

import numpy as np

from ringwright.antenna.design_file import parse_design
from ringwright.antenna.predict import predict
from ringwright.antenna.site_fields import site_field
from ringwright.choose.match import find_coupling
from ringwright.choose.rings.brief_file import parse_brief
from ringwright.choose.rings.candidate import name_of, text_of
from ringwright.choose.rings.finding import find_rings
from ringwright.choose.rings.screen import extent_of
from ringwright.errors import OutOfRangeError
from ringwright.safety.exposure import Yardstick
from ringwright.safety.keepout import person_rows, unfavourable_factor

BRIEF = """\
format = 1
name = "Held out"
bands = ["30m", "20m", "17m"]
power = "40 W"
mode = "CW"
[site]
height = "1.4 m"
earth = "poor"
[[site.people]]
name = "path"
at = ["1 m", "3.5 m", "1.7 m"]
[weights]
sky_db = 1
size = 2
[grid]
shape = ["circle", "square"]
perimeter = ["2.2 m", "3.6 m", 3]
conductors = [{ diameter = "15 mm" }, { kind = "braid", diameter = "8 mm" }]
[[grid.capacitors]]
kind = "butterfly"
minimum = "6 pF"
maximum = "130 pF"
q = 2000
plate_gap = "3 mm"
[[grid.capacitors]]
kind = "vacuum"
minimum = "10 pF"
maximum = "300 pF"
q = 4000
rated_voltage = "7 kV"
"""


def main() -> int:
    brief = parse_brief(BRIEF, source="held-out")
    found = find_rings(brief)
    scores = {each.place: each.score(brief.weights) for each in found.candidates}
    brute: dict[tuple[int, int, int, int], float] = {}
    began = time.perf_counter()
    for place in product(range(2), range(3), range(2), range(2)):
        design = parse_design(text_of(brief, place, 0.12), source="candidate")
        try:
            matched = replace(design, coupling=find_coupling(design).best.coupling)
            prediction = predict(matched)
        except OutOfRangeError:
            continue
        is_legal = all(
            row.passes
            for band in prediction.bands
            for person in design.site.people
            for row in person_rows(
                person,
                Yardstick.of(design, band.frequency),
                field_at=site_field(matched, band.point),
                power=design.power,
                unfavourable=unfavourable_factor(band),
            )
        )
        stands = all((band.limits.power_max or 0.0) >= design.power for band in prediction.bands)
        if is_legal and stands and all(band.tuning.reachable for band in prediction.bands):
            sky = float(
                np.mean([10.0 * np.log10(band.efficiency_sky_pct / 100.0) for band in prediction.bands])
            )
            size = extent_of(brief, brief.shapes[place[0]], brief.perimeters[place[1]]).diameter
            brute[place] = sky - 2.0 * size
    best = max(brute, key=lambda place: brute[place])
    shared = sorted(set(brute) & set(scores))
    worst = max(abs(brute[place] - scores[place]) for place in shared)
    took = time.perf_counter() - began
    print(f"brute force: {name_of(brief, best)}, {brute[best]:.3f}, {len(brute)} pass, {took:.0f} s")
    first = found.front[0]
    print(
        f"search:      {name_of(brief, first.place)}, {first.score(brief.weights):.3f}, {found.passing} pass"
    )
    print(
        f"the same winner: {best == first.place}; greatest difference of a score {worst:.3f} dB over {len(shared)}"
    )
    print(f"judged differently: {sorted(set(brute) ^ set(scores))}")
    return 0 if best == first.place and abs(brute[best] - first.score(brief.weights)) <= 0.1 else 1


if __name__ == "__main__":
    sys.exit(main())
