# SPDX-License-Identifier: BSD-3-Clause
"""All that is true of one twin, and the random twins of the trial."""

import math
import random
from dataclasses import dataclass

from ringwright.tuner.twin.channel import ChannelFacts
from ringwright.tuner.twin.drive_train import SLIDES, TrainFacts
from ringwright.tuner.twin.meter import MeterFacts
from ringwright.tuner.twin.ring import NumberRing, TwinRing

TABLE_OFF = 10.0
"""Half-power bandwidths by which a random twin's table may be off, either way."""
FARTHEST_START = 60.0
"""Half-power bandwidths from the target at which a random twin may stand at first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OperatorFacts:
    """`reaction` and `release` [s]: least and most time to key after an invitation, to unkey after a call.

    `obedience`: least part of the power invited that is used. `patience` [s] with a carrier nobody ends.
    """

    reaction: tuple[float, float] = (0.5, 2.0)
    release: tuple[float, float] = (0.3, 1.0)
    obedience: float = 0.85
    patience: float = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TwinFacts:
    """One antenna, its drive, its surroundings. Counts and lengths in steps of the drive, watts, seconds, hertz.

    `frequency` is to be tuned to; `half_power` the unloaded half-power bandwidth there [Hz]. `table_off`: how far the
    table is off [steps]. `heat_rise` [K/W] at full power, `cooling` its time constant. `warmth_shown`: whether the
    board has a thermometer on the ring. `receiver_floor_db`: noise with the ring far off, None without a receiver.
    `count_off`: by how much the board counts more than the motor's place at the start, and calls it sure.
    `is_over_coupled`: the line loads the ring more than a match would, and its dip is wider.
    """

    ring: TwinRing
    frequency: float
    half_power: float
    best_swr: float
    train: TrainFacts
    start: int
    low_end: int
    high_end: int
    stop_at: int | None
    speed: int
    meter: MeterFacts
    channel: ChannelFacts
    operator: OperatorFacts
    table_off: float
    power_limit: float
    heat_rise: float
    cooling: float
    inhibit_is_wired: bool
    warmth_shown: bool
    receiver_floor_db: float | None = None
    count_off: int = 0
    is_over_coupled: bool = True
    seed: int = 0


def draw_twin(rng: random.Random) -> TwinFacts:
    """A random twin by the trial's rule (docs/explanation/tuner-trial.md)."""
    q, width = (
        _log_uniform(rng, 100.0, 2000.0),
        1.0 / _log_uniform(rng, 0.01, 0.2),
    )  # width: bandwidth in steps
    backlash, windup = (_log_uniform(rng, 0.03, 20.0) * width for _ in range(2))
    frequency = _log_uniform(rng, 1.9e6, 29e6)
    coupling = math.exp(rng.uniform(-math.log(1.5), math.log(1.5)))
    room = math.ceil((FARTHEST_START + 2.0 * TABLE_OFF) * width + 2.0 * (backlash + 2.0 * windup)) + 50
    place = room + rng.random()
    way = rng.choice([-1.0, 1.0]) * rng.uniform(10.0, FARTHEST_START) * width
    power_limit = _log_uniform(rng, 20.0, 400.0)
    lag = backlash / 2.0 + SLIDES * windup
    return TwinFacts(
        ring=NumberRing(
            frequency=frequency,
            place=place - lag,
            per_step=rng.choice([-1.0, 1.0]) / (q * width),
            q=q,
            coupling=coupling,
            drift=-_log_uniform(rng, 5e-6, 50e-6),
        ),
        frequency=frequency,
        half_power=frequency / q,
        best_swr=max(coupling, 1.0 / coupling),
        is_over_coupled=coupling > 1.0,
        train=TrainFacts(
            backlash=backlash,
            windup=windup,
            microstep_error=rng.uniform(0.0, 0.3),
            low=-20.0,
            high=2.0 * room + 20.0,
        ),
        start=round(place + way),
        low_end=0,
        high_end=2 * room,
        stop_at=-20,
        speed=rng.randint(200, 1000),
        meter=MeterFacts(
            period=rng.uniform(0.02, 0.1),
            noise=rng.uniform(0.01, 0.05),
            knee=_log_uniform(rng, 0.02, 0.4),
            offset=rng.uniform(0.0, 0.005),
        ),
        channel=ChannelFacts(delay=_log_uniform(rng, 0.005, 0.08)),
        operator=OperatorFacts(),
        table_off=rng.uniform(-TABLE_OFF, TABLE_OFF) * width,
        power_limit=power_limit,
        heat_rise=_log_uniform(rng, 2.0, 40.0) / power_limit,
        cooling=_log_uniform(rng, 60.0, 600.0),
        inhibit_is_wired=rng.random() < 0.5,
        warmth_shown=rng.random() < 0.5,
        seed=rng.getrandbits(32),
    )


def _log_uniform(rng: random.Random, low: float, high: float) -> float:
    return math.exp(rng.uniform(math.log(low), math.log(high)))
