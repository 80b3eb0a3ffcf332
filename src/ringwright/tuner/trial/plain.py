# SPDX-License-Identifier: BSD-3-Clause
"""The plain methods on the same random twins, on the bench: no link to lose a line, no operator who comes late."""

import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum

from ringwright.errors import OutOfRangeError
from ringwright.tuner.baselines import Bench, Found, full_scan, golden_section
from ringwright.tuner.trial.told import TUNING_LIMIT, TUNING_POWER, told_curve, told_ring
from ringwright.tuner.trial.truth import Truth, resonant_motor, truth_of
from ringwright.tuner.twin.facts import draw_twin
from ringwright.tuner.twin.world import World

SIGMAS = 3.0


class Method(StrEnum):
    """Plain ways to find a dip; the names are keys of the trial's document."""

    GOLDEN_SECTION = "golden_section"
    FULL_SCAN = "full_scan"


_SEARCHES: dict[Method, Callable[..., Found]] = {
    Method.GOLDEN_SECTION: golden_section,
    Method.FULL_SCAN: full_scan,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainOutcome:
    """One run of a plain method; `truth` is None where it took too long."""

    method: Method
    truth: Truth | None
    carrier: float
    readings: int
    readings_keyed: int

    @property
    def is_success(self) -> bool:
        return self.truth is not None and self.truth.is_success


def run_plain(number: int, seed: int, method: Method) -> PlainOutcome:
    """Run a plain method on one random twin of a trial, from the same table within its three sigmas."""
    rng = random.Random(f"{seed}/{number}")  # noqa: S311 -- a simulation keeps no secrets
    drawn = draw_twin(rng)
    facts = replace(drawn, operator=replace(drawn.operator, patience=1e9), inhibit_is_wired=False)
    world = World(facts, tuning_limit=TUNING_LIMIT)
    ring = told_ring(facts, rng)
    curve = told_curve(facts, facts.ring, place=resonant_motor(world), rng=rng)
    bench = Bench(world, low=facts.low_end, high=facts.high_end, slack=ring.slack, tuning_power=TUNING_POWER)
    try:
        found = _SEARCHES[method](
            bench,
            expected=curve.position(facts.frequency, None),
            reach=SIGMAS * curve.sigma(facts.frequency),
            bandwidth=facts.ring.half_power_steps(facts.frequency),
        )
    except OutOfRangeError:
        found = Found(position=0, readings=bench.readings, carrier=world.keyed_seconds)
        truth = None
    else:
        truth = truth_of(world)
    return PlainOutcome(
        method=method,
        truth=truth,
        carrier=found.carrier,
        readings=found.readings,
        readings_keyed=world.readings_keyed,
    )
