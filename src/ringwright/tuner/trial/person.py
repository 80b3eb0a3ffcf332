# SPDX-License-Identifier: BSD-3-Clause
"""The person beside the brain, who wants full power and does not give up easily."""

from ringwright.tuner.brain import ClearLock, FindReference, Phase, Rise, Tell, Tune, Why, Word
from ringwright.tuner.trial.host import Host
from ringwright.tuner.trial.outcome import Outcome
from ringwright.tuner.trial.truth import truth_of
from ringwright.tuner.twin.world import World

LOOKS_EVERY = 3.0
WATCHED_AT_POWER = 5.0
MOST_RISES = 3


class Person:
    """Asks for the dip, then for full power, and deals with refusals as the page would advise."""

    def __init__(self, world: World, outcome: Outcome) -> None:
        self.world, self.outcome = world, outcome
        self.host: Host | None = None
        self.is_over = False
        self._refused: object = None
        self._keyed_before: float | None = None
        self._readings_before = 0
        self._rises = 0

    def hears(self, tell: Tell) -> None:
        outcome, world = self.outcome, self.world
        outcome.last_word = str(tell.word)
        if tell.word is Word.REFUSED:
            self._refused = dict(tell.values).get("why")
        elif tell.word is Word.TUNED and outcome.truth is None:
            outcome.truth = truth_of(world)
            outcome.carrier = world.keyed_seconds - (self._keyed_before or 0.0)
            outcome.readings_keyed = world.readings_keyed - self._readings_before
            outcome.readings = int(dict(tell.values)["readings"])
            outcome.forward_max = world.forward_max
        elif tell.word is Word.AT_POWER and not outcome.reached_power:
            outcome.reached_power = True
            world.later(WATCHED_AT_POWER, self._finish)

    def _finish(self) -> None:
        self.world.operator.finishes()
        self.world.later(1.0, self._end)

    def _end(self) -> None:
        self.is_over = True

    def looks(self) -> None:
        """Every few seconds: ask for what is not there yet."""
        self.world.later(LOOKS_EVERY, self.looks)
        self.acts()

    def acts(self) -> None:
        host, outcome = self.host, self.outcome
        if host is None or not host.is_alive:
            return
        phase, refused = host.state.phase, self._refused
        self._refused = None
        if phase is Phase.LOCKED:
            host.ask(ClearLock())
        elif refused == Why.NOT_SURE and phase is Phase.RESTING:
            host.ask(FindReference())
        elif phase is Phase.TUNED and outcome.truth is not None and self._rises < MOST_RISES:
            self._rises += 1
            host.ask(Rise(self.world.facts.power_limit))
        elif phase is Phase.RESTING:
            if self._keyed_before is None:
                self._keyed_before = self.world.keyed_seconds
                self._readings_before = self.world.readings_keyed
            host.ask(Tune(self.world.facts.frequency))
