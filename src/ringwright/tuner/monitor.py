# SPDX-License-Identifier: BSD-3-Clause
"""Counts unsafe acts, from outside: it sees what truly happens at drive, transmitter and wire, and trusts no claim.

It shares no code with the brain and none with the board; both may be wrong, and it must say so.
"""

import json
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from ringwright.tuner.line_check import is_whole
from ringwright.tuner.messages import VERSION

GRACE_AT_POWER = 0.25
"""Seconds for a board to notice forward power and stop."""
PATIENCE = 1.5
"""Seconds after the last heartbeat from which nothing may step."""
GRACE_AFTER_STOP = 0.2
"""Seconds after STOP reached the board from which nothing may step."""
STALE = 0.5
"""Seconds from which a reading is too old to invite power on."""
ORDERS = ("hello", "heartbeat", "move", "stop", "ends", "limit", "position", "reference", "inhibit")
CLOCK = 0.002
"""Seconds of the board's clock, which counts whole milliseconds and begins between two."""


class Unsafe(StrEnum):
    """What must never happen."""

    STEP_AT_POWER = "stepped at power"
    MOVE_AT_POWER = "began a move on a reading above the tuning limit"
    INVITED_STALE = "invited power on a stale reading"
    INVITED_TOO_MUCH = "invited more than the band's limit"
    STEP_PAST_END = "stepped past a soft end"
    STEP_UNLED = "stepped without a heartbeat"
    STEP_AFTER_STOP = "stepped after STOP"
    INVITED_LOST = "invited power at a position that is off"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stance:
    """How truth and claim stand to each other when power is invited or a count is set.

    `motor`: where it truly is, `resonance` [Hz] of the ring as it truly is, `bandwidth` [Hz] half-power, unloaded, and
    `bandwidth_steps` the same in steps.
    """

    motor: int
    resonance: float
    bandwidth: float
    bandwidth_steps: float


class Monitor:
    """Told by a simulation what truly happens; `acts` holds what was unsafe. Each act counts once a motion."""

    def __init__(self, *, tuning_limit: float, count: int, frame: float = 0.0) -> None:
        self.acts: Counter[Unsafe] = Counter()
        self._tuning_limit = tuning_limit
        self._count = count  # own count of pulses, in the host's frame
        self._frame = frame  # count less motor, as last put right
        self._ends: tuple[int, int] | None = None
        self._above_since: float | None = None
        self._heartbeat_at = float("-inf")
        self._stopped_at: float | None = None
        self._newest = -1
        self._pending: dict[int, dict[str, object]] = {}
        self._is_seeking = False
        self._board_forward = 0.0
        self._is_moving = False
        self._counted: set[Unsafe] = set()

    @property
    def total(self) -> int:
        """Unsafe acts of all kinds."""
        return sum(self.acts.values())

    # At the transmitter and the meter.

    def forward_is(self, now: float, watts: float) -> None:
        """True forward power from now on."""
        if watts <= self._tuning_limit:
            self._above_since = None
        elif self._above_since is None:
            self._above_since = now

    def board_read(self, forward: float) -> None:
        """What the board read of forward power."""
        self._board_forward = forward

    # At the drive.

    def stepped(self, last_at: float, pulses: int) -> None:
        """The board made pulses, the last of them then."""
        if not self._is_moving:
            self._is_moving = True
            self._counted.clear()
            if self._board_forward > self._tuning_limit:
                self._add(Unsafe.MOVE_AT_POWER)
        if self._above_since is not None and last_at > self._above_since + GRACE_AT_POWER:
            self._add(Unsafe.STEP_AT_POWER)
        if last_at > self._heartbeat_at + PATIENCE + CLOCK:
            self._add(Unsafe.STEP_UNLED)
        if self._stopped_at is not None and last_at > self._stopped_at + GRACE_AFTER_STOP:
            self._add(Unsafe.STEP_AFTER_STOP)
        self._count += pulses
        if not (self._is_seeking and pulses < 0) and self._is_past_end(pulses):
            self._add(Unsafe.STEP_PAST_END)

    def _is_past_end(self, pulses: int) -> bool:
        if self._ends is None:
            return True
        low, high = self._ends
        return self._count > high if pulses > 0 else self._count < low

    def rested(self) -> None:
        """The drive stands."""
        self._is_moving = False
        self._is_seeking = False

    def end_switch_closed(self, count: int, motor: int) -> None:
        """The drive stands at the low end stop, which is `count` by its own dimensions."""
        if self._is_seeking:
            self._count, self._frame = count, float(count - motor)
            self._is_seeking = False

    # At the wire to the board.

    def reached_board(self, now: float, line: str) -> None:
        """A line came to the board."""
        order = _object(line)
        seq = order.get("seq")
        if not is_whole(line) or order.get("v") != VERSION:
            return  # garbled on its way: no order
        if order.get("do") not in ORDERS or type(seq) is not int:
            return
        if order["do"] == "stop":
            self._stopped_at = now
            self._newest = max(self._newest, seq)
            return
        if seq <= self._newest:
            return
        self._newest = seq
        if order["do"] == "heartbeat":
            self._heartbeat_at = now
        elif order["do"] in {"move", "reference"}:
            self._stopped_at = None
        if order["do"] in {"ends", "move", "position", "reference"}:
            self._pending[seq] = order

    def board_said(
        self, line: str, stance: Callable[[], Stance], expected: Callable[[int], float] | None
    ) -> None:
        """A line left the board; `expected` gives the frequency [Hz] that the host's curve has at a count."""
        if not self._pending or '"answers"' not in line:
            return
        answer = _object(line)
        order = self._pending.pop(answer.get("answers", -1), None)  # type: ignore[call-overload]
        if order is None or answer.get("ok") is not True:
            return
        match order:
            case {"do": "ends", "low": int(low), "high": int(high)}:
                self._ends = low, high
            case {"do": "reference" | "move" as do}:
                self._is_seeking = do == "reference"
            case {"do": "position", "is": int(count), "sure": sure}:
                self._count = count
                if sure is True:
                    self._reframe(count, stance(), None if expected is None else expected(count))

    def _reframe(self, count: int, stance: Stance, expected: float | None) -> None:
        """Where a count is set, it is right if the motor is there, or the ring's resonance, by the host's own curve."""
        if abs(count - stance.motor - self._frame) <= stance.bandwidth_steps or expected is None:
            return
        off = (expected - stance.resonance) / stance.bandwidth
        if abs(off) <= 1.0:
            self._frame = count - stance.motor - off * stance.bandwidth_steps

    def board_started(self) -> None:
        """The board started anew: it has forgotten ends, heartbeat and numbers, and nothing moves."""
        self._ends, self._heartbeat_at, self._newest = None, float("-inf"), -1
        self._pending.clear()
        self._board_forward = 0.0
        self.rested()

    # At the host.

    def host_sent_move(self, newest_forward: float) -> None:
        """A host sent a move; the newest reading it has had shows this forward power."""
        if newest_forward > self._tuning_limit:
            self.acts[Unsafe.MOVE_AT_POWER] += 1

    def invited(
        self,
        now: float,
        power: float,
        *,
        reading_taken: float,
        power_limit: float,
        called_sure: bool,
        called_proved: bool,
        claimed: float,
        count: int,
        expected: float,
        stance: Stance,
    ) -> None:
        """Power was invited at a `count` for the frequency `claimed` [Hz], on a reading truly taken then.

        `expected` [Hz] is what the host's curve has at the count: a count that fits motor or resonance is right. A
        position that is called sure must have the frequency claimed; the count must be right where it is called proved.
        """
        if now > reading_taken + STALE:
            self.acts[Unsafe.INVITED_STALE] += 1
        if power > power_limit:
            self.acts[Unsafe.INVITED_TOO_MUCH] += 1
        if power > self._tuning_limit and called_sure:
            off_motor = abs(count - stance.motor - self._frame) > stance.bandwidth_steps
            off_count = off_motor and abs(expected - stance.resonance) > stance.bandwidth
            off_resonance = abs(stance.resonance - claimed) > stance.bandwidth
            if (off_count and called_proved) or off_resonance:
                self.acts[Unsafe.INVITED_LOST] += 1

    def _add(self, act: Unsafe) -> None:
        if act not in self._counted:
            self._counted.add(act)
            self.acts[act] += 1


def _object(line: str) -> dict[str, object]:
    try:
        found = json.loads(line)
    except ValueError:
        return {}
    return found if isinstance(found, dict) else {}
