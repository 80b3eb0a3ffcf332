# SPDX-License-Identifier: BSD-3-Clause
"""The board at the mast as pure logic: a line in, lines out, `tick(ms)`.

Plain Python that MicroPython runs, too; what touches pins, ports and flash lives elsewhere and calls

- `tick(ms)` every millisecond or two, and makes the pulses it returns, their sign being the direction;
- `receive(line, ms)` for a line of the link, `read(ms, ...)` for a finished reading: both return lines to send;
- `end_switch(ms, closed)` when the switch of the low end stop changes.

The board trusts nobody. Whatever the host says, it does not step 1.5 s after the last heartbeat, above the tuning limit
by its own reading, without a fresh reading, or past a soft end. `stop` is obeyed whatever its number. An order counts
only if its number is above all seen: repeats and late ones do nothing.
"""

import json

from ringwright.tuner.board_journal import Journal
from ringwright.tuner.line_check import is_whole, sealed

VERSION = 2
LONGEST_LINE = 1000
HEARTBEAT_MS = 1500
READING_MS = 500
LIMIT_UNTOLD_W = 1.0
"""Tuning limit until a host has set one: little enough that any carrier holds the drive."""
MOST_LIMIT_W = 10.0
"""Limit that the board refuses to exceed: more would burn an arc into a capacitor that turns; common practice."""
SEEK_SLACK = 1.1
"""Of the whole travel, after which the search for an end stop that does not come ends."""


class Board:
    """State of one board from power-up on; all times in its own whole milliseconds, which only grow.

    `speed` [steps/s]: the drive's own. `stop_at`: the count at the low end stop's switch, None for a capacitor that
    turns round and round. `travel`: steps from end to end. `sent`: number of the newest line; `owed`: pulses that the
    next tick returns.
    """

    def __init__(  # type: ignore[no-untyped-def]
        self, store, ms: int, *, speed: int, travel: int, stop_at: int | None
    ) -> None:
        self._journal = Journal(store)
        self._own_speed, self._travel, self._stop_at = speed, travel, stop_at
        self._speed = speed
        self.at, self.sure = self._journal.at, self._journal.sure
        self._journal.note_boot()
        self.boots = self._journal.boots
        self.to: int | None = None
        self.moving = False
        self.seeking = False
        self.stopped_by: str | None = None
        self.ends: tuple[int, int] | None = None
        self.limit_w = LIMIT_UNTOLD_W
        self.inhibit = True
        self._switch_closed = False
        self._boot_ms = ms
        self._newest = -1
        self.sent = 0
        self._heartbeat_ms: int | None = None
        self._reading_ms: int | None = None
        self._forward_w = 0.0
        self._over_from = self.at
        self._from_ms = ms
        self._made = 0
        self.owed = 0

    # What the clock does.

    def tick(self, ms: int) -> int:
        """Pulses to make now, negative downwards."""
        self._advance(ms)
        pulses, self.owed = self.owed, 0
        return pulses

    def due(self) -> int | None:
        """When something happens by itself, for a caller that does not tick every millisecond; None at rest."""
        if not self.moving or self.to is None:
            return None
        left = abs(self.to - self.at) + self._made
        return min(self._from_ms + -(-left * 1000 // self._speed), self._may_step_until())

    def _may_step_until(self) -> int:
        heart = -1 if self._heartbeat_ms is None else self._heartbeat_ms + HEARTBEAT_MS
        reading = -1 if self._reading_ms is None else self._reading_ms + READING_MS
        return min(heart, reading)

    def _advance(self, ms: int) -> None:
        if not self.moving or self.to is None:
            return
        until = self._may_step_until()
        steps = max(0, (min(ms, until) - self._from_ms) * self._speed // 1000 - self._made)
        way = self.to - self.at
        steps = min(steps, abs(way))
        signed = steps if way > 0 else -steps
        self.at += signed
        self.owed += signed
        self._made += steps
        if self.at == self.to:
            self._rest("end" if self.seeking else None)
        elif ms >= until:
            heart = self._heartbeat_ms
            no_heart = heart is None or ms >= heart + HEARTBEAT_MS
            self._rest("heartbeat" if no_heart else "power")

    def _rest(self, stopped_by: str | None) -> None:
        """Stand still; the journal says where, unless the position is in doubt."""
        was_seeking = self.seeking
        self.moving = self.seeking = False
        self.to = None
        self.stopped_by = stopped_by
        if stopped_by == "heartbeat":
            self.inhibit = True  # nobody knows what the ring is tuned to
        if was_seeking and stopped_by is not None:
            self.sure = False
        self._journal.note(self.at, self.sure)

    # What the hardware says.

    def end_switch(self, ms: int, closed: bool) -> None:
        """The low end stop's switch; the count is put right where it closes in the search for it."""
        self._advance(ms)
        self._switch_closed = closed
        if closed and self.seeking and self._stop_at is not None:
            self.at, self.sure = self._stop_at, True
            self._over_from = self.at
            self._rest(None)

    def read(
        self,
        ms: int,
        forward_w: float,
        reflected_w: float,
        *,
        temperature_c: float | None,
        noise_db: float | None,
    ) -> list[str]:
        """A reading has ended; the status to send."""
        self._advance(ms)
        self._reading_ms, self._forward_w = ms, forward_w
        if self.moving and forward_w > self.limit_w:
            self._rest("power")
        status = {
            "at": self.at,
            "sure": self.sure,
            "moving": self.moving,
            "to": self.to,
            "over": [self._over_from, self.at],
            "forward_w": round(max(0.0, forward_w), 5),
            "reflected_w": round(max(0.0, reflected_w), 5),
            "temperature_c": temperature_c,
            "noise_db": noise_db,
            "inhibit": self.inhibit,
            "boots": self.boots,
            "ms": ms - self._boot_ms,
            "ends": None if self.ends is None else [self.ends[0], self.ends[1]],
            "stopped_by": self.stopped_by,
        }
        self._over_from = self.at
        return [self._line(status)]

    # What the host says.

    def receive(self, line: str, ms: int) -> list[str]:
        """Obey an order, or say why not; nothing at all to what is no order of this protocol."""
        self._advance(ms)
        order = _order(line)
        if order is None:
            stranger = _seq_of_another_version(line)
            return [] if stranger is None else [self._answer(stranger, _OTHER_VERSION)]
        seq, do = order["seq"], order["do"]
        if do == "stop":
            self._newest = max(self._newest, seq)
            self._stop()
            return [self._answer(seq, None)]
        if seq <= self._newest:
            return [self._answer(seq, "not newer than what was seen")]
        self._newest = seq
        return [self._answer(seq, self._obey(do, order, ms))]

    def _stop(self) -> None:
        if self.moving:
            self._rest("stop")
        self.stopped_by = "stop"

    def _obey(self, do: str, order, ms: int) -> str | None:  # type: ignore[no-untyped-def]
        """Why an order was not obeyed, None if it was."""
        why = None
        if do == "heartbeat":
            self._heartbeat_ms = ms
        elif do == "inhibit":
            self.inhibit = order["on"]
        elif do == "limit":
            why = self._set_limit(order["tuning_power_w"])
        elif do == "ends":
            why = self._set_ends(order["low"], order["high"])
        elif do == "position":
            why = self._set_position(order["is"], order["sure"])
        elif do == "reference":
            why = self._seek(ms)
        elif do == "move":
            why = self._move(order["to"], order["speed"], ms)
        return why

    def _set_limit(self, watts: float) -> str | None:
        if not 0.0 <= watts <= MOST_LIMIT_W:
            return "the limit must be from 0 W to " + str(MOST_LIMIT_W) + " W"
        self.limit_w = float(watts)
        if self.moving and self._forward_w > self.limit_w:
            self._rest("power")
        return None

    def _set_ends(self, low: int, high: int) -> str | None:
        if low > high:
            return "the low end is above the high one"
        self.ends = (low, high)
        if self.moving and self.to is not None and not self.seeking and not low <= self.to <= high:
            self._rest("end")
        return None

    def _set_position(self, at: int, sure: bool) -> str | None:
        if self.moving:
            return "the drive is moving"
        self.at, self.sure = at, sure
        self._over_from = at
        self._journal.note(at, sure)
        return None

    def _seek(self, ms: int) -> str | None:
        if self._stop_at is None:
            return "this capacitor has no end stop"
        why = self._held_by(ms)
        if why is None and self._switch_closed:
            if self.moving:
                self._rest(None)
            self.at, self.sure = self._stop_at, True
            self._over_from = self.at
            self._journal.note(self.at, True)
        elif why is None:
            self._begin(self.at - int(self._travel * SEEK_SLACK), self._own_speed, ms)
            self.seeking = True
        return why

    def _move(self, to: int, speed: int | None, ms: int) -> str | None:
        if self.ends is None:
            return "no soft ends are set"
        low, high = self.ends
        if not low <= to <= high:
            return "beyond the soft ends"
        why = self._held_by(ms)
        if why is None and to != self.at:
            self._begin(to, self._own_speed if speed is None else min(speed, self._own_speed), ms)
        elif why is None:
            if self.moving:
                self._rest(None)
            self.stopped_by = None
        return why

    def _held_by(self, ms: int) -> str | None:
        """What forbids to move now."""
        if self._heartbeat_ms is None or ms >= self._heartbeat_ms + HEARTBEAT_MS:
            return "no heartbeat"
        if self._reading_ms is None or ms >= self._reading_ms + READING_MS:
            return "no fresh reading"
        if self._forward_w > self.limit_w:
            return "forward power is above the tuning limit"
        return None

    def _begin(self, to: int, speed: int, ms: int) -> None:
        """Go to a count; the journal holds the doubt before the first step is made."""
        self._journal.note(self.at, False)
        turns_round = self.to is None or (to > self.at) != (self.to > self.at)
        if not self.moving or turns_round or speed != self._speed:
            self._from_ms, self._made, self._speed = ms, 0, speed
        self.to, self.moving, self.seeking, self.stopped_by = to, True, False, None

    # What is said to the host.

    def _answer(self, seq: int, why: str | None) -> str:
        return self._line({"answers": seq, "ok": why is None, "why": why})

    def _line(self, fields) -> str:  # type: ignore[no-untyped-def]
        self.sent += 1
        fields["v"] = VERSION
        fields["seq"] = self.sent
        return sealed(json.dumps(fields))


_FIELDS = {
    "hello": (),
    "heartbeat": (),
    "move": ("to", "speed"),
    "stop": (),
    "ends": ("low", "high"),
    "limit": ("tuning_power_w",),
    "position": ("is", "sure"),
    "reference": (),
    "inhibit": ("on",),
}
_FLAGS = ("sure", "on")
_MOST_STEPS = 2**31 - 1
_MOST_NUMBER = 2**53 - 1
_OTHER_VERSION = "this board speaks protocol version " + str(VERSION)


def _order(line: str):  # type: ignore[no-untyped-def]
    """The order in a line as a dictionary, None where it is not exactly one."""
    if not is_whole(line):
        return None
    found = _object(line)
    if not _is_number(found.get("v"), VERSION, VERSION):
        return None
    do = found.get("do")
    if not isinstance(do, str) or do not in _FIELDS or not _is_number(found.get("seq"), 0, _MOST_NUMBER):
        return None
    return found if all(name in found and _fits(name, found[name]) for name in _FIELDS[do]) else None


def _seq_of_another_version(line: str) -> int | None:
    """The number of an order of another version; of one without a check sum, too, since version 1 had none."""
    found = _object(line)
    if "crc" in found and not is_whole(line):
        return None
    version, seq = found.get("v"), found.get("seq")
    if not _is_number(version, 0, _MOST_STEPS) or version == VERSION or not isinstance(found.get("do"), str):
        return None
    return seq if _is_number(seq, 0, _MOST_NUMBER) else None


def _object(line: str):  # type: ignore[no-untyped-def]
    """The JSON object in a line, an empty one where there is none."""
    if len(line) > LONGEST_LINE:
        return {}
    try:
        found = json.loads(line)
    except (ValueError, RuntimeError):  # nested too deep is a RuntimeError
        return {}
    return found if isinstance(found, dict) else {}


def _fits(name: str, value: object) -> bool:
    if name in _FLAGS:
        return isinstance(value, bool)
    if name == "speed":
        return value is None or _is_number(value, 1, _MOST_STEPS)
    if name == "tuning_power_w":
        return isinstance(value, float) or _is_number(value, 0, _MOST_STEPS)
    return _is_number(value, -_MOST_STEPS, _MOST_STEPS)


def _is_number(value: object, low: int, high: int) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and low <= value <= high
