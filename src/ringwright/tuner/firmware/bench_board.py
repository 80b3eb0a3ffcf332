# SPDX-License-Identifier: BSD-3-Clause
"""The firmware without a board: MicroPython's unix port, with motor, ring and meter simulated.

`micropython bench_board.py FACTS.json`, the protocol on standard input and output, or through a broker that the facts
name. The facts' `folder` is the flash: a program that is killed and started anew there is a board whose supply failed,
and the motor stands where it truly stood. Lines that begin with `~` are no messages but the experimenter's hand:
`~carrier 4.5` keys the transmitter, `~lose 30` makes the motor lose steps, `~jam 1` holds the rotor, `~full 1` fills
the flash, `~truth` answers with a line `~{...}` of how things really are.
"""

import json
import select
import sys
import time

from ringwright.tuner.board import Board
from ringwright.tuner.board_settings import Settings
from ringwright.tuner.firmware.broker import Broker
from ringwright.tuner.firmware.flash_files import JournalFiles, SettingsFiles, make_folder
from ringwright.tuner.firmware.loop import GAP_MS, GrowingClock, Loop
from ringwright.tuner.firmware.stream_lines import StreamLines

DRIVE = {
    "speed": 1000,
    "acceleration": 4000,
    "seek_speed": 500,
    "travel": 6000,
    "stop_at": -40,
    "forward_points": [[400.0, 4.0]],
    "reflected_points": [[400.0, 4.0]],
}
FACTS = {
    "folder": ".",
    "dip_at": 2600.0,
    "half_width": 40.0,
    "best_share": 0.005,
    "backlash": 10.0,
    "start": 1000,
    "low_switch_at": -40,
    "high_switch_at": None,
    "motor_reversed": False,
    "millivolts": 200.0,
    "zero_millivolts": 0.0,
    "noise": 0.01,
    "temperature_c": 20.0,
    "fold_back": True,
    "reading_ms": 20,
    "lives_s": 600,
    "drive": {},
    "broker": None,
}
"""`millivolts`: of a detector at 1 W, its voltage going with the square root; `share`: reflected part of the power."""


class BenchHardware:
    """What `pins` does, for a motor, a ring and a transmitter that are numbers."""

    def __init__(self, facts, values) -> None:
        self._facts, self._values = facts, values
        self._place = facts["folder"] + "/motor"
        self.motor = self._remembered(facts["start"])
        self._file = open(self._place, "w")  # noqa: SIM115 -- written at each step
        self.rotor = self.motor - facts["backlash"] / 2.0
        self.carrier = 0.0
        self.to_lose = self.pulses = 0
        self.is_jammed = False
        self.is_inhibited = True
        self._sums = [0.0, 0.0]
        self._count = 0
        self._dice = 1
        self._remember()

    def _remembered(self, otherwise: int) -> int:
        try:
            with open(self._place) as file:
                return int(file.read())
        except (OSError, ValueError):
            return otherwise

    def _remember(self) -> None:
        self._file.seek(0)
        self._file.write("%11d" % self.motor)  # noqa: UP031 -- quick enough for each step
        self._file.flush()

    def feed(self) -> None:
        """No watchdog here."""

    def step(self, pulses: int, pace: float, *, look=None) -> None:  # noqa: ARG002 -- a number needs no time
        """Turn the motor and what hangs on it; ends where `look` says so."""
        for _ in range(abs(pulses)):
            self._turn(1 if pulses > 0 else -1)
            if look is not None and look():
                break
        self._remember()

    def _turn(self, way: int) -> None:
        facts = self._facts
        self.pulses += 1
        if self.to_lose > 0:
            self.to_lose -= 1
            return
        self.motor += -way if self._values["reversed"] != facts["motor_reversed"] else way
        play = facts["backlash"] / 2.0
        if not self.is_jammed:
            self.rotor = min(max(self.rotor, self.motor - play), self.motor + play)

    def show(self, moving: bool, inhibit: bool) -> None:  # noqa: ARG002 -- nothing shows here
        """The contact to the transmitter."""
        self.is_inhibited = inhibit

    def switches(self):
        """Of the end stops."""
        low, high = self._facts["low_switch_at"], self._facts["high_switch_at"]
        return (
            None if low is None else self.motor <= low,
            None if high is None else self.motor >= high,
        )

    def powers(self) -> tuple[float, float]:
        """Forward and reflected power now [W]."""
        facts = self._facts
        x = (self.rotor - facts["dip_at"]) / facts["half_width"]
        share = 1.0 - (1.0 - facts["best_share"]) / (1.0 + x * x)
        forward = 0.0 if self.is_inhibited else self.carrier
        if facts["fold_back"]:
            forward *= min(1.0, 0.25 / share)
        return forward, forward * share

    def sample(self) -> None:
        """Look at the detectors once."""
        self._count += 1
        for place, power in enumerate(self.powers()):
            self._sums[place] += power

    def reading(self):
        """Means since the last reading [mV], and the temperature."""
        facts, count = self._facts, max(1, self._count)
        means = []
        for total in self._sums:
            self._dice = (self._dice * 1103515245 + 12345) % 2147483648
            noise = facts["noise"] * (self._dice / 1073741824.0 - 1.0)
            root = (total / count) ** 0.5
            means.append(facts["zero_millivolts"] + facts["millivolts"] * root * (1.0 + noise))
        self._sums, self._count = [0.0, 0.0], 0
        return means[0], means[1], facts["temperature_c"]


class FillingFlash(JournalFiles):
    """Files that may find no room."""

    is_full = False

    def write(self, sector: int, offset: int, octets: bytes) -> None:
        """Put octets where all is blank, while there is room."""
        if self.is_full:
            raise OSError(28)
        super().write(sector, offset, octets)


class BenchLines(StreamLines):
    """The line, on which the experimenter's hand reaches in."""

    def __init__(self, poll, hardware, store) -> None:
        super().__init__(sys.stdin.buffer, sys.stdout.buffer, poll)
        self._hardware, self._flash = hardware, store

    def received(self) -> list[str]:
        """Lines that are messages."""
        lines = super().received()
        for line in lines:
            if line.startswith("~"):
                self._meddle(line[1:].split())
        return [line for line in lines if not line.startswith("~")]

    def _meddle(self, words: list[str]) -> None:
        hardware, what = self._hardware, words[0] if words else ""
        amount = float(words[1]) if len(words) > 1 else 0.0
        if what == "carrier":
            hardware.carrier = amount
        elif what == "lose":
            hardware.to_lose = int(amount)
        elif what == "jam":
            hardware.is_jammed = amount > 0.0
        elif what == "full":
            self._flash.is_full = amount > 0.0
        elif what == "truth":
            forward, reflected = hardware.powers()
            truth = {
                "motor": hardware.motor, "rotor": hardware.rotor, "pulses": hardware.pulses, "forward_w": forward,
                "reflected_w": reflected, "inhibit": hardware.is_inhibited, "carrier": hardware.carrier,
            }  # fmt: skip
            self.say("~" + json.dumps(truth))


def read_facts(name: str):
    """The facts in a file over those that are usual."""
    facts = dict(FACTS)
    with open(name) as file:
        facts.update(json.load(file))
    return facts


def main(name: str) -> None:
    """Until the line ends, or a lifetime is over."""
    facts = read_facts(name)
    make_folder(facts["folder"])
    drive = dict(DRIVE)
    drive.update(facts["drive"])
    settings = Settings(SettingsFiles(facts["folder"]), drive)
    hardware = BenchHardware(facts, settings.values)
    store = FillingFlash(facts["folder"])
    clock = GrowingClock(time.ticks_ms, time.ticks_diff)  # type: ignore[attr-defined]
    board = Board(store, clock.ms(), settings.values, settings=settings, gap_ms=facts.get("gap_ms", GAP_MS))
    board.about["copy"] = "bench"
    poll = select.poll()
    lines = BenchLines(poll, hardware, store)
    links: list[object] = [lines]
    if facts["broker"] is not None:
        links.append(Broker(facts["broker"], poll, boots=board.boots))
    loop = Loop(board, hardware, links=links, clock=clock, reading_ms=facts["reading_ms"])
    while not lines.has_ended and clock.ms() < 1000 * facts["lives_s"]:
        loop.turn()
        poll.poll(1)


main(sys.argv[1])
