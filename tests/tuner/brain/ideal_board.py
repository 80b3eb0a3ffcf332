# SPDX-License-Identifier: BSD-3-Clause
"""A board, a ring and an operator without fault: orders are obeyed at once, readings are exact, nobody tires."""

from dataclasses import replace

from ringwright.tuner.brain import CallKeyUp, Invite, Keep, Learnt, Send, StatusSeen, Tell, Tick, begin, step
from ringwright.tuner.brain.events import AcknowledgementSeen, Asked
from ringwright.tuner.messages import (
    Acknowledgement,
    Ends,
    Inhibit,
    Move,
    Position,
    Reference,
    Status,
    Stop,
)
from tests.tuner.brain.straight_curve import StraightCurve

PERIOD = 0.05


class Bench:
    """Plays a brain against the board. `dip_at`: count (of the true motor) where `frequency` is in tune."""

    def __init__(self, ring, *, at=2500, dip_at=2600.0, spread=20.0, kept=None, is_sure=True):
        self.ring, self.dip_at = ring, dip_at
        self.curve = StraightCurve(at_zero=6.9e6, per_step=100.0, spread=spread)
        self.now, self.seq, self.milliseconds = 50.0, 0, 0
        self.at, self.to, self.speed, self.is_sure = float(at), None, ring.speed, is_sure
        self.ends, self.inhibited, self.seeking = None, True, False
        self.power, self.temperature, self.noise = 0.0, 20.0, None
        self.lost = 0.0  # steps that the motor is behind the count
        self.told, self.learnt, self.kept = [], [], []
        self.state = begin(ring, self.curve, first_seq=1, now=self.now, kept=kept, is_whole=True)
        self.run(1.0)

    def ask(self, ask):
        self._happens(Asked(ask))

    def run(self, seconds):
        for _ in range(round(seconds / PERIOD)):
            before = self.at
            self._turn(PERIOD)
            self.now += PERIOD
            self.milliseconds += round(1000.0 * PERIOD)
            self.seq += 1
            self._happens(StatusSeen(self._status(before)))
            self._happens(Tick())

    def until(self, phase, *, longest=60.0):
        waited = 0.0
        while self.state.phase is not phase and waited < longest:
            self.run(PERIOD)
            waited += PERIOD
        assert self.state.phase is phase, (self.state.phase, self.words())

    def words(self):
        return [tell.word for tell in self.told]

    def _turn(self, seconds):
        if self.seeking:
            self.at, self.seeking, self.is_sure, self.lost = 0.0, False, True, 0.0
        elif self.to is not None:
            way = self.to - self.at
            step_ = min(abs(way), self.speed * seconds)
            self.at += step_ if way > 0 else -step_
            if self.at == self.to:
                self.to = None

    def _status(self, before):
        at = round(self.at)
        x = (0.5 * (before + self.at) - self.lost - self.dip_at) / 40.0
        reflected = self.power * (1.0 - 0.99 / (1.0 + x * x))
        return Status(
            seq=self.seq, at=at, is_sure=self.is_sure, is_moving=self.to is not None,
            to=None if self.to is None else round(self.to), over=(round(before), at),
            forward_power=self.power, reflected_power=reflected, temperature_c=self.temperature,
            noise_db=None if self.noise is None else self.noise(self.at), is_inhibited=self.inhibited, boots=1,
            milliseconds=self.milliseconds, ends=self.ends, stopped_by=None,
        )  # fmt: skip

    def _happens(self, event):
        self.state, commands = step(self.state, event, self.now)
        for command in commands:
            match command:
                case Send(line):
                    self._obey(line)
                case Invite(power):
                    self.power = power
                case CallKeyUp():
                    self.power = 0.0
                case Tell():
                    self.told.append(command)
                case Learnt():
                    self.learnt.append(command)
                case Keep(kept):
                    self.kept.append(kept)

    def _obey(self, line):
        match line.order:
            case Move(to, speed):
                self.to, self.speed = float(to), min(speed or self.ring.speed, self.ring.speed)
            case Stop():
                self.to = None
            case Ends(low, high):
                self.ends = (low, high)
            case Inhibit(is_on):
                self.inhibited = is_on
            case Position(at, is_sure):
                self.lost += at - self.at
                self.at, self.is_sure = float(at), is_sure
            case Reference():
                self.seeking = True
        self.seq += 1
        self._happens(
            AcknowledgementSeen(Acknowledgement(seq=self.seq, answers=line.seq, is_done=True, why=None))
        )


def without_stops(ring):
    """The same drive on a capacitor that turns round and round."""
    return replace(ring, low_end=None, high_end=None, has_end_stop=False, steps_per_turn=5000)
