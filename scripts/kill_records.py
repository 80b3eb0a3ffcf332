# SPDX-License-Identifier: BSD-3-Clause
"""Kill a process while it records, again and again, and look at what is left: `python -m scripts.kill_records [TIMES]`.

Half of the times the child takes an exported folder in, half of the times it adds sweeps one by one, each together
with a tuning, and says so after each. It is killed (SIGKILL) at a random instant of the time that it needs. Afterwards
SQLite's own integrity check must be "ok", every sweep must have its original file with the right checksum, its result,
its design and its tuning, an import must be there whole or not at all, and what was said to be recorded must be there.
A kill is not a power cut. Needs fork.
"""

import os
import random
import signal
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from pathlib import Path

from ringwright.proof.estimate import Estimate
from ringwright.records.migrations import MIGRATIONS
from ringwright.records.records import Records
from ringwright.records.result import Result
from ringwright.records.tuning import Found, Outcome, TraceReading, Tuning

SWEEPS = 12
SPAN = 1.3
"""Of the time that the work takes undisturbed: a new process is slower at first."""
_ONE = Estimate(value=1.0, low=0.9, high=1.1)
_RESULT = Result(
    frequency=Estimate.exact(7.1e6),
    q_unloaded=Estimate.factor(600.0, 0.02),
    q_loaded=Estimate.factor(300.0, 0.02),
    coupling=_ONE,
    swr_min=None,
    bandwidth_half_power=Estimate.factor(12e3, 0.02),
    resistance_total=_ONE,
    efficiency_pct=_ONE,
)


def content(number: int) -> bytes:
    """A sweep file of some kilobytes."""
    return b"# Hz S RI R 50\n" + b"%d 0.1 0.2\n" % number * 300


def record(workspace: Path, acknowledge: Callable[[int], object]) -> None:
    """Add sweeps one by one; say so after each."""
    with Records.open(workspace) as records:
        for number in range(SWEEPS):
            at, design = datetime(2026, 5, 1, tzinfo=UTC) + timedelta(days=number), f"format = 1 # {number}\n"
            with records.writing():
                records.add_sweep(
                    content(number),
                    name="sweep.s1p",
                    measured_at=at,
                    design=design,
                    result=_RESULT,
                    band="40m",
                )
                records.add_tuning(tuning(at), design=design)
            acknowledge(number)


def tuning(at: datetime) -> Tuning:
    """With a trace of some kilobytes."""
    reading = TraceReading(after=1.0, position=9_000, reflection=0.1, forward=4.0)
    return Tuning(
        at=at,
        table="octagon",
        band="40m",
        frequency=7.1e6,
        outcome=Outcome.TUNED,
        found=Found(expected=9_000.0, trace=(reading,) * 100),
    )


def take_in(workspace: Path, exported: Path) -> None:
    """Import."""
    with Records.open(workspace) as records:
        records.import_(exported)


def killed(task: Callable[[], object], after: float) -> None:
    """Run a task in a child that is killed `after` seconds, unless it is done before."""
    child = os.fork()
    if child == 0:
        try:
            task()
        finally:
            os._exit(0)
    time.sleep(after)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)


def complaints(workspace: Path, said: set[int], *, is_whole: bool) -> list[str]:
    """What is wrong with what was left; asked of SQLite and of the files, not of our code."""
    path = workspace / "records.sqlite"
    if not path.exists():
        return ["nothing is there of what was said to be recorded"] if said else []
    link = sqlite3.connect(path)
    try:
        found = [f"integrity: {row}" for (row,) in link.execute("PRAGMA integrity_check") if row != "ok"]
        found += [f"foreign key: {row}" for row in link.execute("PRAGMA foreign_key_check")]
        (version,) = link.execute("PRAGMA user_version").fetchone()
        if version < len(MIGRATIONS):  # killed while the tables were made: nothing was recorded yet
            tables = link.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
            return found + ["tables of no version"] * bool(tables and not version) + ["lost"] * bool(said)
        rows = dict(link.execute("SELECT sha256, file FROM sweep"))
        joined = link.execute(
            "SELECT count(*) FROM sweep JOIN result ON sweep.id = sweep JOIN design ON design = design.sha256"
        ).fetchone()[0]
        tuned = link.execute("SELECT count(*) FROM tuning JOIN design ON design = design.sha256").fetchone()[
            0
        ]
    finally:
        link.close()
    if joined != len(rows):
        found.append(f"{len(rows)} sweeps, {joined} with their result and design")
    if tuned != len(rows):
        found.append(f"{len(rows)} sweeps, {tuned} tunings")
    for checksum, file in rows.items():
        original = workspace / "sweeps" / file
        if not original.exists() or sha256(original.read_bytes()).hexdigest() != checksum:
            found.append(f"{file} is not the file that was recorded")
    found += [f"sweep {n} is lost" for n in said if sha256(content(n)).hexdigest() not in rows]
    if is_whole and len(rows) not in (0, SWEEPS):
        found.append(f"{len(rows)} of {SWEEPS} sweeps of an import")
    return found


def killed_while_adding(workspace: Path, after: float) -> list[str]:
    reading, writing = os.pipe()
    killed(lambda: record(workspace, lambda n: os.write(writing, bytes([n]))), after)
    os.close(writing)
    with os.fdopen(reading, "rb") as said:
        return complaints(workspace, set(said.read()), is_whole=False)


def killed_while_importing(workspace: Path, exported: Path, after: float) -> list[str]:
    killed(lambda: take_in(workspace, exported), after)
    return complaints(workspace, set(), is_whole=True)


def new_workspace(folder: Path) -> Path:
    for name in ("designs", "sweeps"):
        (folder / name).mkdir(parents=True)
    return folder


def seconds(task: Callable[[], object]) -> float:
    start = time.monotonic()
    task()
    return time.monotonic() - start


def main(times: int) -> int:
    rng = random.Random(times)  # noqa: S311 -- instants, no secrets
    wrong = 0
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        source = new_workspace(folder / "source")
        adding = seconds(lambda: record(source, lambda _: None))
        with Records.open(source) as records:
            records.export(folder / "exported")
        importing = seconds(lambda: take_in(new_workspace(folder / "first"), folder / "exported"))
        left: dict[str, int] = {}
        for number in range(times):
            workspace = new_workspace(folder / str(number))
            if number % 2:
                found = killed_while_adding(workspace, rng.uniform(0.0, SPAN * adding))
            else:
                found = killed_while_importing(
                    workspace, folder / "exported", rng.uniform(0.0, SPAN * importing)
                )
            state = state_of(workspace)
            left[state] = left.get(state, 0) + 1
            for complaint in found:
                print(f"kill {number}: {complaint}")
            wrong += bool(found)
            with Records.open(workspace) as records:  # and the next program finds its way
                records.import_(folder / "exported")
                wrong += len(records.sweeps()) != SWEEPS or bool(records.lost())
    print(
        f"{times} kills: {', '.join(f'{count} {state}' for state, count in sorted(left.items()))}; {wrong} wrong"
    )
    return 1 if wrong else 0


def state_of(workspace: Path) -> str:
    """How far it had come, so that one sees that the kills fell everywhere."""
    kept = len([path for path in (workspace / "sweeps").iterdir() if path.suffix == ".s1p"])
    return {0: "before the first file", SWEEPS: "after the last file"}.get(kept, "in between")


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000))
