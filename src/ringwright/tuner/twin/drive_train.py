# SPDX-License-Identifier: BSD-3-Clause
"""From the motor's pulses to the rotor: lost steps, microstep error, play, and a shaft that twists and sticks.

Everything in steps of the drive. The motor turns a gear with play; behind it a shaft twists until its torque breaks the
rotor loose, which then slips to the twist that friction in motion holds, and follows.
"""

import math
from dataclasses import dataclass

from ringwright.antenna.drive_shaft import LET_GO

SLIDES = 1.0 - LET_GO
"""Twist of a rotor in motion over that which breaks it loose."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrainFacts:
    """`backlash`: the full play; `windup`: twist that breaks the rotor loose.

    `microstep_error`: greatest angle error of the motor, repeated every `cycle` steps. `low` and `high`: hard stops
    that the motor stalls at; None for a rotor that turns round and round.
    """

    backlash: float
    windup: float
    microstep_error: float = 0.0
    cycle: int = 32
    low: float | None = None
    high: float | None = None


def lag_of(facts: TrainFacts) -> float:
    """How far the rotor stays behind a motor that comes from below and does not rest on its way."""
    return facts.backlash / 2.0 + SLIDES * facts.windup


class DriveTrain:
    """State of one drive. `motor`: where it truly stands, whatever the board counts."""

    def __init__(self, facts: TrainFacts, motor: int, *, from_below: bool = True) -> None:
        self.facts = facts
        self.motor = motor
        self.to_lose = 0
        self.is_jammed = False
        side = -1.0 if from_below else 1.0
        self._gear = motor + side * facts.backlash / 2.0
        self.rotor = self._gear + side * SLIDES * facts.windup
        self._sliding = 0

    def pulses(self, count: int) -> None:
        """Turn the motor; up to `to_lose` pulses do nothing, and those against a hard stop neither."""
        lost = min(abs(count), self.to_lose)
        self.to_lose -= lost
        way = 1 if count > 0 else -1
        self.motor += way * (abs(count) - lost)
        facts = self.facts
        if facts.low is not None and self.motor < facts.low:
            self.motor = math.ceil(facts.low)
        if facts.high is not None and self.motor > facts.high:
            self.motor = math.floor(facts.high)
        self._follow()

    def rest(self) -> None:
        """The motor has come to rest; the rotor sticks where it is."""
        self._sliding = 0

    def _follow(self) -> None:
        facts = self.facts
        error = facts.microstep_error * math.sin(2.0 * math.pi * self.motor / facts.cycle)
        angle, play = self.motor + error, facts.backlash / 2.0
        self._gear = min(max(self._gear, angle - play), angle + play)
        if self.is_jammed:
            return
        twist = self._gear - self.rotor
        way = 1 if twist > 0.0 else -1
        holds = facts.windup * (SLIDES if self._sliding == way else 1.0)
        if abs(twist) > holds:
            self.rotor = self._gear - way * SLIDES * facts.windup
            self._sliding = way

    def lag(self) -> float:
        """How far the rotor stays behind a motor that comes from below and does not rest on its way."""
        return lag_of(self.facts)
