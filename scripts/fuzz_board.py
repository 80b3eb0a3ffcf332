# SPDX-License-Identifier: BSD-3-Clause
"""Garbage into the board's firmware: `python -m scripts.fuzz_board [--runs 1000] [--seed 1]`.

Half of the runs send streams of octets: true lines cut, flipped, doubled, run together, between plain noise. The other
half send true orders in an order of chance: late, repeated, lost. Meanwhile the transmitter is keyed at will, the end
stops are met, the program is held up for up to two seconds, and the supply fails at any octet of the flash.

What runs is the firmware's own loop and line cutter with the board's logic; the tuner's monitor watches it as it
watches the simulated twins. Ends with 1 if there was an unsafe act, or if a count that was called sure was not that of
the motor; an exception ends it at once.
"""

import argparse
import json
import random
import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field

from ringwright.tuner.board import Board
from ringwright.tuner.firmware.loop import GAP_MS, Loop
from ringwright.tuner.firmware.stream_lines import LineCutter
from ringwright.tuner.line_check import sealed
from ringwright.tuner.messages import (
    AskSettings,
    Ends,
    Heartbeat,
    Hello,
    HostLine,
    Inhibit,
    Limit,
    Move,
    Order,
    Position,
    Reference,
    SetSetting,
    Stop,
)
from ringwright.tuner.messages_text import host_text
from ringwright.tuner.monitor import Monitor, Stance
from ringwright.tuner.twin.flash import Flash, SupplyLost

TUNING_LIMIT = 5.0
LOW_STOP, HIGH_STOP = -40, 2040
DRIVE = {
    "speed": 1000, "acceleration": 4000, "seek_speed": 400, "travel": 2080, "stop_at": LOW_STOP,
    "high_stop_at": HIGH_STOP, "switch_slack": 0, "reversed": False, "forward_points": [[400.0, 4.0]],
    "reflected_points": [[400.0, 4.0]],
}  # fmt: skip
TO_METAL = 20
"""Steps from where a switch closes to where nothing goes further."""
START = 1000
BEGINS = (LOW_STOP + 60, START, HIGH_STOP - 60)
"""Where the motor truly is when a host declares the count of the start."""
EVENTS = 25


@dataclass
class Found:
    """What the runs came to. `moved`: steps made in all, so that nobody takes boards at rest for safe ones."""

    runs: int = 0
    moved: int = 0
    answered: int = 0
    boots: int = 0
    wrong: list[str] = field(default_factory=list)
    acts: Counter[str] = field(default_factory=Counter)

    @property
    def is_good(self) -> bool:
        """Whether nothing was wrong."""
        return not self.wrong and not self.acts


class Mast:
    """Motor, switches, transmitter and meter, as the firmware's loop sees its hardware."""

    def __init__(self, motor: int, *, monitor: Monitor, ticks: "Ticks") -> None:
        self._monitor, self._ticks = monitor, ticks
        self.motor, self.watts, self.moved = motor, 0.0, 0

    def feed(self) -> None:
        """No watchdog."""

    def step(self, pulses: int, pace: float, *, look: Callable[[], bool] | None = None) -> None:  # noqa: ARG002
        """Turn the motor; the stops are hard."""
        self.moved += abs(pulses)
        way = 1 if pulses > 0 else -1
        for _ in range(abs(pulses)):
            self._monitor.stepped(self._ticks.now / 1000.0, way)
            self.motor = min(max(self.motor + way, LOW_STOP - TO_METAL), HIGH_STOP + TO_METAL)
            if look is not None and look():
                return

    def show(self, moving: bool, inhibit: bool) -> None:
        """Nothing shows."""

    def switches(self) -> tuple[bool, bool]:
        """Of both end stops."""
        return self.motor <= LOW_STOP, self.motor >= HIGH_STOP

    def sample(self) -> None:
        """Readings are exact."""

    def reading(self) -> tuple[float, float, None]:
        """Voltages that the points make the true powers of."""
        self._monitor.board_read(self.watts)
        return 200.0 * self.watts**0.5, 0.0, None


class Ticks:
    """The clock of the loop."""

    def __init__(self) -> None:
        self.now = 0

    def ms(self) -> int:
        """Milliseconds."""
        return self.now


class Wire:
    """Octets to the board, and what it says to all who count."""

    def __init__(self, scene: "Scene") -> None:
        self._scene, self._cutter = scene, LineCutter()
        self.octets = b""

    def turn(self, ms: int, *, may_wait: bool) -> None:
        """A wire needs no care."""

    def received(self) -> list[str]:
        """Lines that came whole or not."""
        octets, self.octets = self.octets, b""
        lines = self._cutter.cut(octets)
        for line in lines:
            self._scene.hears(line)
        return lines

    def say(self, line: str) -> None:
        """A line of the board."""
        self._scene.said(line)

    def keep(self, line: str) -> None:
        """Nobody comes late."""


class Scene:
    """One board through all of it."""

    def __init__(self, rng: random.Random, found: Found) -> None:
        self.rng, self.found = rng, found
        self.ticks, self.flash = Ticks(), Flash()
        self.monitor = Monitor(tuning_limit=TUNING_LIMIT, count=0)
        self.mast = Mast(rng.choice(BEGINS), monitor=self.monitor, ticks=self.ticks)
        self.off = -self.mast.motor  # count less motor, as it was last declared
        self._orders: dict[int, Order] = {}
        self._starts(self.off)

    def _starts(self, before: int) -> None:
        """`before`: how far count and motor lay apart before the turn in which the supply failed."""
        self.board = Board(self.flash, self.ticks.now, dict(DRIVE), gap_ms=GAP_MS)
        self.wire = Wire(self)
        self.loop = Loop(self.board, self.mast, links=[self.wire], clock=self.ticks, reading_ms=50)
        self.monitor.board_started()
        self.found.boots += 1
        if self.board.sure and self.board.at - self.mast.motor == before:
            self.off = before  # what was said last did not reach the flash
        self._look()

    def remembers(self, line: HostLine) -> str:
        """The text of an order that may come later."""
        self._orders[line.seq] = line.order
        return host_text(line)

    def hears(self, line: str) -> None:
        """A line comes to the board."""
        self.monitor.reached_board(self.ticks.now / 1000.0, line)

    def said(self, line: str) -> None:
        """The board says a line; a position or an end stop that it took is the truth from then on."""
        stance = Stance(motor=self.mast.motor, resonance=7.1e6, bandwidth=7e3, bandwidth_steps=20.0)
        self.monitor.board_said(line, lambda: stance, None)
        answer = json.loads(line)
        if "answers" in answer:
            self.found.answered += 1
            order = self._orders.get(answer["answers"])
            if isinstance(order, Position) and answer["ok"]:
                self.off = order.at - self.mast.motor

    def turns(self, ms: int) -> None:
        """So many milliseconds later, once round."""
        self.ticks.now += ms
        now = self.ticks.now / 1000.0
        mast, board = self.mast, self.board
        self.monitor.forward_is(now, mast.watts)
        before = self.off
        try:
            self.loop.turn()
        except SupplyLost:
            self._see_end()
            self._starts(before)
            return
        self._see_end()
        if not board.moving:
            self.monitor.rested()
        self._look()

    def _see_end(self) -> None:
        """Where the switch of the low end stop has said where the drive is, it is there."""
        motor = self.mast.motor
        if self.board.sure and self.board.at == LOW_STOP and motor <= LOW_STOP:
            self.off = LOW_STOP - motor
            self.monitor.end_switch_closed(LOW_STOP, motor)

    def _look(self) -> None:
        self._see_end()
        board, owed, motor = self.board, self.board.owed, self.mast.motor
        if board.sure and board.at - owed - motor != self.off:
            self.found.wrong.append(f"count {board.at} called sure, motor {motor}, off {self.off}")


def _order(rng: random.Random) -> Order:
    """An order of chance, most of them such that the drive goes on."""
    low = rng.randrange(300)
    choices: tuple[tuple[Order, int], ...] = (
        (Move(rng.randrange(-20, 2100), rng.choice([None, None, 300])), 8),
        (Heartbeat(), 8),
        (Stop(), 2),
        (Ends(low, rng.randrange(low, 2000)), 2),
        (Limit(rng.choice([0.0, 1.0, 5.0, 5.0, 60.0])), 1),
        (Position(rng.randrange(100, 1900), rng.random() < 0.7), 1),
        (Reference(), 1),
        (Inhibit(rng.random() < 0.5), 1),
        (Hello(), 1),
        (AskSettings(), 1),
        (SetSetting("speed", rng.choice([0, 700, None])), 1),
    )
    return rng.choice([order for order, weight in choices for _ in range(weight)])


def _waits(scene: Scene) -> None:
    """Some time, in the course of which the transmitter may be keyed, the program held up, the supply fail."""
    rng = scene.rng
    if rng.random() < 0.15:
        scene.mast.watts = rng.choice([0.0, 2.0, 5.0, 7.0, 100.0])
    if rng.random() < 0.08:
        scene.flash.cut_after = rng.randrange(60)
    left = rng.randrange(300)
    while left > 0:
        late = rng.random() < 0.002
        step = rng.randrange(20, 2000) if late else rng.randrange(1, 5)
        scene.turns(step)
        left -= step


def _begins(scene: Scene) -> int:
    """Ends, limit and a heartbeat, so that there is something to go wrong; the greatest number used."""
    lines: list[Order] = [Ends(0, 2000), Limit(TUNING_LIMIT), Position(START, True), Heartbeat(), Move(1900)]
    for number, order in enumerate(lines, start=1):
        scene.wire.octets += (scene.remembers(HostLine(number, order)) + "\n").encode()
        scene.turns(51)
    return len(lines)


def orders_run(seed: int, found: Found) -> None:
    """True orders, each late by chance, some twice, some never."""
    scene = Scene(random.Random(seed), found)  # noqa: S311 -- a simulation keeps no secrets
    rng, number = scene.rng, _begins(scene)
    waiting: list[str] = []
    for _ in range(EVENTS):
        number += rng.choice([1, 1, 5])
        order = _order(rng)
        waiting += [scene.remembers(HostLine(number, order))] * rng.choice([0, 1, 1, 1, 2])
        rng.shuffle(waiting)
        for line in [waiting.pop() for _ in range(min(len(waiting), rng.randrange(3)))]:
            scene.wire.octets += (line + "\n").encode()
        _waits(scene)
    found.runs, found.moved = found.runs + 1, found.moved + scene.mast.moved
    found.acts += scene.monitor.acts


def _mangled(rng: random.Random, octets: bytes) -> bytes:
    """Octets after what a bad line may do to them."""
    spoilt = bytearray(octets)
    for _ in range(rng.randrange(4)):
        place = rng.randrange(len(spoilt) + 1)
        match rng.randrange(5):
            case 0:
                del spoilt[place : place + rng.randrange(1, 30)]
            case 1:
                spoilt[place:place] = rng.randbytes(rng.randrange(1, 12))
            case 2 if place < len(spoilt):
                spoilt[place] ^= 1 << rng.randrange(8)
            case 3:
                spoilt[place:place] = spoilt[: rng.randrange(60)]
            case 4:
                spoilt += rng.randbytes(rng.randrange(1500))
    return bytes(spoilt)


def stream_run(seed: int, found: Found) -> None:
    """Octets that were lines once, and such as never were."""
    scene = Scene(random.Random(seed), found)  # noqa: S311 -- a simulation keeps no secrets
    rng, number = scene.rng, _begins(scene)
    for _ in range(EVENTS):
        number += 1
        text = scene.remembers(HostLine(number, _order(rng)))
        if rng.random() < 0.1:  # nonsense, but well sealed
            text = sealed(
                f'{{"v":2,"seq":{rng.choice(["1e999", "[]", "7"])},"do":{rng.choice(["[]", "7"])}}}'
            )
        octets = (text + "\n").encode()
        scene.wire.octets += octets if rng.random() < 0.5 else _mangled(rng, octets)
        _waits(scene)
    found.runs, found.moved = found.runs + 1, found.moved + scene.mast.moved
    found.acts += scene.monitor.acts


def fuzz(runs: int, seed: int) -> dict[str, Found]:
    """Both kinds of runs."""
    found = {"byte streams": Found(), "message orders": Found()}
    for number in range(runs):
        stream_run(seed * 1_000_003 + number, found["byte streams"])
        orders_run(seed * 1_000_003 + number, found["message orders"])
    return found


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    parser.add_argument("--runs", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    found = fuzz(asked.runs, asked.seed)
    for kind, what in found.items():
        print(
            f"{what.runs} {kind}: {what.moved} steps, {what.answered} answers, {what.boots} starts, "
            f"{sum(what.acts.values())} unsafe acts {dict(what.acts)}, {len(what.wrong)} wrong counts {what.wrong[:3]}"
        )
    return 0 if all(what.is_good for what in found.values()) else 1


if __name__ == "__main__":
    sys.exit(main())
