# SPDX-License-Identifier: BSD-3-Clause
"""What a brain is told of a random twin: a design a little off, and a table off by up to ten bandwidths."""

import math
import random
from dataclasses import dataclass

from ringwright.tuner.brain import Band, Ring
from ringwright.tuner.twin.facts import TABLE_OFF, TwinFacts
from ringwright.tuner.twin.ring import TwinRing

TUNING_POWER, TUNING_LIMIT = 4.0, 5.0
"""Carrier asked for, and forward power above which nothing may step [W]."""
TILT = 0.02
"""Relative error of the table's slope, one standard deviation."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldCurve:
    """The twin's own law as a host has it: shifted, and a little steeper or flatter.

    `place` [steps] is where it has `centre` [Hz]; `per_step` is relative; `spread` [steps] is its honest standard
    deviation.
    """

    centre: float
    place: float
    per_step: float
    spread: float

    def frequency(self, position: float, temperature_c: float | None) -> float:  # noqa: ARG002 -- knows no warmth
        return self.centre * math.exp(self.per_step * (position - self.place))

    def position(self, frequency: float, temperature_c: float | None) -> float:  # noqa: ARG002 -- knows no warmth
        return self.place + math.log(frequency / self.centre) / self.per_step

    def sigma(self, frequency: float) -> float:  # noqa: ARG002 -- the same everywhere
        return self.spread


def told_ring(facts: TwinFacts, rng: random.Random) -> Ring:
    """The ring as its design has it."""
    coupling = facts.best_swr if facts.is_over_coupled else 1.0 / facts.best_swr
    loaded = facts.half_power * (1.0 + coupling) / 2.0
    band = Band(
        name="trial",
        low=facts.frequency * 0.95,
        high=facts.frequency * 1.05,
        power_limit=facts.power_limit,
        half_width=loaded * math.exp(rng.uniform(-0.2, 0.2)),
        best_swr=max(1.0, facts.best_swr * (1.0 + rng.gauss(0.0, 0.05))),
    )
    return Ring(
        bands=(band,),
        low_end=facts.low_end,
        high_end=facts.high_end,
        has_end_stop=facts.stop_at is not None,
        steps_per_turn=None,
        slack=math.ceil((facts.train.backlash + 2.0 * facts.train.windup) * rng.uniform(1.0, 1.3)),
        speed=facts.speed,
        tuning_power=TUNING_POWER,
        tuning_limit=TUNING_LIMIT,
    )


def told_curve(facts: TwinFacts, ring: TwinRing, *, place: float, rng: random.Random) -> ToldCurve:
    """The table of a twin whose motor, coming from below, has the target at `place`."""
    steps = ring.half_power_steps(facts.frequency)
    # The slope at the target, from the twin's law itself.
    ahead = ring.resonance(facts.start + 1.0, 0.0) / ring.resonance(facts.start, 0.0)
    return ToldCurve(
        centre=facts.frequency,
        place=place + facts.table_off,
        per_step=math.log(ahead) * (1.0 + rng.gauss(0.0, TILT)),
        spread=TABLE_OFF / math.sqrt(3.0) * steps,
    )
