# SPDX-License-Identifier: BSD-3-Clause
"""One thing that goes wrong, at a moment of chance, while a twin is tuned."""

import random
from collections.abc import Callable
from enum import StrEnum

from ringwright.tuner.trial.host import Host
from ringwright.tuner.twin.world import World

LATEST = 6.0
"""Seconds after the request within which things go wrong."""
_LOOK = 0.03
_GIVE_UP = 40.0


class Fault(StrEnum):
    """What may go wrong."""

    LINK_CUT = "link cut in a move"
    STUCK = "capacitor stuck"
    LOST_STEPS = "steps lost"
    METER_DEAD = "meter dead"
    FULL_POWER = "keyed at full power in the search"
    POWER_CUT = "power cut while the journal is written"
    TWO_HOSTS = "two hosts fight"


class Injector:
    """Makes one fault happen. `rival`: starts a second host and returns it."""

    def __init__(
        self, fault: Fault, *, world: World, host: Host, rival: Callable[[], Host], rng: random.Random
    ) -> None:
        self.fault, self.has_happened = fault, False
        self._world, self._host, self._rival, self._rng = world, host, rival, rng
        self._gives_up_at = world.now + _GIVE_UP
        world.later(rng.uniform(0.0, LATEST), self._wait)

    def _wait(self) -> None:
        """Until the moment is there: the drive moves, or there is a carrier; or nothing comes of it."""
        world = self._world
        needs_carrier = self.fault is Fault.FULL_POWER
        is_there = world.is_keyed if needs_carrier else world.board is not None and world.board.moving
        if is_there or world.now > self._gives_up_at or self.fault is Fault.METER_DEAD:
            self.has_happened = True
            self._strike()
        else:
            world.later(_LOOK, self._wait)

    def _strike(self) -> None:
        world, rng, host = self._world, self._rng, self._host
        match self.fault:
            case Fault.LINK_CUT:
                host.cut_link(is_cut=True)
                world.later(rng.uniform(0.3, 8.0), lambda: host.cut_link(is_cut=False))
            case Fault.STUCK:
                world.train.is_jammed = True
            case Fault.LOST_STEPS:
                steps = 10.0 ** rng.uniform(-0.3, 1.7) * world.facts.ring.half_power_steps(
                    world.facts.frequency
                )
                world.train.to_lose = max(1, round(steps))
            case Fault.METER_DEAD:
                world.meter.is_dead = True
            case Fault.FULL_POWER:
                world.operator.keys_by_mistake(
                    max(world.facts.power_limit, 100.0) * rng.uniform(0.3, 1.0), rng.uniform(0.5, 8.0)
                )
            case Fault.POWER_CUT:
                self._cut_power()
            case Fault.TWO_HOSTS:
                self._rival()

    def _cut_power(self) -> None:
        """Of the board at a random octet of its flash, of the board now, or of the computer at an octet of its file."""
        world, rng, host = self._world, self._rng, self._host
        where = rng.randrange(3)
        if where == 0:
            world.flash.cut_after = rng.randrange(96)
        elif where == 1:
            world.fail_supply()
        else:
            host.cuts_keep_in = rng.randrange(3)
