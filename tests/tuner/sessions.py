# SPDX-License-Identifier: BSD-3-Clause
"""Sessions on a simulated twin of the terrace octagon, turned by hand on a clock that the test moves."""

from functools import lru_cache
from typing import Any

from ringwright.antenna.design import Design
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import Prediction
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_design
from ringwright.tuner.brain import Phase
from ringwright.tuner.clock import SetClock
from ringwright.tuner.compose import simulated
from ringwright.tuner.session import TURN, Session
from ringwright.tuner.session_ended import Ended
from ringwright.tuner.table import TuningTable


@lru_cache(maxsize=1)
def octagon() -> tuple[Design, Prediction]:
    design = shipped_design(TERRACE_OCTAGON)
    return design, predict(design)


class Bench:
    """A session with everything that it told."""

    def __init__(self, seed: int = 3) -> None:
        self.clock = SetClock(wall_milliseconds=1_770_000_000_000)
        self.parts = simulated(*octagon(), clock=self.clock, seed=seed)
        self.tables: list[TuningTable] = []
        self.ended: list[Ended] = []
        self.said: list[dict[str, Any]] = []
        self.session = Session(
            self.parts,
            TuningTable(law=self.parts.law),
            on_table=self.tables.append,
            on_ended=self.ended.append,
        )
        self.session.listen(self.said.append)
        self.me = self.session.join("first page")

    @property
    def twin(self):
        assert self.parts.twin is not None
        return self.parts.twin

    @property
    def phase(self) -> Phase:
        return self.session.state.phase

    def run(self, seconds: float, *, is_there: bool = True) -> None:
        """Let time pass; the page that holds control gives its sign, or does not."""
        end = self.clock.now() + seconds
        while self.clock.now() < end:
            self.clock.advance_to(self.clock.now() + TURN)
            if is_there:
                self.session.sign(self.me)
            self.session.turn()

    def run_until(self, is_so, *, at_most: float, is_there: bool = True) -> float:
        """Let time pass until something is so; how long that took."""
        began = self.clock.now()
        while not is_so():
            assert self.clock.now() - began < at_most, f"still {self.phase} after {at_most} s"
            self.run(TURN, is_there=is_there)
        return self.clock.now() - began

    def words(self) -> list[str]:
        return [document["word"] for document in self.said if document["type"] == "told"]
