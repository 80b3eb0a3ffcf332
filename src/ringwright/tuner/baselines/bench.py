# SPDX-License-Identifier: BSD-3-Clause
"""A twin with its board on the bench: no link between, every order obeyed at once, the carrier on all the time."""

import json
from dataclasses import dataclass

from ringwright.errors import OutOfRangeError
from ringwright.tuner.line_check import sealed
from ringwright.tuner.messages import VERSION
from ringwright.tuner.twin.world import World

HEARTBEAT = 0.5
LONGEST = 1800.0
"""Seconds after which a method is given up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What a method found: where, after how many readings used, and how long the carrier was on [s]."""

    position: int
    readings: int
    carrier: float


class Bench:
    """Moves and reads. `slack`: steps that backlash and windup together may take up."""

    def __init__(self, world: World, *, low: int, high: int, slack: int, tuning_power: float) -> None:
        self._world, self._slack, self._tuning_power = world, slack, tuning_power
        self._low, self._high = low, high
        self._seq = 0
        self._reading: dict[str, object] = {}
        world.listener = self._heard
        self._order({"do": "ends", "low": low, "high": high})
        self._order({"do": "limit", "tuning_power_w": 1.25 * tuning_power})
        self._order({"do": "inhibit", "on": False})
        self._beat()
        self.readings = 0

    def _heard(self, line: str) -> None:
        said = json.loads(line)
        if "at" in said:
            self._reading = said

    def _order(self, fields: dict[str, object]) -> None:
        self._seq += 1
        self._world.reaches_board(sealed(json.dumps({"v": VERSION, "seq": self._seq} | fields)))

    def _beat(self) -> None:
        self._order({"do": "heartbeat"})
        self._world.later(HEARTBEAT, self._beat)

    def key(self) -> None:
        """Carrier on; goes first to where it makes sense."""
        self._world.operator.keys_by_mistake(self._tuning_power, 10.0 * LONGEST)
        self._world.run_until(self._world.now)

    def within(self, position: float) -> int:
        """The step nearest to a position, between the ends."""
        return min(max(round(position), self._low), self._high)

    def go(self, to: int) -> None:
        """Go straight there, and stand."""
        world = self._world
        world.run_until(world.now + 2.0 * world.facts.meter.period)  # a board just started has no reading yet
        self._order({"do": "move", "to": self.within(to), "speed": None})
        while world.board is not None and world.board.moving:
            if world.now > LONGEST:
                raise OutOfRangeError(f"the drive is not there after {LONGEST:g} s of simulated time")
            world.run_until(world.now + world.facts.meter.period)

    def come_to(self, to: int) -> None:
        """Come there from below, with the slack taken up on the way."""
        self.go(to - self._slack)
        self.go(to)

    def read(self) -> float:
        """Reflected over forward power, from a reading that began after the drive came to rest."""
        world = self._world
        before = self._reading.get("ms")
        full = 0
        while full < 2:
            world.run_until(world.now + world.facts.meter.period / 2.0)
            if self._reading.get("ms") != before:
                before, full = self._reading.get("ms"), full + 1
        self.readings += 1
        forward, reflected = self._reading["forward_w"], self._reading["reflected_w"]
        assert isinstance(forward, int | float)
        assert isinstance(reflected, int | float)
        return min(reflected / forward, 1.0) if forward > 0.0 else 1.0

    def found(self, position: int) -> Found:
        """The end: stands at a position, carrier off."""
        world = self._world
        carrier = world.keyed_seconds
        world.operator.finishes()
        world.run_until(world.now)
        return Found(position=position, readings=self.readings, carrier=carrier)
