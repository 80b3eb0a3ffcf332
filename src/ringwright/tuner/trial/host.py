# SPDX-License-Identifier: BSD-3-Clause
"""A brain at its computer, as a twin's world sees it: lines in, lines out, a journal, words to the operator."""

import random
from collections.abc import Callable

from ringwright.errors import LinkMessageError
from ringwright.tuner.brain import (
    AcknowledgementSeen,
    Ask,
    Asked,
    CallKeyUp,
    Command,
    Event,
    Invite,
    Keep,
    Learnt,
    Phase,
    Ring,
    Send,
    State,
    StatusSeen,
    Tell,
    Tick,
    begin,
)
from ringwright.tuner.curve import TuningCurve
from ringwright.tuner.journal import journal_line, read_journal
from ringwright.tuner.messages import Acknowledgement, Move, Status
from ringwright.tuner.messages_text import host_text, parse_board_line
from ringwright.tuner.twin.world import World

Step = Callable[[State, Event, float], tuple[State, tuple[Command, ...]]]

TICK = 0.1
WALL_START = 1_700_000_000_000
"""Wall clock [ms] when a trial begins; any."""


class Host:
    """Drives one brain. `on_tell` hears each word; the host dies when told to, and may be started again."""

    def __init__(
        self,
        world: World,
        ring: Ring,
        curve: TuningCurve,
        *,
        step: Step,
        on_tell: Callable[[Tell], None],
        wall_start: int = WALL_START,
    ) -> None:
        self._world, self._ring, self._curve, self._step = world, ring, curve, step
        self._on_tell = on_tell
        self._wall_start = wall_start
        self._to_board, self._from_board = world.attach(self._received)
        self.journal = b""
        self.cuts_keep_in: int | None = None
        self.learnt: list[Learnt] = []
        self._newest: Status | None = None
        self._newest_taken = float("-inf")
        self._life = 0
        self.is_alive = False
        self.start()

    def start(self) -> None:
        """Begin anew from what the journal holds."""
        remembered = read_journal(self.journal)
        self._number = remembered.number
        self._newest, self._newest_taken = None, float("-inf")
        self._life += 1
        self.is_alive = True
        self.state = begin(
            self._ring,
            self._curve,
            first_seq=self._wall_start + round(1000.0 * self._world.now),
            now=self._world.now,
            kept=remembered.kept,
            is_whole=remembered.is_whole,
        )
        self._tick(self._life)

    def ask(self, ask: Ask) -> None:
        """A person asks for something."""
        self._happens(Asked(ask))

    def cut_link(self, is_cut: bool) -> None:
        """Let nothing pass, either way, or all again."""
        self._to_board.is_cut = self._from_board.is_cut = is_cut

    def _tick(self, life: int) -> None:
        if life == self._life and self.is_alive:
            self._world.later(TICK, self._tick, life)
            self._happens(Tick())

    def _received(self, line: str) -> None:
        if not self.is_alive:
            return
        try:
            said = parse_board_line(line)
        except LinkMessageError:
            return
        if isinstance(said, Status):
            newest = self._newest
            if newest is None or (said.boots, said.seq) > (newest.boots, newest.seq):
                self._newest = said
                self._newest_taken = self._world.taken.get((said.boots, said.seq), float("-inf"))
            self._happens(StatusSeen(said))
        elif isinstance(said, Acknowledgement):
            self._happens(AcknowledgementSeen(said))

    def _happens(self, event: Event) -> None:
        self.state, commands = self._step(self.state, event, self._world.now)
        for command in commands:
            if not self.is_alive:
                return
            self._do(command)

    def _do(self, command: Command) -> None:
        world = self._world
        match command:
            case Send(line):
                if isinstance(line.order, Move) and self._newest is not None:
                    world.monitor.host_sent_move(self._newest.forward_power)
                self._to_board.send(host_text(line))
            case Keep(kept):
                self._keep(journal_line(kept, self._number + 1))
            case Invite(power):
                self._see_invitation(power)
                world.operator.invited(power)
            case CallKeyUp():
                world.operator.called_up()
            case Tell():
                self._on_tell(command)
            case Learnt():
                self.learnt.append(command)

    def _keep(self, line: bytes) -> None:
        if self.cuts_keep_in is not None:
            self.cuts_keep_in -= 1
            if self.cuts_keep_in < 0:
                self.cuts_keep_in = None
                place = random.Random(line).randrange(len(line))  # noqa: S311 -- a simulation
                self.journal += line[:place]
                self.is_alive = False
                return
        self._number += 1
        self.journal += line

    def _see_invitation(self, power: float) -> None:
        state, facts = self.state, self._world.facts
        count = self._newest.at if self._newest is not None else facts.start
        self._world.monitor.invited(
            self._world.now,
            power,
            reading_taken=self._newest_taken,
            power_limit=facts.power_limit,
            called_sure=state.is_sure,
            called_proved=state.is_proved,
            claimed=state.tuned.frequency if state.tuned is not None else facts.frequency,
            count=count,
            expected=self._curve.frequency(count, None),
            stance=self._world.stance(),
        )

    @property
    def rests(self) -> bool:
        """Whether the brain has nothing to do."""
        return self.is_alive and self.state.phase in {Phase.RESTING, Phase.TUNED}
