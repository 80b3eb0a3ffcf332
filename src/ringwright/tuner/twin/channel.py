# SPDX-License-Identifier: BSD-3-Clause
"""One way of a link that delays, loses, repeats, overtakes and garbles lines, the more while there is power about."""

import random
from collections.abc import Callable
from dataclasses import dataclass

LEAST_DELAY, MOST_DELAY = 0.005, 0.2


@dataclass(frozen=True, slots=True, kw_only=True)
class ChannelFacts:
    """Probabilities a line. `delay`: mean of the random part of the delay [s], on top of the least.

    `keyed_times`: how much more often lines are lost or garbled while the transmitter is keyed.
    """

    delay: float
    lost: float = 0.02
    repeated: float = 0.01
    garbled: float = 0.001
    keyed_times: float = 2.0


class Channel:
    """Carries lines from one end to the other by asking for later calls.

    `later(delay, deliver, line)` is the simulation's; `is_keyed` tells whether there is power about.
    """

    def __init__(
        self,
        facts: ChannelFacts,
        rng: random.Random,
        *,
        later: Callable[[float, Callable[[str], None], str], None],
        deliver: Callable[[str], None],
        is_keyed: Callable[[], bool],
    ) -> None:
        self.facts, self._rng = facts, rng
        self._later, self._deliver, self._is_keyed = later, deliver, is_keyed
        self.is_cut = False

    def send(self, line: str) -> None:
        """Take a line; what becomes of it is chance."""
        rng, facts = self._rng, self.facts
        times = facts.keyed_times if self._is_keyed() else 1.0
        copies = 2 if rng.random() < facts.repeated else 1
        for _ in range(copies):
            if self.is_cut or rng.random() < facts.lost * times:
                continue
            text = _garbled(line, rng) if rng.random() < facts.garbled * times else line
            delay = LEAST_DELAY + rng.expovariate(1.0 / facts.delay)
            self._later(min(delay, MOST_DELAY), self._arrive, text)

    def _arrive(self, line: str) -> None:
        if not self.is_cut:
            self._deliver(line)


def _garbled(line: str, rng: random.Random) -> str:
    place = rng.randrange(len(line))
    return line[:place] + chr(rng.randrange(32, 127)) + line[place + rng.randrange(2) :]
