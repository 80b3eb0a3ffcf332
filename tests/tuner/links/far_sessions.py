# SPDX-License-Identifier: BSD-3-Clause
"""A session over a real line to the simulated twin of the terrace octagon, in real time, a person at its key."""

from functools import lru_cache
from pathlib import Path
from typing import Any

from ringwright.antenna.design import Design
from ringwright.antenna.design_file import parse_design
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import Prediction
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from ringwright.tuner.brain import Phase
from ringwright.tuner.clock import SetClock, SystemClock
from ringwright.tuner.compose import real, simulated
from ringwright.tuner.device import Link
from ringwright.tuner.parts import JournalFile, JournalInMemory, Parts, Surroundings
from ringwright.tuner.session import Session
from ringwright.tuner.table import TuningTable
from ringwright.tuner.twin.world import World
from ringwright.tuner.twin_link import TwinLink
from tests.tuner.links.far_ends import SerialPlace, TwinAtTheFarEnd, until


def quick_text(bands: str = '["60m", "30m"]') -> str:
    """The terrace octagon with nothing around it and a drive in a hurry."""
    text = shipped_text(TERRACE_OCTAGON).replace('["60m", "40m", "30m"]', bands)
    text = text[: text.index("[site]")] + '[site]\nearth = "free space"\n'
    return text.replace("reduction = 5\n", 'reduction = 5\nspeed = "1500 steps/s"\n')


BOTH = '["60m", "30m"]'


@lru_cache(maxsize=2)
def quick_design(bands: str = BOTH) -> tuple[Design, Prediction]:
    design = parse_design(quick_text(bands), source="quick")
    return design, predict(design)


def far_parts(seed: int = 1) -> tuple[World, TwinLink]:
    """A twin, and who is at its key; nobody looks at this end of its own cable."""
    twin = simulated(*quick_design(), clock=SetClock(), seed=seed).twin
    assert twin is not None
    return twin.world, twin


class PersonAtTheFarEnd:
    """Hears what a session says, and does it at the twin's transmitter."""

    def __init__(self, board: TwinAtTheFarEnd, twin: TwinLink) -> None:
        self._board, self._twin = board, twin

    def invited(self, power: float) -> None:
        self._board.do(lambda _: self._twin.invited(power))

    def called_up(self) -> None:
        self._board.do(lambda _: self._twin.called_up())

    def set_frequency(self, frequency: float) -> None:
        self._board.do(lambda _: self._twin.set_frequency(frequency))


class OnACable:
    """A twin on a pseudo-terminal, and the person beside it."""

    def __init__(self, folder: Path, *, seed: int = 1) -> None:
        world, twin = far_parts(seed)
        self.place = SerialPlace(folder)
        self.board = TwinAtTheFarEnd(world, say=self.place.say)
        self.place.hear = self.board.hear
        self.person = PersonAtTheFarEnd(self.board, twin)

    def close(self) -> None:
        self.board.close()
        self.place.close()


class FarSession:
    """A running session and what it told."""

    def __init__(
        self,
        link: Link,
        surroundings: Surroundings,
        *,
        journal: JournalFile | None = None,
        wall: int | None = None,
        bands: str = BOTH,
    ) -> None:
        made = real(
            *quick_design(bands), link=link, clock=WallClock(wall), journal=journal or JournalInMemory()
        )
        self.parts = Parts(
            **{
                name: getattr(made, name)
                for name in ("link", "clock", "journal", "ring", "law", "design", "twin")
            },
            surroundings=surroundings,
        )
        self.said: list[dict[str, Any]] = []
        self.session = Session(self.parts, TuningTable(law=self.parts.law))
        self.session.listen(self.said.append)
        self.session.start()
        self.me = self.session.join("a test")

    def close(self) -> None:
        """Let go of the line, or whoever gets a terminal of the same name next finds it taken."""
        self.session.close()

    @property
    def phase(self) -> Phase:
        return self.session.state.phase

    def words(self) -> list[str]:
        return [each["word"] for each in [*self.said] if each["type"] == "told"]

    def notes(self) -> list[str]:
        return [each["words"] for each in [*self.said] if each.get("word") == "note"]

    def until(self, is_so) -> None:
        def look() -> bool:
            self.session.sign(self.me)
            return bool(is_so())

        until(look)

    def do(self, ask, word: str) -> None:
        """Ask, and wait until that was told."""
        before = len(self.said)
        self.session.ask(ask, viewer=self.me)
        self.until(lambda: any(each.get("word") == word for each in self.said[before:]))


class WallClock(SystemClock):
    """The computer's, whose wall clock somebody may have set."""

    def __init__(self, wall: int | None) -> None:
        self._wall = wall

    def wall_milliseconds(self) -> int:
        return super().wall_milliseconds() if self._wall is None else self._wall
