# SPDX-License-Identifier: BSD-3-Clause
"""A thousand random streams and orders of lines into the program's end: `python -m scripts.meddle_links [--times N]`.

Each time a session on a simulated twin is given octets of chance, cut anywhere, mixed with true lines of the board that
are kept back, repeated, put out of order or torn; a person asks for this and that meanwhile. Nothing may break, no act
may be unsafe by the monitor beside the twin, which also looks whether a count called sure is the motor's, and STOP
holds at the end.
"""

import argparse
import random
import sys
from functools import lru_cache

from ringwright.antenna.design import Design
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import Prediction
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_design
from ringwright.tuner.brain import Ask, FindReference, GoTo, Jog, Nudge, NudgeOver, PressStop, Release, Tune
from ringwright.tuner.clock import SetClock
from ringwright.tuner.compose import simulated
from ringwright.tuner.links.lines import LineCutter
from ringwright.tuner.session import TURN, Session
from ringwright.tuner.table import TuningTable

SECONDS = 12.0
ASKS: tuple[Ask, ...] = (
    GoTo(7.1e6),
    GoTo(10.12e6),
    Tune(7.05e6),
    Nudge(500.0),
    NudgeOver(),
    Jog(60_000),
    Jog(90_000, 400),
    FindReference(),
    PressStop(),
    Release(),
)


class Meddler:
    """Stands between the twin's end and the session's."""

    def __init__(self, rng: random.Random) -> None:
        self._rng, self._cutter = rng, LineCutter()
        self._kept: list[str] = []

    def lines(self, true: list[str]) -> list[str]:
        """What arrives in place of these."""
        rng, data = self._rng, b""
        for line in true:
            chance = rng.random()
            if chance < 0.1:
                self._kept.append(line)
                continue
            octets = line.encode() + b"\n"
            if chance < 0.2:
                octets = octets[: rng.randrange(len(octets))]
            data += octets * (2 if chance > 0.9 else 1)
        if rng.random() < 0.2:
            data += bytes(rng.randrange(256) for _ in range(rng.randrange(80)))
        if self._kept and rng.random() < 0.1:
            data += self._kept.pop(rng.randrange(len(self._kept))).encode() + b"\n"
        at = rng.randrange(len(data) + 1)
        return self._cutter.cut(data[:at]) + self._cutter.cut(data[at:])


def meddle(seed: int) -> list[str]:
    """One session; what was wrong."""
    rng = random.Random(seed)  # noqa: S311 -- chance, no secret
    clock = SetClock(wall_milliseconds=1_770_000_000_000)
    parts = simulated(*_design(), clock=clock, seed=seed)
    twin, meddler = parts.twin, Meddler(rng)
    assert twin is not None
    true_lines = twin.received
    twin.received = lambda: meddler.lines(true_lines())  # type: ignore[method-assign]
    session = Session(parts, TuningTable(law=parts.law))
    me = session.join("chance")
    world = twin.world
    while clock.now() < SECONDS:
        clock.advance_to(clock.now() + TURN)
        session.sign(me)
        if rng.random() < 0.02:
            session.ask(rng.choice(ASKS), viewer=me)
        session.turn()
    session.stop()
    for _ in range(40):
        clock.advance_to(clock.now() + TURN)
        session.turn()
    wrong = []
    if world.monitor.acts:
        wrong.append(f"seed {seed}: unsafe {world.monitor.acts}")
    board = world.board
    assert board is not None
    if board.moving:
        wrong.append(f"seed {seed}: moves after STOP")
    return wrong


@lru_cache(maxsize=1)
def _design() -> tuple[Design, Prediction]:
    design = shipped_design(TERRACE_OCTAGON)
    return design, predict(design)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--times", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    wrong = [words for number in range(given.times) for words in meddle(given.seed + number)]
    for words in wrong:
        print(words)
    print(f"{given.times} sessions of {SECONDS:.0f} s each, {len(wrong)} with something wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
