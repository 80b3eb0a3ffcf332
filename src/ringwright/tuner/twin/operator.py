# SPDX-License-Identifier: BSD-3-Clause
"""The person at the transmitter: keys when invited, lets go when called, a little late, and tires."""

import random
from collections.abc import Callable

from ringwright.tuner.twin.facts import OperatorFacts


class Operator:
    """`later(delay, call)` is the simulation's; `set_power` takes the power the transmitter is set to, 0 unkeyed."""

    def __init__(
        self,
        facts: OperatorFacts,
        rng: random.Random,
        *,
        later: Callable[[float, Callable[[], None]], None],
        set_power: Callable[[float], None],
    ) -> None:
        self._facts, self._rng = facts, rng
        self._later, self._set_power = later, set_power
        self._intent = 0

    def invited(self, power: float) -> None:
        """Someone says that this power [W] may be used."""
        chosen = power * self._rng.uniform(self._facts.obedience, 1.0)
        self._after(self._rng.uniform(*self._facts.reaction), chosen)

    def called_up(self) -> None:
        """Someone calls to stop transmitting."""
        self._after(self._rng.uniform(*self._facts.release), 0.0)

    def keys_by_mistake(self, power: float, seconds: float) -> None:
        """Keys at once with a power [W] nobody invited, for a while."""
        self._after(0.0, power)
        self._later(seconds, self._let_go)

    def finishes(self) -> None:
        """Ends a transmission of his own accord."""
        self._after(0.0, 0.0)

    def _after(self, delay: float, power: float) -> None:
        self._intent += 1
        mine = self._intent

        def act() -> None:
            if mine == self._intent:
                self._set_power(power)
                if power > 0.0:
                    self._later(self._facts.patience, tire)

        def tire() -> None:
            if mine == self._intent:
                self._set_power(0.0)

        self._later(delay, act)

    def _let_go(self) -> None:
        self._intent += 1
        self._set_power(0.0)
