# SPDX-License-Identifier: BSD-3-Clause
"""The line to a simulated board, and the operator and cable that go with it."""

from collections.abc import Callable
from dataclasses import replace

from ringwright.tuner.clock import Clock
from ringwright.tuner.design_ring import DesignRing
from ringwright.tuner.twin.meter import folded_forward
from ringwright.tuner.twin.world import World

MOST_TAKEN = 5000
"""Readings that a twin remembers the times of."""
PULLED, PUT_IN = "The cable was pulled.", "The cable is in again."
AT_REST = "The simulated drive has come to rest by itself."


class TwinLink:
    """The line to a simulated board; the twin's time runs with the clock, and its operator does as invited."""

    def __init__(
        self, world: World, ring: DesignRing, clock: Clock, *, limit_of: Callable[[float], float]
    ) -> None:
        self.world, self._ring, self._clock, self._limit_of = world, ring, clock, limit_of
        self._began = clock.now()
        self._lines: list[str] = []
        self._to_board, self._from_board = world.attach(self._lines.append)
        self._is_open = True
        self._news: list[str] = []
        self._was_turning = False

    @property
    def is_open(self) -> bool:
        """Whether the cable is in."""
        return self._is_open

    def send(self, line: str) -> None:
        """To the board, if the cable is in."""
        if self._is_open:
            self._to_board.send(line)

    def received(self) -> list[str]:
        """What the board has said up to now."""
        self.world.run_until(max(self._clock.now() - self._began, self.world.now))
        if len(self.world.taken) > MOST_TAKEN:
            self.world.taken.clear()  # a trial looks up when readings were taken, a session does not
        lines = self._lines[:]
        self._lines.clear()
        return lines

    def reopen(self) -> None:
        """The simulated port is always there."""
        self._is_open = True

    def notify(self, call: Callable[[], None]) -> None:
        """Nothing comes by itself: simulated time goes on only when somebody looks."""

    def close(self) -> None:
        """Let it go."""
        self._is_open = False

    def pull(self, is_pulled: bool) -> None:
        """Pull the cable, or put it in again: lines are lost without a word, as on a radio."""
        self._to_board.is_cut = self._from_board.is_cut = is_pulled
        self._news.append(PULLED if is_pulled else PUT_IN)

    @property
    def is_pulled(self) -> bool:
        """Whether somebody pulled it."""
        return self._to_board.is_cut

    def news(self) -> list[str]:
        """What nobody could see from the far end of a real cable, since the last call."""
        board = self.world.board
        is_turning = board is not None and board.moving
        if self.is_pulled and self._was_turning and not is_turning:
            self._news.append(AT_REST)
        self._was_turning = is_turning
        news, self._news = self._news, []
        return news

    def invited(self, power: float) -> None:
        """The simulated operator hears it."""
        self.world.operator.invited(power)

    @property
    def shown_forward(self) -> float:
        """Forward power [W] that a good meter beside the simulated transmitter shows now."""
        world = self.world
        facts, kelvin = world.facts, world.warmth.kelvin
        share = facts.ring.reflected_share(facts.frequency, world.train.rotor, kelvin)
        return folded_forward(world.set_power, share)

    def called_up(self) -> None:
        """The simulated operator hears it."""
        self.world.operator.called_up()

    def set_frequency(self, frequency: float) -> None:
        """The transmitter is set to it."""
        world, band = self.world, self._ring.band_at(frequency)
        world.facts = replace(
            world.facts,
            frequency=frequency,
            half_power=band.bandwidth_half_power,
            best_swr=band.match.swr_min,
            power_limit=self._limit_of(frequency),
        )
