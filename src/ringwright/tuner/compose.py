# SPDX-License-Identifier: BSD-3-Clause
"""The one place that picks a tuner's parts: link, clock, journal, operator. Here the simulated twin of a design."""

import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Protocol

from ringwright.antenna.design import Design
from ringwright.antenna.prediction import Prediction
from ringwright.tuner.brain import Ring
from ringwright.tuner.clock import Clock
from ringwright.tuner.design_ring import TUNING_LIMIT, DesignRing, Off, play_of, told_ring
from ringwright.tuner.device import Link
from ringwright.tuner.table_law import Law, predicted_law
from ringwright.tuner.table_point import Point
from ringwright.tuner.twin.channel import ChannelFacts
from ringwright.tuner.twin.drive_train import TrainFacts, lag_of
from ringwright.tuner.twin.facts import OperatorFacts, TwinFacts
from ringwright.tuner.twin.meter import MeterFacts
from ringwright.tuner.twin.world import AMBIENT_C, World

MOST_TAKEN = 5000
"""Readings that a twin remembers the times of."""
BEYOND = 20
"""Steps from a soft end to the hard stop behind it."""
HEAT_RISE, COOLING = 10.0, 300.0
"""A twin at its full power warms by so many kelvin, with this time constant [s]; own assumption."""


PULLED, PUT_IN = "The cable was pulled.", "The cable is in again."
AT_REST = "The simulated drive has come to rest by itself."


class JournalFile(Protocol):
    """Where the position is written down."""

    def read(self) -> bytes:
        """All of it."""
        ...

    def append(self, line: bytes) -> None:
        """One line more, safely there when this returns."""
        ...


class JournalInMemory:
    """A twin's, which lives no longer than the twin; of its lines only the last tells anything."""

    def __init__(self) -> None:
        self._line = b""

    def read(self) -> bytes:
        return self._line

    def append(self, line: bytes) -> None:
        self._line = line


class Surroundings(Protocol):
    """The operator and the transmitter, as far as the program can reach them."""

    def invited(self, power: float) -> None:
        """This power [W] may be used."""
        ...

    def called_up(self) -> None:
        """Stop transmitting."""
        ...

    def set_frequency(self, frequency: float) -> None:
        """What will be transmitted on [Hz]."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """A tuner's parts. `twin`: the simulated one, None where there is a real drive."""

    link: Link
    clock: Clock
    journal: JournalFile
    surroundings: Surroundings
    ring: Ring
    law: Law
    design: Design
    twin: "TwinLink | None" = None


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

    def notify(self, call: Callable[[], None]) -> None:  # noqa: ARG002
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
