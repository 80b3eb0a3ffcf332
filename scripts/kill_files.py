# SPDX-License-Identifier: BSD-3-Clause
"""Kill a process while it keeps things, again and again, and look at what is left: `python -m scripts.kill_files`.

How many times may follow. The child saves one design, keeps one tuning table, appends to the position's journal and to
a search's solutions and writes over a sheet, in turns, and says so after each. It is killed (SIGKILL) at a random
instant. Afterwards each must be whole, and what was said to be kept, or something later, must be there; then another
process must find its way. A kill is not a power cut. Needs fork.
"""

import itertools
import os
import random
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing, suppress
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

import numpy as np

from ringwright.choose.rings.node import Node
from ringwright.cli.files import write_bytes
from ringwright.desk import design_folder
from ringwright.desk.design_folder import DesignFolder
from ringwright.desk.search_journal import SearchJournal
from ringwright.records.records import Records
from ringwright.records.tuning import TuningPairs
from ringwright.tuner.journal import Kept, journal_line, read_journal
from ringwright.tuner.journal_file import JournalOnDisk
from ringwright.tuner.table_point import Point
from scripts.kill_records import killed, new_workspace

ROUNDS = 4
"""Kills fall within the time that so many take undisturbed."""
PAIRS = 40
_ONES = np.ones((2, 2, 2))
_NODE = Node(
    outside=_ONES.astype(np.complex128),
    ring=_ONES,
    coupling=_ONES,
    joints=_ONES,
    sky=_ONES,
    metal=_ONES,
    fields=_ONES,
)


def design(number: int) -> str:
    """Some kilobytes that say which they are, at both ends."""
    return f"# {number}\n" + "# a comment\n" * 400 + f"# {number}\n"


def table(number: int) -> TuningPairs:
    """Pairs that say which they are, every one."""
    at = datetime(2026, 5, 1, tzinfo=UTC)
    points = tuple(Point(position=number, frequency=7e6 + k, at=at) for k in range(PAIRS))
    return TuningPairs(points=points, site="home")


def keep(workspace: Path, said: Callable[[bytes], object]) -> None:
    """Round after round, until killed; each round says its number when all of it is kept."""
    folder = DesignFolder(workspace)
    before = None
    with (
        Records.open(workspace) as records,
        closing(SearchJournal(workspace / "searches" / "a.jsonl")) as found,
        closing(JournalOnDisk(workspace / "position.journal")) as journal,
    ):
        for number in itertools.count(1):
            folder.write("ring", design(number), over=before)
            before = design(number)
            records.keep_table("octagon", table(number))
            journal.append(journal_line(Kept(number, True, None, 1), number))
            found.put(str(number), _NODE)
            write_bytes(workspace / "sheets" / "sheet.pdf", design(number).encode())
            said(number.to_bytes(4, "big"))


class Enough(Exception):  # noqa: N818 -- nothing is wrong
    """All rounds that are wanted are done."""


def seconds(workspace: Path) -> float:
    """How long some rounds take."""

    def said(number: bytes) -> None:
        if int.from_bytes(number, "big") == ROUNDS:
            raise Enough

    start = time.monotonic()
    with suppress(Enough):
        keep(workspace, said)
    return time.monotonic() - start


def complaints(workspace: Path, said: int) -> list[str]:
    """What is wrong with what was left, when `said` rounds were said to be kept."""
    found = []
    for name, path in (
        ("design", workspace / "designs/ring.toml"),
        ("sheet", workspace / "sheets/sheet.pdf"),
    ):
        text = path.read_text() if path.exists() else ""
        number = int(text.split("\n", 1)[0].removeprefix("# ")) if text else 0
        if text != (design(number) if number else ""):
            found.append(f"the {name} is not whole")
        if not said <= number <= said + 1:
            found.append(f"the {name} is of round {number}, {said} were kept")
    with Records.open(workspace) as records:
        pairs = records.table("octagon").points
    if len({point.position for point in pairs}) > 1 or len(pairs) not in (0, PAIRS):
        found.append("the tuning table is not whole")
    if not said <= (pairs[0].position if pairs else 0) <= said + 1:
        found.append(f"the tuning table is not of round {said} or the next")
    journal = workspace / "position.journal"
    remembered = read_journal(journal.read_bytes() if journal.exists() else b"")
    if not remembered.is_whole or not said <= remembered.number <= said + 1:
        found.append(f"the journal ends with {remembered.number}, {said} were kept")
    with closing(SearchJournal(workspace / "searches" / "a.jsonl")) as solutions:
        lost = [number for number in range(1, said + 1) if solutions.get(str(number)) is None]
    return found + [f"solution {number} is lost" for number in lost]


def goes_on(workspace: Path) -> list[str]:
    """Whether the next process can keep things."""
    folder = DesignFolder(workspace)
    folder.write("ring", design(0), over=folder.read_if_there("ring"))
    with closing(JournalOnDisk(workspace / "position.journal")) as journal:
        number = read_journal(journal.read()).number + 1
        journal.append(journal_line(Kept(0, True, None, 1), number))
        again = read_journal(journal.read())
    return [] if folder.read("ring") == design(0) and again.number == number else ["the next process is lost"]


def with_sheets(folder: Path) -> Path:
    """A new workspace."""
    (new_workspace(folder) / "sheets").mkdir()
    return folder


def main(times: int) -> int:
    rng = random.Random(times)  # noqa: S311 -- instants, no secrets
    wrong, rounds = 0, []
    design_folder.ABANDONED = (
        0.0  # nobody else saves here: what lies there was left by the one that was killed
    )
    with tempfile.TemporaryDirectory() as name:
        longest = seconds(with_sheets(Path(name) / "first"))
        for number in range(times):
            workspace = with_sheets(Path(name) / str(number))
            reading, writing = os.pipe()
            killed(partial(keep, workspace, partial(os.write, writing)), rng.uniform(0.0, longest))
            os.close(writing)
            with os.fdopen(reading, "rb") as pipe:
                said = len(pipe.read()) // 4
            time.sleep(0.001)
            found = complaints(workspace, said) + goes_on(workspace)
            for complaint in found:
                print(f"kill {number}: {complaint}")
            wrong += bool(found)
            rounds.append(said)
    print(f"{times} kills: after {min(rounds)} to {max(rounds)} rounds; {wrong} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000))
