# SPDX-License-Identifier: BSD-3-Clause
"""The one place that picks a tuner's parts: link, clock, journal, operator. A real drive's, or the simulated twin's."""

import random
from dataclasses import replace

from ringwright.antenna.design import Design
from ringwright.antenna.prediction import Prediction
from ringwright.tuner.brain import Ring
from ringwright.tuner.clock import Clock
from ringwright.tuner.design_ring import TUNING_LIMIT, DesignRing, Off, play_of, told_ring
from ringwright.tuner.device import Link
from ringwright.tuner.parts import JournalFile, JournalInMemory, Parts, PersonAtTheKey
from ringwright.tuner.table_law import Law, predicted_law
from ringwright.tuner.table_point import Point
from ringwright.tuner.twin.channel import ChannelFacts
from ringwright.tuner.twin.drive_train import TrainFacts, lag_of
from ringwright.tuner.twin.facts import OperatorFacts, TwinFacts
from ringwright.tuner.twin.meter import MeterFacts
from ringwright.tuner.twin.world import AMBIENT_C, World
from ringwright.tuner.twin_link import TwinLink

BEYOND = 20
"""Steps from a soft end to the hard stop behind it."""
HEAT_RISE, COOLING = 10.0, 300.0
"""A twin at its full power warms by so many kelvin, with this time constant [s]; own assumption."""


def real(design: Design, prediction: Prediction, *, link: Link, clock: Clock, journal: JournalFile) -> Parts:
    """The parts of a drive at the far end of a link, with a person at the key.

    Raises
    ------
    TuningTableError
        If the design states no drive, or no travel of its capacitor.
    """
    law = predicted_law(design, prediction)
    return Parts(
        link=link,
        clock=clock,
        journal=journal,
        surroundings=PersonAtTheKey(),
        ring=told_ring(design, prediction, law),
        law=law,
        design=design,
    )


def simulated(
    design: Design, prediction: Prediction, *, clock: Clock, seed: int = 0, learnt: Point | None = None
) -> Parts:
    """The parts with a simulated twin of a design in place of a drive.

    A real board keeps its count when it is switched off, a twin is made anew: it begins with the count that it had when
    the pair `learnt` was read.

    Raises
    ------
    TuningTableError
        If the design states no drive, or no travel of its capacitor.
    """
    law = predicted_law(design, prediction)
    ring = told_ring(design, prediction, law)
    rng = random.Random(seed)  # noqa: S311 -- a simulation keeps no secrets
    off = Off(scale=rng.gauss(0.0, 0.02), stray=rng.gauss(0.0, 1e-12), drift_times=rng.uniform(0.5, 3.0))
    true_ring = DesignRing(design, prediction, law, off=off)
    facts = _facts(design, prediction, law, ring=true_ring, told=ring, rng=rng)
    if learnt is not None:
        facts = replace(facts, count_off=_count_off(learnt, true_ring, facts.train))
    world = World(facts, tuning_limit=ring.tuning_limit)

    def limit_of(frequency: float) -> float:
        band = ring.band_of(frequency)
        return TUNING_LIMIT if band is None else band.power_limit

    link = TwinLink(world, true_ring, clock, limit_of=limit_of)
    return Parts(
        link=link,
        clock=clock,
        journal=JournalInMemory(),
        surroundings=link,
        ring=ring,
        law=law,
        design=design,
        twin=link,
    )


def _count_off(point: Point, ring: DesignRing, train: TrainFacts) -> int:
    """By how much the board that read a pair counted more than its motor's place."""
    kelvin = 0.0 if point.temperature is None else point.temperature - AMBIENT_C
    rotor = ring.place_showing(point.frequency, kelvin)
    return round(point.position - (rotor + lag_of(train)))


def _facts(
    design: Design, prediction: Prediction, law: Law, *, ring: DesignRing, told: Ring, rng: random.Random
) -> TwinFacts:
    band = prediction.bands[0]
    backlash, twist = play_of(design)
    drive = design.drive
    assert drive is not None
    limit = told.bands[0].power_limit
    return TwinFacts(
        ring=ring,
        frequency=band.frequency,
        half_power=band.bandwidth_half_power,
        best_swr=band.match.swr_min,
        train=TrainFacts(
            backlash=backlash,
            windup=twist,
            microstep_error=0.3 if drive.microsteps > 1 else 0.0,
            cycle=4 * drive.microsteps,
            low=float(-BEYOND),
            high=float(law.last + BEYOND),
        ),
        start=rng.randrange(law.last),
        low_end=0,
        high_end=law.last,
        stop_at=-BEYOND,
        speed=max(1, round(told.speed)),
        meter=MeterFacts(period=0.05, noise=0.02, knee=0.1, offset=0.002),
        channel=ChannelFacts(delay=0.015),  # a short cable
        operator=OperatorFacts(),
        table_off=0.0,
        power_limit=limit,
        heat_rise=HEAT_RISE / limit,
        cooling=COOLING,
        inhibit_is_wired=True,
        warmth_shown=True,
        receiver_floor_db=-110.0,
        seed=rng.getrandbits(32),
    )
