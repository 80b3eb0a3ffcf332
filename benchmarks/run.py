# SPDX-License-Identifier: BSD-3-Clause
"""Measure every benchmark in units of speed: `python -m benchmarks.run [--json FILE] [--processor] [WORD]`.

A benchmark is a function `bench_...` in a module `benchmarks/bench_*.py`. The first line of its docstring is the name
of the figure. It prepares what the person has at hand before the clock runs, and returns the call to be timed; a call
that must meet something new each time (a geometry not seen before) takes it from what was prepared.
The unit is measured before and after each benchmark, and both halves count.
"""

import argparse
import importlib
import json
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

import numpy as np

from benchmarks.unit import processor_time, stopwatch, unit_times

Benchmark = Callable[[], Callable[[], object]]

BENCHMARKS = Path(__file__).parent
FEWEST, MOST, LONG_ENOUGH = 15, 400, 3.0  # calls, calls, seconds: enough for a 95th percentile, soon over


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """Median and 95th percentile in units; `unit_s` is the unit they were measured against, `calls` how many."""

    name: str
    median: float
    p95: float
    unit_s: float
    calls: int


def discover(word: str) -> Iterator[tuple[str, Benchmark]]:
    """Name and function of every benchmark whose name, or whose module's, contains `word`."""
    for path in sorted(BENCHMARKS.glob("bench_*.py")):
        module = importlib.import_module(f"benchmarks.{path.stem}")
        for key, function in vars(module).items():
            if key.startswith("bench_"):
                name = (function.__doc__ or key).splitlines()[0].rstrip(".")
                if word in name or word in path.stem:
                    yield name, function


def measure(name: str, benchmark: Benchmark, clock: Callable[[], float] = time.perf_counter) -> Figure:
    call = benchmark()
    call()
    units = unit_times(clock=clock)
    times: list[float] = []
    while len(times) < FEWEST or (len(times) < MOST and sum(times) < LONG_ENOUGH):
        times.append(stopwatch(call, clock))
    unit = float(np.median(units + unit_times(clock=clock)))
    median, p95 = np.percentile(times, [50.0, 95.0]) / unit
    return Figure(name=name, median=float(median), p95=float(p95), unit_s=unit, calls=len(times))


def main() -> None:
    parser = argparse.ArgumentParser(
        prog="make bench", description="Speed in units (1 unit: one 512 x 512 LU)."
    )
    parser.add_argument("word", nargs="?", default="", help="only the benchmarks whose name contains this")
    parser.add_argument("--json", type=Path, metavar="FILE", help="write the figures there as well")
    parser.add_argument(
        "--processor", action="store_true", help="processor time instead of wall time, for a busy machine"
    )
    options = parser.parse_args()
    clock = processor_time if options.processor else time.perf_counter
    benchmarks = list(discover(options.word))
    if not benchmarks:
        parser.error(f"no benchmark is called {options.word!r}")
    print(f"{'median':>9} {'95 %':>9} {'calls':>6}  in units")
    figures = []
    for number, (name, benchmark) in enumerate(benchmarks, start=1):
        if sys.stderr.isatty():  # the figure's own line is longer and takes this one's place
            print(f"[{number}/{len(benchmarks)}] {name}", end="\r", file=sys.stderr, flush=True)
        figure = measure(name, benchmark, clock)
        figures.append(figure)
        print(f"{figure.median:9.3g} {figure.p95:9.3g} {figure.calls:6d}  {name}", flush=True)
    unit = float(np.median([figure.unit_s for figure in figures]))
    print(f"1 unit = {unit * 1e3:.2f} ms in this run")
    if options.json:
        options.json.write_text(
            json.dumps({"unit_s": unit, "figures": list(map(asdict, figures))}, indent=2) + "\n"
        )


if __name__ == "__main__":
    main()
