# SPDX-License-Identifier: BSD-3-Clause
"""A search of 5,200 candidates on three bands over earth: `python -m benchmarks.search_grid [WORKERS...]`.

For each number of processes: candidates a second, in wall time, in processor time and in units of speed, what the
screen takes, what the solutions and the rest take, and the most memory a process had. Everything is solved anew.
"""

import json
import os
import resource
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

from benchmarks.unit import unit_times
from ringwright.choose.rings.finding import Advance
from ringwright.desk.hands import hands_here
from ringwright.desk.searching import SearchWay, load_brief, search

BRIEF = """\
format = 1
name = "Benchmark"
bands = ["40m", "30m", "20m"]
power = "50 W"
mode = "SSB voice"
[site]
height = "2 m"
earth = "average"
[[site.people]]
name = "neighbour"
at = ["6 m", "2 m", "2 m"]
[weights]
sky_db = 1
size = 1
[grid]
shape = ["octagon"]
perimeter = ["2 m", "5 m", 25]
"""


def measured(workers: int) -> dict[str, float]:
    """One search with so many processes."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "brief.toml"
        path.write_text(BRIEF, encoding="utf-8")
        brief = load_brief(path)
    unit = float(np.median(unit_times()))
    moments: list[float] = []
    before = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    began = time.perf_counter()

    def tell(_: Advance) -> None:
        moments.append(time.perf_counter())

    found = search(brief, SearchWay(workers=workers), tell)
    wall = time.perf_counter() - began
    after = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    spent = sum(b.ru_utime + b.ru_stime - a.ru_utime - a.ru_stime for a, b in zip(before, after, strict=True))
    unit = float(np.median([unit, float(np.median(unit_times()))]))
    return {
        "workers": workers,
        "considered": found.considered,
        "screened_pct": round(100.0 * found.screened / found.considered, 1),
        "solved": found.solved,
        "passing": found.passing,
        "solutions": found.solutions,
        "verified": found.verified,
        "wall_s": round(wall, 1),
        "processor_s": round(spent, 1),
        "until_first_solution_s": round(moments[0] - began, 2),
        "candidates_per_s": round(found.considered / wall, 1),
        "candidates_per_processor_s": round(found.considered / spent, 1),
        "units_per_candidate": round(wall / unit / found.considered, 2),
        "unit_ms": round(1e3 * unit, 2),
        "memory_mb": round(max(each.ru_maxrss for each in after) / 1024.0),
        "load": round(os.getloadavg()[0], 1),
    }


if __name__ == "__main__":
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    for count in [int(each) for each in sys.argv[1:]] or [1, hands_here()]:
        print(json.dumps(measured(count)), flush=True)
