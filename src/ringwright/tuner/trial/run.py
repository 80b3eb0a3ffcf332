# SPDX-License-Identifier: BSD-3-Clause
"""One twin tuned by a brain, from the request to full power, with a person beside it who does not give up easily."""

import random

from ringwright.tuner.brain import Phase, PressStop, Release, Tell, Tune, Word
from ringwright.tuner.trial.faults import Fault, Injector
from ringwright.tuner.trial.host import WALL_START, Host, Step
from ringwright.tuner.trial.outcome import Outcome
from ringwright.tuner.trial.person import Person
from ringwright.tuner.trial.told import TUNING_LIMIT, told_curve, told_ring
from ringwright.tuner.trial.truth import resonant_motor
from ringwright.tuner.twin.facts import TwinFacts, draw_twin
from ringwright.tuner.twin.world import World

LONGEST = 240.0
"""Simulated seconds after which a healthy search counts as failed."""
LONGEST_FAULTY = 45.0
_SLICE = 0.25
STOP_PRESSED = 0.2
"""Share of the faulty runs in which somebody presses STOP, too."""


def run_twin(number: int, seed: int, *, step: Step, fault: Fault | None = None) -> Outcome:
    """Run one random twin of a trial; the same number and seed give the same run, wherever it runs."""
    rng = random.Random(f"{seed}/{number}")  # noqa: S311 -- a simulation keeps no secrets
    facts = draw_twin(rng)
    world = World(facts, tuning_limit=TUNING_LIMIT)
    outcome = Outcome(number=number, fault=fault)
    person = Person(world, outcome)
    ring = told_ring(facts, rng)
    curve = told_curve(facts, facts.ring, place=resonant_motor(world), rng=rng)
    world.expected_at = lambda count: curve.frequency(count, None)
    host = person.host = Host(world, ring, curve, step=step, on_tell=person.hears)
    world.later(1.0, person.looks)
    injector = None
    if fault is not None:
        injector = _go_wrong(fault, world=world, host=host, facts=facts, rng=rng, step=step)
    end = LONGEST if fault is None else LONGEST_FAULTY
    while world.now < end and not person.is_over and not (_is_lost(outcome, host) and fault is None):
        world.run_until(world.now + _SLICE)
        if not host.is_alive:
            world.run_until(world.now + rng.uniform(2.0, 8.0))
            host.start()
    outcome.seconds = world.now
    outcome.unsafe = {str(act): count for act, count in world.monitor.acts.items()}
    outcome.has_fault_happened = injector is not None and injector.has_happened
    return outcome


def _is_lost(outcome: Outcome, host: Host) -> bool:
    """Whether a healthy search gave up."""
    return outcome.truth is None and outcome.last_word == Word.NOT_FOUND and host.rests


def _go_wrong(
    fault: Fault, *, world: World, host: Host, facts: TwinFacts, rng: random.Random, step: Step
) -> Injector:
    if rng.random() < STOP_PRESSED:
        at = rng.uniform(1.0, 20.0)
        world.later(at, lambda: host.ask(PressStop()) if host.is_alive else None)
        world.later(at + 2.0, lambda: host.ask(Release()) if host.is_alive else None)

    def rival() -> Host:
        """Another host wants places nearby, by a clock that is a little ahead."""
        ring = told_ring(facts, rng)
        curve = told_curve(facts, facts.ring, place=resonant_motor(world), rng=rng)
        other = Host(world, ring, curve, step=step, on_tell=_nobody_listens, wall_start=WALL_START + 1000)

        def wants() -> None:
            if other.state.phase in {Phase.RESTING, Phase.TUNED}:
                other.ask(Tune(facts.frequency + rng.uniform(-3.0, 3.0) * facts.half_power))
            world.later(rng.uniform(1.0, 6.0), wants)

        world.later(0.5, wants)
        return other

    return Injector(fault, world=world, host=host, rival=rival, rng=rng)


def _nobody_listens(tell: Tell) -> None:
    """A person who is away."""
