# SPDX-License-Identifier: BSD-3-Clause
"""A drive as the terminal meets it: an errand is run turn by turn, and what happens is printed as it happens."""

import json
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click
import numpy as np

from ringwright.antenna.design_file import parse_design, read_text
from ringwright.cli.solving import predict_design
from ringwright.cli.terminal import Terminal
from ringwright.desk.tuning import NEVER_TOUCH, Connecting, DriveBench, begin_document
from ringwright.errors import NoSuchEntryError, OutOfRangeError
from ringwright.records.records import MADE_BY_NEW
from ringwright.tuner.brain import Ask, Band, Follow, GoTo, Nudge, NudgeOver, Phase, Rise, Tune
from ringwright.tuner.clock import Clock, QuickClock, SystemClock
from ringwright.tuner.design_ring import told_bands
from ringwright.tuner.links.address import Access
from ringwright.tuner.session import SHOW_EVERY, TURN
from ringwright.units import shown, to_si

LONGEST = 300.0
"""Seconds that one step of an errand may take."""
SAY_NUDGE = 0.2
NUDGE_ENDS = 10.0
"""Seconds in which a nudge that was let go has come to its end and rest."""
EDGE = 0.02
"""Of a band's width that a frequency to be learnt keeps from its edges."""
_ENDINGS = {"tuned", "arrived", "not found", "refused", "stuck", "meter silent", "stopped", "at power", "arc"}
_GOOD = {"tuned", "arrived", "at power"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Errand:
    """The design whose drive is to be moved, where that is (None: simulated), how what happens is printed.

    `frequency` and `power` as they were typed: what cannot be is refused before anything is connected.
    """

    design: Path
    access: Access | None
    as_json: bool
    frequency: str | None = None
    power: str | None = None


def run_errand(errand: Errand, work: Callable[["Drive"], bool]) -> bool:
    """Do something with the drive of a design; whether all of it was done."""
    text = read_text(errand.design)
    design = parse_design(text, source=str(errand.design))
    prediction = predict_design(design, errand.design)
    _hold_to(told_bands(prediction), errand)
    bench = DriveBench(workspace_of(errand.design), access=errand.access)
    name = errand.design.stem
    terminal = Terminal.of_stdout()
    _say_beginning(errand, terminal, name)
    end = bench.listen(_line if errand.as_json else _teller(terminal))
    try:
        drive = _connected(errand, bench, Connecting(design, prediction, name=name, text=text))
        drive.run(1.0)
        is_done = work(drive)
        drive.let_go_of_the_key()
        if not errand.as_json:
            end()  # the STOP with which every session ends is news only where the errand was broken off
    finally:
        bench.end()
        end()
    if errand.as_json:
        _line({"type": "end", "is_done": is_done})
    return is_done


def _connected(errand: Errand, bench: DriveBench, what: Connecting) -> "Drive":
    """The simulated drive turned by hand as fast as it goes, or the real one in its own thread and time."""
    if errand.access is not None:
        bench.begin(what, is_real=True)
        return Drive(bench, SystemClock(), turn=None)
    clock = QuickClock()
    session = bench.begin(what, clock=clock)

    def turn() -> None:
        clock.advance_to(clock.now() + TURN)
        session.turn()

    return Drive(bench, clock, turn=turn)


def _say_beginning(errand: Errand, terminal: Terminal, name: str) -> None:
    access = errand.access
    if errand.as_json:
        _line(begin_document(name, line=None if access is None else str(access.address)))
        return
    if access is None:
        terminal.say(f"The simulated drive of {name}; seconds are the simulation's, nothing transmits.")
    else:
        terminal.say(terminal.wrapped(f"The drive of {name} at {access.address}; Ctrl-C stops it.", first=""))
    terminal.say(terminal.wrapped(NEVER_TOUCH, first="\N{BLACK UP-POINTING TRIANGLE} "))


def workspace_of(design: Path) -> Path:
    """The workspace that a design file lies in, or the folder that it would be."""
    folder = design.resolve().parent
    return folder.parent if folder.name == MADE_BY_NEW else folder


class Drive:
    """A session as a terminal uses it. `turn`: what makes time pass by one turn, None where it passes by itself."""

    def __init__(self, bench: DriveBench, clock: Clock, *, turn: Callable[[], None] | None) -> None:
        session, assistant = bench.session, bench.assistant
        assert session is not None
        assert assistant is not None
        self._session, self.assistant, self._clock, self._let_pass = session, assistant, clock, turn or _wait
        self._me = session.join("a terminal")
        self._words: list[str] = []
        session.listen(self._hear)

    def tune_to(self, frequency: str, *, only_go: bool = False, power: str | None = None) -> bool:
        """Go to a typed frequency, and raise to a typed power."""
        hertz, watts = (
            _hertz(frequency, self._session.parts.ring.bands),
            None if power is None else to_si(power, "W"),
        )
        if not self._do(GoTo(hertz) if only_go else Tune(hertz)):
            return False
        return watts is None or self._do(Rise(watts))

    def learn(self, names: tuple[str, ...], *, each: int) -> bool:
        """Tune to some frequencies of each band."""
        bands = self._bands(names)
        found = [self._met(frequency) for band in bands for frequency in spread_over(band, each)]
        return all(found)

    def _met(self, frequency: float) -> bool:
        """Tune, then stop transmitting: nobody keys while the drive goes to the next frequency."""
        is_met = self._do(Tune(frequency))
        self._session.call_up()
        return is_met

    def follow(self, frequency: str, *, seconds: float) -> bool:
        """Tune, stop transmitting, follow the warmth."""
        if not self._do(Tune(_hertz(frequency, self._session.parts.ring.bands))):
            return False
        self._session.call_up()
        self._settle()
        self._session.ask(Follow(is_on=True), viewer=self._me)
        self._session.teller.note(
            f"Following the warmth for {seconds / 60.0:.3g} min; each move is told here. Key only where it stands."
        )
        self.run(seconds)
        return self._session.state.phase in {Phase.TUNED, Phase.RESTING}

    def nudge(self, frequency: str, *, by: float, hold: float | None) -> bool:
        """Go there, then beside it by some hertz: by a tap, or by a button held for some seconds."""
        hertz = _hertz(frequency, self._session.parts.ring.bands)
        seconds = TURN if hold is None else hold
        if not self._do(GoTo(hertz)):
            return False
        self._words.clear()
        end = self._clock.now() + seconds
        while self._clock.now() < end:
            self._session.ask(Nudge(by), viewer=self._me)
            self.run(min(SAY_NUDGE, end - self._clock.now()))
        self._session.ask(NudgeOver(), viewer=self._me)
        end = self._clock.now() + NUDGE_ENDS
        while self._clock.now() < end and not set(self._words) & {"nudged", "stopped", "refused"}:
            self._turn()
        self.run(SHOW_EVERY)
        return "nudged" in self._words and "refused" not in self._words

    def let_go_of_the_key(self) -> None:
        """Whoever was asked to transmit stops now: nobody looks at the ring any more."""
        if self._session.teller.is_called_to_key:
            self._session.call_up()
            self.run(2.0 * TURN)

    def run(self, seconds: float) -> None:
        """Let time pass."""
        end = self._clock.now() + seconds
        while self._clock.now() < end:
            self._turn()

    def run_until_waits(self) -> None:
        """Let time pass until the assistant waits for a person."""
        while not self.assistant.waits:
            self._turn()

    def _turn(self) -> None:
        self._session.sign(self._me)
        self._let_pass()

    def _settle(self) -> None:
        """Wait while the board is being told of a count that was put right."""
        end = self._clock.now() + LONGEST
        while self._session.state.asserted is not None and self._clock.now() < end:
            self._turn()

    def _do(self, ask: Ask) -> bool:
        """Ask for something and wait for its end; whether it was done."""
        self._settle()
        end = self._clock.now() + LONGEST
        self._words.clear()
        self._session.ask(ask, viewer=self._me)
        while self._clock.now() < end:
            self._turn()
            ended = _ENDINGS & set(self._words)
            if ended:
                return bool(ended & _GOOD)
        return False

    def _hear(self, document: dict[str, Any]) -> None:
        if document["type"] == "told":
            self._words.append(document["word"])

    def _bands(self, names: tuple[str, ...]) -> tuple[Band, ...]:
        bands = self._session.parts.ring.bands
        unknown = set(names) - {band.name for band in bands}
        if unknown:
            known = ", ".join(band.name for band in bands)
            raise NoSuchEntryError(f"the design has no band {shown(min(unknown))}; it has {known}")
        return tuple(band for band in bands if not names or band.name in names)


def _hold_to(bands: tuple[Band, ...], errand: Errand) -> None:
    """What was typed is one of the design's frequencies, and a power that its band takes."""
    if errand.frequency is None:
        return
    frequency = _hertz(errand.frequency, bands)
    (band, *_) = (band for band in bands if band.holds(frequency))
    if errand.power is not None and not 0.0 < to_si(errand.power, "W") <= band.power_limit:
        raise OutOfRangeError(
            f"--power {shown(errand.power)}: {band.name} takes more than 0 and up to {band.power_limit:.3g} W; choose "
            "less, or change the design"
        )


def seconds_of(option: str, text: str) -> float:
    """A typed time that can be waited for."""
    seconds = to_si(text, "s")
    if seconds <= 0.0:
        raise OutOfRangeError(f'{option} {shown(text)}: write a time above 0, as in "2 s"')
    return seconds


def change_of(option: str, text: str) -> float:
    """A typed change of the frequency [Hz], up or down."""
    change = to_si(text, "Hz")
    if change == 0.0:
        raise OutOfRangeError(f'{option} {shown(text)}: write how far, up or down, as in "-2 kHz"')
    return change


def _hertz(text: str, bands: tuple[Band, ...]) -> float:
    frequency = to_si(text, "Hz")
    if not any(band.holds(frequency) for band in bands):
        names = ", ".join(band.name for band in bands)
        raise OutOfRangeError(f"{shown(text)} lies in none of the design's bands ({names}); choose another")
    return frequency


def _wait() -> None:
    time.sleep(TURN)


def spread_over(band: Band, count: int) -> list[float]:
    """Frequencies over a band, evenly, the middle where there is one only."""
    if count == 1:
        return [(band.low + band.high) / 2.0]
    room = EDGE * (band.high - band.low)
    return [float(f) for f in np.linspace(band.low + room, band.high - room, count)]


def _line(document: dict[str, Any]) -> None:
    click.echo(json.dumps(document, allow_nan=False, ensure_ascii=False))


def _teller(terminal: Terminal) -> Callable[[dict[str, Any]], None]:
    def tell(document: dict[str, Any]) -> None:
        if document["type"] == "told":
            at = document["at_s"]
            first = "         " if at is None else f"{at:7.1f} s "
            terminal.say(terminal.wrapped(document["words"], first=first, rest=" " * 9))

    return tell


@contextmanager
def told_lines(*, as_json: bool) -> Iterator[Callable[[dict[str, Any]], None]]:
    """What prints documents of a stream, in words or as they are."""
    yield _line if as_json else _teller(Terminal.of_stdout())
