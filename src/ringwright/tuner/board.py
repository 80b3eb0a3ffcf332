# SPDX-License-Identifier: BSD-3-Clause
"""The board at the mast as pure logic: a line in, lines out, `tick(ms)`.

Plain Python that MicroPython runs, too; what touches pins, ports and flash lives in `firmware` and calls

- `tick(ms)` every millisecond or two, makes the pulses it returns, negative ones downwards, and then calls `settle()`;
- `receive(line, ms)` for a line of the link, `read(ms, ...)` for a finished reading: both return lines to send;
- `low_switch(ms, closed)`, `high_switch(ms, closed)` when the switch of an end stop changes, and once at first.

The board trusts nobody. Whatever the host says, it does not step 1.5 s after the last heartbeat, above the tuning limit
by its own reading, without a fresh reading, past a soft end or against a closed end stop. `stop` is obeyed whatever its
number. An order counts only if its number is above all seen: repeats and late ones do nothing.
"""

import json

from ringwright.tuner.board_journal import Journal
from ringwright.tuner.board_motion import BRAKE_MS, Motion
from ringwright.tuner.board_orders import VERSION, order_in, seq_of_another_version
from ringwright.tuner.board_settings import watts
from ringwright.tuner.line_check import sealed

FIRMWARE = "2.0"
"""Protocol version, and the number of this logic within it."""
HEARTBEAT_MS = 1500
READING_MS = 500
LIMIT_UNTOLD_W = 1.0
"""Tuning limit until a host has set one: little enough that any carrier holds the drive."""
MOST_LIMIT_W = 10.0
"""Limit that the board refuses to exceed: more would burn an arc into a capacitor that turns; common practice."""
MOST_POWER_W = 100_000.0
SEEK_SLACK = 1.1
"""Of the whole travel, after which the search for an end stop that does not come ends."""
_LONG_AGO_MS = -1_000_000
_NO_FLASH = "the position cannot be written to flash"
_OTHER_VERSION = "this board speaks protocol version " + str(VERSION)


class Board:
    """State of one board from power-up on; all times in its own whole milliseconds, which only grow.

    `drive`: `speed` [steps/s], the drive's own; `travel` in steps from end to end; `stop_at`: the count at the low end
    stop's switch, None for a capacitor that turns round and round; and what else `board_settings` lists, read anew at
    each move. `settings` remembers changes of it. `gap_ms`: pulses that are later than this are not made up for, since
    the motor stood meanwhile; None where time is simulated. `sent`: number of the newest line.
    """

    def __init__(self, store, ms: int, drive, *, settings=None, gap_ms=None) -> None:
        self._journal = Journal(store)
        self._drive, self._settings, self._gap_ms = drive, settings, gap_ms
        self._motion = Motion(self._journal.at)
        self.sure = self._journal.sure
        self._journal.note_boot()
        self.boots = self._journal.boots
        self.about = {"firmware": FIRMWARE}
        self.seeking = False
        self.stopped_by: str | None = None
        self._brakes_for: str | None = None
        self._is_unwritten = False
        self.ends: tuple[int, int] | None = None
        self.limit_w = LIMIT_UNTOLD_W
        self.inhibit = True
        self._low_closed: bool | None = None
        self._high_closed: bool | None = None
        self._boot_ms = self._seen_ms = ms
        self._newest = -1
        self.sent = 0
        self._heartbeat_ms = self._reading_ms = _LONG_AGO_MS
        self._forward_w = 0.0
        self._over_from = self.at

    @property
    def at(self) -> int:
        """The count where the drive stands."""
        return self._motion.at

    @property
    def moving(self) -> bool:
        """Whether the drive steps."""
        return self._motion.moving

    @property
    def owed(self) -> int:
        """Pulses that the next tick returns at least."""
        return self._motion.owed

    # What the clock does.

    def tick(self, ms: int) -> int:
        """Pulses to make now, negative downwards."""
        self._advance(ms)
        pulses, self._motion.owed = self._motion.owed, 0
        return pulses

    def settle(self) -> None:
        """The pulses are made: where the drive came to rest can be written down."""
        if self._is_unwritten and self._motion.owed == 0:
            self._is_unwritten = False
            self._note(self.at, self.sure)

    def pace(self, ms: int) -> float:
        """Steps per second at that moment, for who makes several pulses at once."""
        return self._motion.pace(ms)

    def due(self) -> int | None:
        """When something happens by itself, for a caller that does not tick every millisecond; None at rest."""
        motion = self._motion
        if not motion.moving:
            return None
        heart, reading = self._led_until()
        return motion.end() if motion.braking else min(motion.end(), heart, reading)

    def _led_until(self) -> tuple[int, int]:
        """Until when heartbeat and reading let it go at full speed, so that it stands once they are too old."""
        brakes = (0 if self._drive.get("acceleration") is None else BRAKE_MS) + (self._gap_ms or 0)
        return self._heartbeat_ms + HEARTBEAT_MS - brakes, self._reading_ms + READING_MS - brakes

    def _advance(self, ms: int) -> None:
        late, self._seen_ms = ms - self._seen_ms, ms
        motion = self._motion
        if not motion.moving:
            return
        if (
            self._gap_ms is not None
            and late > self._gap_ms
            and motion.interrupted(ms, acceleration=self._drive.get("acceleration"))
        ):
            self._rest(self._brakes_for)
            return
        brakes = motion.braking
        limit = ms if brakes else min(self._led_until())
        if motion.advance(min(ms, limit)):
            self._rest(self._brakes_for if brakes else "end" if self.seeking else None)
        elif not brakes and ms >= limit:
            heart, reading = self._led_until()
            self._brake("heartbeat" if heart <= reading or ms >= heart else "power", limit)
            if motion.advance(ms):
                self._rest(self._brakes_for)

    def _brake(self, reason: str, ms: int) -> None:
        """Stand as soon as the motor can; `stopped_by` tells why."""
        motion = self._motion
        if motion.braking and reason != "end":
            return
        room = 2**31
        if self.ends is not None and (motion.way > 0 or not self.seeking):
            low, high = self.ends
            room = max(0, high - self.at if motion.way > 0 else self.at - low)
        self._brakes_for = self._brakes_for or reason
        if reason == "heartbeat":
            self.inhibit = True  # nobody knows what the ring is tuned to
        if motion.brake(ms, acceleration=self._drive.get("acceleration"), room=room):
            self._rest(self._brakes_for)

    def _rest(self, stopped_by: str | None) -> None:
        """Stand still; once the last pulses are made, the journal says where."""
        motion = self._motion
        motion.halt()
        if motion.was_hard or (self.seeking and stopped_by is not None):
            self.sure = False
        motion.was_hard = self.seeking = False
        self._brakes_for, self.stopped_by = None, stopped_by
        self._is_unwritten = True

    def _note(self, at: int, sure: bool) -> bool:
        """Write to the journal; False where the flash is full or broken, which leaves there the doubt of before."""
        try:
            self._journal.note(at, sure)
        except OSError:
            return False
        return True

    # What the hardware says.

    def low_switch(self, ms: int, closed: bool) -> None:
        """The low end stop's switch; the count is put right where it closes in the search for it."""
        self._advance(ms)
        self._low_closed = closed
        stop_at = self._drive.get("stop_at")
        if closed and self.seeking and stop_at is not None:
            self._is_at(stop_at, sure=True)
            self.seeking = False
            self._rest(None)
        elif closed and self.moving and self._motion.way < 0:
            self._met(stop_at)

    def high_switch(self, ms: int, closed: bool) -> None:
        """The high end stop's switch: the drive does not press against it."""
        self._advance(ms)
        self._high_closed = closed
        if closed and self.moving and self._motion.way > 0:
            self._met(self._drive.get("high_stop_at"))

    def _met(self, stop_at) -> None:
        """An end stop where none was expected: stand at once, and doubt a count that has it elsewhere."""
        if stop_at is None or abs(self.at - stop_at) > self._drive.get("switch_slack", 2):
            self.sure = False
        self._motion.at -= self._motion.owed  # not to be made any more
        self._motion.owed = 0
        self._rest("end")

    def _is_at(self, at: int, *, sure: bool) -> None:
        self._motion.at, self._motion.owed, self.sure, self._over_from = at, 0, sure, at

    def read_detectors(self, ms: int, forward_mv: float, reflected_mv: float, *, temperature_c) -> list[str]:
        """A reading of the directional coupler's two detectors has ended; the status to send."""
        forward = watts(forward_mv, self._drive["forward_points"])
        reflected = watts(reflected_mv, self._drive["reflected_points"])
        raw = (round(forward_mv, 1), round(reflected_mv, 1))
        return self.read(ms, forward, reflected, temperature_c=temperature_c, noise_db=None, raw_mv=raw)

    def read(
        self, ms: int, forward_w: float, reflected_w: float, *, temperature_c, noise_db, raw_mv=(None, None)
    ) -> list[str]:
        """A reading has ended; the status to send. One that is no number is none."""
        if not abs(forward_w) + abs(reflected_w) < 1e9:
            return []
        self._advance(ms)
        self._reading_ms, self._forward_w = ms, forward_w
        if self.moving and forward_w > self.limit_w:
            self._brake("power", ms)
        status = {
            "at": self.at,
            "sure": self.sure,
            "moving": self.moving,
            "to": self._motion.to,
            "over": [self._over_from, self.at],
            "forward_w": round(min(max(0.0, forward_w), MOST_POWER_W), 5),
            "reflected_w": round(min(max(0.0, reflected_w), MOST_POWER_W), 5),
            "forward_mv": raw_mv[0],
            "reflected_mv": raw_mv[1],
            "temperature_c": temperature_c,
            "noise_db": noise_db,
            "inhibit": self.inhibit,
            "low_stop": self._low_closed,
            "high_stop": self._high_closed,
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
        order = order_in(line)
        if order is None:
            stranger = seq_of_another_version(line)
            return [] if stranger is None else [self._answer(stranger, _OTHER_VERSION)]
        seq, do = order["seq"], order["do"]
        if do == "stop":
            self._newest = max(self._newest, seq)
            self._stop(ms)
            return [self._answer(seq, None)]
        if seq <= self._newest:
            return [self._answer(seq, "not newer than what was seen")]
        self._newest = seq
        lines = [self._answer(seq, self._obey(do, order, ms))]
        if do == "settings" and self._settings is not None:
            told = dict(self._settings.values)
            told.update(self.about)
            lines.append(self._line({"settings": told}))
        return lines

    def _stop(self, ms: int) -> None:
        if self.moving:
            self._brake("stop", ms)
        self.stopped_by = "stop"

    def _obey(self, do: str, order, ms: int) -> str | None:
        """Why an order was not obeyed, None if it was."""
        why = None
        if do == "heartbeat":
            self._heartbeat_ms = ms
        elif do == "inhibit":
            self.inhibit = order["on"]
        elif do == "limit":
            why = self._set_limit(order["tuning_power_w"], ms)
        elif do == "ends":
            why = self._set_ends(order["low"], order["high"], ms)
        elif do == "position":
            why = self._set_position(order["is"], order["sure"])
        elif do == "reference":
            why = self._seek(ms)
        elif do == "move":
            why = self._move(order["to"], order["speed"], ms)
        elif do in ("settings", "set") and self._settings is None:
            why = "this board keeps no settings"
        elif do == "set":
            why = self._set(order["key"], order["value"])
        return why

    def _set_limit(self, limit_w: float, ms: int) -> str | None:
        if not 0.0 <= limit_w <= MOST_LIMIT_W:
            return "the limit must be from 0 W to " + str(MOST_LIMIT_W) + " W"
        self.limit_w = float(limit_w)
        if self.moving and self._forward_w > self.limit_w:
            self._brake("power", ms)
        return None

    def _set_ends(self, low: int, high: int, ms: int) -> str | None:
        if low > high:
            return "the low end is above the high one"
        self.ends = (low, high)
        motion = self._motion
        leaves = motion.to is not None and not low <= motion.to <= high
        swings_out = motion.way > 0 and motion.reach() > high
        if self.moving and (swings_out or (not self.seeking and (leaves or motion.reach() < low))):
            self._brake("end", ms)
        return None

    def _set_position(self, at: int, sure: bool) -> str | None:
        if self.moving or self.owed:
            return "the drive is moving"
        if not self._note(at, sure):
            return _NO_FLASH
        self._is_at(at, sure=sure)
        return None

    def _set(self, key: str, value: object) -> str | None:
        if self.moving:
            return "the drive is moving"
        if self._forward_w > self.limit_w:
            return "forward power is above the tuning limit"
        why: str | None = self._settings.set(key, value)
        if why is None and key in ("reversed", "stop_at"):
            self.sure, self._is_unwritten = False, True  # the count was of another drive
        return why

    def _seek(self, ms: int) -> str | None:
        stop_at = self._drive.get("stop_at")
        if stop_at is None:
            return "this capacitor has no end stop"
        why = self._held_by(ms)
        if why is None and self._low_closed:
            self._is_at(stop_at, sure=True)
            self._rest(None)
        elif why is None:
            speed = self._drive.get("seek_speed", self._drive["speed"])
            why = self._begin(self.at - int(self._drive["travel"] * SEEK_SLACK), speed, ms)
            self.seeking = why is None
        return why

    def _move(self, to: int, speed: int | None, ms: int) -> str | None:
        if self.ends is None:
            return "no soft ends are set"
        low, high = self.ends
        if not low <= to <= high:
            return "beyond the soft ends"
        if self.seeking and self._drive.get("acceleration") is not None:
            return "the drive seeks its end stop"  # and may be beyond a soft end, where it must not swing out
        why = self._held_by(ms)
        if why is None and to < self.at and self._low_closed:
            why = "the low end stop is closed"
        if why is None and to > self.at and self._high_closed:
            why = "the high end stop is closed"
        own = self._drive["speed"]
        if why is None and (to != self.at or (self.moving and self._drive.get("acceleration") is not None)):
            return self._begin(to, own if speed is None else min(speed, own), ms)
        if why is None:
            if self.moving:
                self._rest(None)
            self.stopped_by = None
        return why

    def _held_by(self, ms: int) -> str | None:
        """What forbids to move now."""
        heart, reading = self._led_until()
        if ms >= heart:
            return "no heartbeat"
        if ms >= reading:
            return "no fresh reading"
        if self._forward_w > self.limit_w:
            return "forward power is above the tuning limit"
        return None

    def _begin(self, to: int, speed: int, ms: int) -> str | None:
        """Go to a count; the journal holds the doubt before the first step is made."""
        if self._journal.sure and not self._note(self.at, False):
            return _NO_FLASH
        self._motion.begin(to, ms, speed=speed, acceleration=self._drive.get("acceleration"))
        self.seeking, self.stopped_by, self._brakes_for = False, None, None
        self._is_unwritten = False  # a rest before it that was not written yet is over
        return None

    # What is said to the host.

    def _answer(self, seq: int, why: str | None) -> str:
        newest = None if self._newest < 0 else self._newest
        return self._line({"answers": seq, "ok": why is None, "why": why, "newest": newest})

    def _line(self, fields) -> str:
        self.sent += 1
        fields["v"] = VERSION
        fields["seq"] = self.sent
        return sealed(json.dumps(fields))
