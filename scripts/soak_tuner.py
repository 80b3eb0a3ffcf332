# SPDX-License-Identifier: BSD-3-Clause
"""Tune a simulated twin for hours, and look at what is left: `python -m scripts.soak_tuner [--hours 8] [--seed 3]`.

A person changes band every few minutes, tunes, goes to full power for a while, lets it cool: the ring warms and cools
by ten kelvin and its resonance drifts. Afterwards no memory may have grown that goes on growing, the monitor beside the
twin must have seen no unsafe act, and the table must know its bands better than the design did: the dip lies nearer to
where the table has it, and takes fewer readings to find.
"""

import argparse
import gc
import json
import resource
import sys
from collections.abc import Callable, Mapping
from datetime import UTC, datetime

from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_design
from ringwright.tuner.brain import FindReference, Phase, Rise, Tune
from ringwright.tuner.clock import SetClock
from ringwright.tuner.compose import simulated
from ringwright.tuner.session import Session
from ringwright.tuner.session_ended import Ended
from ringwright.tuner.table import TuningTable

STEP = 0.05
"""Seconds of a turn."""
SETTLED = 0.1
"""Of the time, after which memory is first looked at."""
LEAK = 12
"""Objects per tuning by which memory may have grown since: each teaches the table a pair, up to its greatest number."""
LONGEST_SEARCH = 180.0


class Soak:
    """One session for hours. `off`: for each tuning how far the dip lay from where the table had it, and readings."""

    def __init__(self, *, hours: float, seed: int) -> None:
        self.hours, self.seed = hours, seed
        self.off: list[tuple[float, int]] = []
        self.tuned = self.tried = 0
        design = shipped_design(TERRACE_OCTAGON)
        self._clock = SetClock(wall_milliseconds=round(datetime(2026, 5, 1, tzinfo=UTC).timestamp() * 1e3))
        self._parts = simulated(design, predict(design), clock=self._clock, seed=self.seed)
        self.session = Session(self._parts, TuningTable(law=self._parts.law), on_ended=self._hear)
        self._me = self.session.join("a person")

    def run(self) -> dict[str, object]:
        """All of it; what was found."""
        bands = self._parts.ring.bands
        end, number = self.hours * 3600.0, 0
        base = None
        while self._clock.now() < end:
            band = bands[number % len(bands)]
            share = (0.5, 0.1, 0.9, 0.3, 0.7)[number // len(bands) % 5]
            self._tune(band.low + share * (band.high - band.low))
            number += 1
            if base is None and self._clock.now() > SETTLED * end:
                base = objects()
        twin = self._parts.twin
        assert twin is not None
        return {
            "schema": "ringwright.soak/1",
            "hours": self.hours,
            "tunings": self.tried,
            "tuned_pct": round(100.0 * self.tuned / max(self.tried, 1), 2),
            "grown_objects": objects() - (base or 0),
            "most_memory_bytes": most_memory(),
            "unsafe_acts": sum(twin.world.monitor.acts.values()),
            "pairs": len(self.session.table.points),
            "drift_learnt": self.session.curve.drift.is_learnt,
            **self._before_and_after(),
        }

    def _before_and_after(self) -> dict[str, float]:
        quarter = max(1, len(self.off) // 4)
        first, last = self.off[: len(self._parts.ring.bands)], self.off[-quarter:]

        def mean(rows: list[tuple[float, int]], column: int) -> float:
            return round(sum(abs(row[column]) for row in rows) / max(len(rows), 1), 2)

        return {
            "off_first_steps": mean(first, 0),
            "off_last_steps": mean(last, 0),
            "readings_first": mean(first, 1),
            "readings_last": mean(last, 1),
        }

    def _tune(self, frequency: float) -> None:
        session, world = self.session, self._parts.surroundings
        self.tried += 1
        if not session.state.is_sure:
            session.ask(FindReference(), viewer=self._me)
            self._until(lambda: session.state.is_sure, LONGEST_SEARCH)
        session.ask(Tune(frequency), viewer=self._me)
        self._pass(0.5)
        if self._until(lambda: session.state.phase in {Phase.TUNED, Phase.RESTING}, LONGEST_SEARCH):
            self.tuned += session.state.phase is Phase.TUNED
        if session.state.tuned is not None:
            session.ask(Rise(session.state.tuned.band.power_limit), viewer=self._me)
            self._pass(90.0)
        world.called_up()
        self._pass(60.0)

    def _until(self, is_so: Callable[[], bool], at_most: float) -> bool:
        end = self._clock.now() + at_most
        while not is_so() and self._clock.now() < end:
            self._pass(STEP)
        return is_so()

    def _pass(self, seconds: float) -> None:
        end = self._clock.now() + seconds
        while self._clock.now() < end:
            self._clock.advance_to(self._clock.now() + STEP)
            self.session.sign(self._me)
            self.session.turn()

    def _hear(self, ended: Ended) -> None:
        search = ended.search
        if search.dip is not None:
            self.off.append((search.dip.centre - search.expected, len(search.readings)))


def objects() -> int:
    """Objects alive that the collector knows: all that can hold others."""
    gc.collect()
    return len(gc.get_objects())


def most_memory() -> int:
    """The most that the process ever held [bytes]; on Linux, where the system counts in KiB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


def complaints(found: Mapping[str, object]) -> list[str]:
    """What is wrong with what was found."""
    number = {key: float(value) for key, value in found.items() if isinstance(value, int | float)}
    wrong = []
    if number["grown_objects"] > LEAK * number["tunings"]:
        wrong.append(f"{number['grown_objects']:.0f} objects more are alive")
    if number["unsafe_acts"]:
        wrong.append(f"{number['unsafe_acts']:.0f} unsafe acts")
    if number["tuned_pct"] < 95.0:
        wrong.append(f"{number['tuned_pct']:g} % tuned")
    if not number["off_last_steps"] < 0.5 * number["off_first_steps"]:
        wrong.append("the table knows no better than at first")
    return wrong


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--hours", type=float, default=8.0)
    parser.add_argument("--seed", type=int, default=3)
    asked = parser.parse_args()
    found = Soak(hours=asked.hours, seed=asked.seed).run()
    print(json.dumps(found))
    wrong = complaints(found)
    for line in wrong:
        print(line, file=sys.stderr)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
