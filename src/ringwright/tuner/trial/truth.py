# SPDX-License-Identifier: BSD-3-Clause
"""What could have been reached on a twin, and what was."""

import math
from dataclasses import dataclass

from ringwright.tuner.twin.ring import swr_of
from ringwright.tuner.twin.world import World

WITHIN = 0.1
"""Of the best reachable SWR, for a success."""
_AROUND = 2.0  # half-power bandwidths about the resonance in which the best step is sought


@dataclass(frozen=True, slots=True)
class Truth:
    """SWR where the rotor stands, and the best that any step of the motor, coming from below, would give."""

    swr: float
    best: float

    @property
    def excess(self) -> float:
        """How far it is from the best; below zero where a drive not come from below stands between two steps."""
        return self.swr - self.best

    @property
    def is_success(self) -> bool:
        return self.excess <= WITHIN


def resonant_motor(world: World) -> float:
    """Where the motor, coming from below, has the ring in resonance, as warm as it is now [steps]."""
    facts = world.facts
    low, high = facts.low_end - 1e5, facts.high_end + 1e5
    rises = facts.ring.resonance(high, 0.0) > facts.ring.resonance(low, 0.0)
    low, high = float(facts.low_end), float(facts.high_end)
    for _ in range(60):
        middle = (low + high) / 2.0
        if (facts.ring.resonance(middle, world.warmth.kelvin) < facts.frequency) == rises:
            low = middle
        else:
            high = middle
    return low + world.train.lag()


def truth_of(world: World) -> Truth:
    """How the twin stands now."""
    facts, train = world.facts, world.train
    centre = resonant_motor(world)
    reach = _AROUND * facts.ring.half_power_steps(facts.frequency) + 2.0
    error = facts.train.microstep_error

    def swr_at(motor: int) -> float:
        turned = motor + error * math.sin(2.0 * math.pi * motor / facts.train.cycle)
        return swr_of(facts.ring.reflected_share(facts.frequency, turned - train.lag(), world.warmth.kelvin))

    best = min(swr_at(motor) for motor in range(math.floor(centre - reach), math.ceil(centre + reach) + 1))
    here = swr_of(facts.ring.reflected_share(facts.frequency, train.rotor, world.warmth.kelvin))
    return Truth(here, best)
