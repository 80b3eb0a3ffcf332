# SPDX-License-Identifier: BSD-3-Clause
"""One step of the brain while it is being made: the state as it becomes, the commands as they gather."""

from dataclasses import dataclass, field, replace

from ringwright.tuner.brain.commands import CallKeyUp, Command, Invite, Keep, Send, Tell
from ringwright.tuner.brain.state import State
from ringwright.tuner.brain.words import Phase, Why, Word
from ringwright.tuner.journal import Kept
from ringwright.tuner.messages import STALE, HostLine, Inhibit, Order, Status

SILENCE = 0.8
"""Seconds without a status after which the board counts as gone: told within a second, and lost lines do not count."""
KEYED_SHARE = 0.02
"""Of the tuning power; forward power above is a carrier. A folded-back transmitter behind diodes still shows more."""


@dataclass(slots=True)
class Turn:
    """Lives for one step only; what leaves it is frozen."""

    state: State
    now: float
    commands: list[Command] = field(default_factory=list)

    def send(self, order: Order) -> int:
        """Send an order; its number."""
        contact = self.state.contact
        seq = contact.next_seq
        self.state = replace(self.state, contact=replace(contact, next_seq=seq + 1))
        self.commands.append(Send(HostLine(seq, order)))
        return seq

    def tell(self, word: Word, *values: tuple[str, float | str]) -> None:
        """Tell the person a word with its values."""
        self.commands.append(Tell(word, values))

    def refuse(self, why: Why) -> None:
        """What was asked is not done."""
        self.tell(Word.REFUSED, ("why", why))

    def keep(self, at: int, to: int | None) -> None:
        """Into the journal, before anything that follows."""
        status = self.state.contact.status
        boots = 0 if status is None else status.boots
        kept = Kept(at, self.state.is_sure, to, boots, is_proved=self.state.is_proved)
        self.state = replace(self.state, kept=kept)
        self.commands.append(Keep(kept))

    def enter(self, phase: Phase) -> None:
        """Do something else from now on."""
        if phase is not self.state.phase:
            self.state = replace(self.state, phase=phase, phase_since=self.now)

    def rest(self) -> None:
        """Do nothing, or what holds: a lock, then STOP."""
        held = Phase.STOPPED if self.state.is_stopped else Phase.RESTING
        self.enter(Phase.LOCKED if self.state.lock is not None else held)

    def invite(self, power: float) -> None:
        """The operator may transmit with a power [W]."""
        self.state = replace(self.state, invited=power)
        self.commands.append(Invite(power))

    def call_key_up(self, why: Why) -> None:
        """The operator must stop; the contact opens, and stays open until the carrier is gone."""
        self.commands.append(CallKeyUp(why))
        self.state = replace(self.state, invited=None, aim=None, is_barred=True)
        self.send(Inhibit(True))

    @property
    def status(self) -> Status | None:
        """The last status, however old."""
        return self.state.contact.status

    @property
    def is_fresh(self) -> bool:
        """Whether the last reading may be acted upon."""
        return self.status is not None and self.now - self.state.contact.seen_at <= STALE

    @property
    def is_keyed(self) -> bool:
        """Whether the last status shows a carrier."""
        return self.status is not None and self.shows_carrier(self.status)

    def shows_carrier(self, status: Status) -> bool:
        """Whether there was a carrier when a status was taken."""
        return status.forward_power > KEYED_SHARE * self.state.ring.tuning_power
