# SPDX-License-Identifier: BSD-3-Clause
"""A simulated twin by itself, and tuned; `tune trial` says how many times real time that is."""

from collections.abc import Callable
from itertools import count
from random import Random

from ringwright.tuner.brain.step import step
from ringwright.tuner.trial.plain import Method, run_plain
from ringwright.tuner.trial.run import run_twin
from ringwright.tuner.twin.facts import draw_twin
from ringwright.tuner.twin.world import World

SECONDS = 100.0


def bench_idle_twin() -> Callable[[], object]:
    """Simulate 100 s of a twin at rest with its board and readings."""
    facts = draw_twin(Random(1))  # noqa: S311 -- a simulation keeps no secrets
    return lambda: World(facts, tuning_limit=5.0).run_until(SECONDS)


def bench_tuned_twin() -> Callable[[], object]:
    """Tune a random twin from the request to full power, brain, link and monitor included."""
    numbers = count()
    return lambda: run_twin(next(numbers), 1, step=step)


def bench_golden_section() -> Callable[[], object]:
    """Search a random twin's dip by golden section, for comparison."""
    numbers = count()
    return lambda: run_plain(next(numbers), 1, Method.GOLDEN_SECTION)
