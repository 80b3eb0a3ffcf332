# SPDX-License-Identifier: BSD-3-Clause
"""One twin in simulated time: events in a queue, and what lies between two of them by formulas.

Nothing runs every millisecond. The board is asked when something will happen to it by itself, and the drive's pulses
between two events are played at once, in a few pieces where there is power to be measured meanwhile.
"""

import heapq
import math
import random
from collections.abc import Callable

from ringwright.tuner.board import Board
from ringwright.tuner.board_journal import Journal
from ringwright.tuner.monitor import Monitor, Stance
from ringwright.tuner.twin.channel import Channel
from ringwright.tuner.twin.drive_train import DriveTrain
from ringwright.tuner.twin.facts import TwinFacts
from ringwright.tuner.twin.flash import Flash, SupplyLost
from ringwright.tuner.twin.meter import Meter, folded_forward
from ringwright.tuner.twin.operator import Operator
from ringwright.tuner.twin.warmth import Warmth

AMBIENT_C = 20.0
PIECE = 0.5
"""Half-power bandwidths that the drive goes at most in one piece while power is measured."""
MOST_PIECES = 12
ON_THE_WAY = 256
"""Lines of a board that may be on their way at most."""
NOISE_PEAK_DB = 25.0
"""By which a ring in tune is louder than one far off; common practice, no source."""


class World:
    """The twin, its board, its operator and the links to it, watched by a monitor."""

    def __init__(self, facts: TwinFacts, *, tuning_limit: float) -> None:
        self.facts = facts
        self._rng = random.Random(facts.seed)  # noqa: S311 -- a simulation keeps no secrets
        self.now = 0.0
        self._queue: list[tuple[float, int, Callable[..., None], tuple[object, ...]]] = []
        self._order = 0
        self.train = DriveTrain(facts.train, facts.start, from_below=self._rng.random() < 0.5)
        self.meter = Meter(facts.meter, self._rng)
        self.warmth = Warmth(facts.heat_rise, facts.cooling)
        self.operator = Operator(
            facts.operator, self._rng, later=self.later, set_power=self._transmitter_is_set
        )
        self.flash = Flash()
        self._channels: list[Channel] = []
        self._wanted_power = self.set_power = self.forward_max = 0.0
        self.keyed_seconds = 0.0
        self.readings_keyed = 0
        self.taken: dict[tuple[int, int], float] = {}
        self.monitor = Monitor(
            tuning_limit=tuning_limit, count=facts.start + facts.count_off, frame=float(facts.count_off)
        )
        self.listener: Callable[[str], None] | None = None
        self.expected_at: Callable[[int], float] | None = None
        self._due: int | None = None
        self._was_moving = False
        self._share = self._reflected_share()
        Journal(self.flash).note(facts.start + facts.count_off, True)
        self.board: Board | None = self._new_board()
        self.later(facts.meter.period * self._rng.random(), self._reading_ends)

    # Time.

    def later(self, delay: float, call: Callable[..., None], *arguments: object) -> None:
        """Ask for a call after some seconds."""
        self._order += 1
        heapq.heappush(self._queue, (self.now + delay, self._order, call, arguments))

    def run_until(self, end: float) -> None:
        """Let everything happen that happens up to then."""
        queue = self._queue
        while queue and queue[0][0] <= end:
            at, _, call, arguments = heapq.heappop(queue)
            self._advance(at)
            call(*arguments)
        self._advance(end)

    def _advance(self, now: float) -> None:
        """Play what lies between."""
        while self._due is not None and self._due <= now * 1000.0:
            due, self._due = self._due / 1000.0, None
            self._play(max(due, self.now))
            self._plan()
        self._play(now)

    def _play(self, now: float) -> None:
        seconds, board, pulses = now - self.now, self.board, 0
        if board is not None and (board.moving or board.owed):
            pulses = board.tick(self._ms(now))
        self.now = now
        if pulses:
            self._turn(pulses, seconds)
        elif seconds > 0.0:
            self._pass(seconds, self._share, self._share)
        if board is not None and self._settles(board) and pulses:
            self._see_switch()
        self._see_rest()

    def _settles(self, board: Board) -> bool:
        """Whether the board still lives after it wrote down where it stands."""
        try:
            board.settle()
        except SupplyLost:
            self._supply_fails()
            return False
        return True

    def _turn(self, pulses: int, seconds: float) -> None:
        self.monitor.stepped(self.now, pulses)
        pieces = 1
        if self.set_power > 0.0:
            length = abs(pulses) / self.facts.ring.half_power_steps(self.facts.frequency)
            pieces = max(1, min(MOST_PIECES, math.ceil(length / PIECE), abs(pulses)))
        done = 0
        for piece in range(1, pieces + 1):
            upto = pulses * piece // pieces
            self.train.pulses(upto - done)
            done = upto
            before = self._share
            self._share = self._reflected_share()
            self._pass(seconds / pieces, before, self._share)
        self._tell_forward()

    def _pass(self, seconds: float, share_before: float, share_after: float) -> None:
        """Let power pass for a while; what is reflected goes evenly from one share to the other."""
        power = self.set_power
        forward = reflected = 0.0
        if power > 0.0:
            ends = folded_forward(power, share_before), folded_forward(power, share_after)
            forward = (ends[0] + ends[1]) / 2.0
            reflected = (ends[0] * share_before + ends[1] * share_after) / 2.0
            self.keyed_seconds += seconds
        self.meter.pass_time(seconds, forward, reflected)
        self.warmth.advance(seconds, forward - reflected)

    def _tell_end_stop(self) -> bool:
        """Whether the end stop's switch is closed; the monitor hears it."""
        facts, train = self.facts, self.train
        closed = train.facts.low is not None and train.motor <= math.ceil(train.facts.low)
        if closed and facts.stop_at is not None:
            self.monitor.end_switch_closed(facts.stop_at, train.motor)
        return closed

    def _see_switch(self) -> None:
        if self.facts.stop_at is None or self.board is None:
            return
        closed = self._tell_end_stop()
        try:
            self.board.low_switch(self._ms(self.now), closed)
        except SupplyLost:
            self._supply_fails()

    def _see_rest(self) -> None:
        moving = self.board is not None and self.board.moving
        if self._was_moving and not moving:
            self.train.rest()
            self.monitor.rested()
        self._was_moving = moving

    def _plan(self) -> None:
        """Note when the board's drive stops by itself."""
        self._due = None if self.board is None else self.board.due()

    def _ms(self, now: float) -> int:
        return int(now * 1000.0 + 1e-6)

    # Power.

    def _transmitter_is_set(self, power: float) -> None:
        self._wanted_power = power
        self._key()

    def _key(self) -> None:
        inhibited = self.facts.inhibit_is_wired and (self.board is None or self.board.inhibit)
        self.set_power = 0.0 if inhibited else self._wanted_power
        self._share = self._reflected_share()
        self._tell_forward()

    def _tell_forward(self) -> None:
        forward = folded_forward(self.set_power, self._share)
        self.forward_max = max(self.forward_max, forward)
        self.monitor.forward_is(self.now, forward)

    def _reflected_share(self) -> float:
        return self.facts.ring.reflected_share(self.facts.frequency, self.train.rotor, self.warmth.kelvin)

    @property
    def is_keyed(self) -> bool:
        """Whether there is power about."""
        return self.set_power > 0.0

    # The board.

    def _new_board(self) -> Board:
        facts = self.facts
        return Board(
            self.flash,
            self._ms(self.now),
            {"speed": facts.speed, "travel": facts.high_end - facts.low_end, "stop_at": facts.stop_at},
        )

    def _supply_fails(self) -> None:
        """The board is dead at once, and comes back after a while."""
        self.board = None
        self._due = None
        self._was_moving = False
        self.train.rest()
        self.monitor.rested()
        self._key()
        self.later(self._rng.uniform(0.3, 4.0), self._board_starts)

    def fail_supply(self) -> None:
        """Cut the board's supply now."""
        self.flash.cut_after = None
        if self.board is not None:
            self._supply_fails()

    def _board_starts(self) -> None:
        self.monitor.board_started()
        try:
            self.board = self._new_board()
        except SupplyLost:
            self._supply_fails()
            return
        self._key()

    def _reading_ends(self) -> None:
        self.later(self.facts.meter.period, self._reading_ends)
        board = self.board
        forward, reflected = self.meter.take()
        if board is None:
            return
        self._share = self._reflected_share()  # warmth moves it, too
        self.readings_keyed += self.is_keyed
        self.monitor.board_read(forward)
        warm = round(AMBIENT_C + self.warmth.kelvin, 1) if self.facts.warmth_shown else None
        self._with_board(
            lambda: board.read(
                self._ms(self.now), forward, reflected, temperature_c=warm, noise_db=self._noise()
            )
        )

    def _noise(self) -> float | None:
        floor = self.facts.receiver_floor_db
        if floor is None or self.is_keyed:
            return None
        gain = 10.0 ** (NOISE_PEAK_DB / 10.0) * (1.0 - self._share)
        return round(floor + 10.0 * math.log10(1.0 + gain) + self._rng.gauss(0.0, 1.0), 2)

    def reaches_board(self, line: str) -> None:
        """A line comes to the board."""
        board = self.board
        if board is None:
            return
        self.monitor.reached_board(self.now, line)
        was_inhibited = board.inhibit
        self._with_board(lambda: board.receive(line, self._ms(self.now)))
        self._tell_end_stop()
        if self.board is not None and board.inhibit != was_inhibited:
            self._key()

    def _with_board(self, act: Callable[[], list[str]]) -> None:
        """Let the board do something, which may be the last it does, and carry what it says to all who listen."""
        try:
            lines = act()
        except SupplyLost:
            self._supply_fails()
            return
        board = self.board
        assert board is not None
        for line in lines:
            self._note_taken(board)
            self.monitor.board_said(line, self.stance, self.expected_at)
            if self.listener is not None:
                self.listener(line)
            for channel in self._channels:
                channel.send(line)
        self._see_rest()
        self._plan()

    def _note_taken(self, board: Board) -> None:
        """When a line was said, for as long as one may be on its way."""
        self.taken[board.boots, board.sent] = self.now
        if len(self.taken) > ON_THE_WAY:
            del self.taken[next(iter(self.taken))]

    # Links and truth.

    def attach(self, deliver: Callable[[str], None]) -> tuple[Channel, Channel]:
        """A link for one more host: its way to the board, and the board's way to it."""
        facts, rng = self.facts.channel, self._rng
        ways = [
            Channel(facts, rng, later=self.later, deliver=end, is_keyed=lambda: self.is_keyed)
            for end in (self.reaches_board, deliver)
        ]
        self._channels.append(ways[1])
        return ways[0], ways[1]

    def stance(self) -> Stance:
        """How things truly are."""
        facts = self.facts
        return Stance(
            motor=self.train.motor,
            resonance=facts.ring.resonance(self.train.rotor, self.warmth.kelvin),
            bandwidth=facts.half_power,
            bandwidth_steps=facts.ring.half_power_steps(facts.frequency),
        )
