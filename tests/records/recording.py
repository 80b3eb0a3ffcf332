# SPDX-License-Identifier: BSD-3-Clause
"""Workspaces, results and sweeps made up for the tests of the record."""

import sqlite3
from datetime import UTC, datetime, timedelta
from pathlib import Path

from ringwright.proof.estimate import Estimate, Flag
from ringwright.records.records import Added, Records
from ringwright.records.result import Result
from ringwright.records.tuning import Found, Outcome, TraceReading, Tuning
from ringwright.tuner.table_point import Point

START = datetime(2026, 5, 1, 12, tzinfo=UTC)
DESIGN = 'format = 1\nname = "Terrace octagon"\n'
TABLES = {
    "design": "sha256",
    "sweep": "id",
    "result": "id",
    "note": "id",
    "tuning_table": "name",
    "tuning_pair": "table_name, number",
    "report": "id",
    "tuning": "id",
}


def workspace_in(folder: Path) -> Path:
    """As `ringwright new` makes it, less the design."""
    for name in ("designs", "sweeps", "sheets"):
        (folder / name).mkdir(parents=True)
    return folder


def result(*, q: float = 600.0, frequency: float = 7.1e6, spread: float = 0.02) -> Result:
    """What a sweep might say."""
    return Result(
        frequency=Estimate.additive(frequency, 30.0),
        q_unloaded=Estimate.factor(q, spread),
        q_loaded=Estimate.factor(q / 2.0, spread),
        coupling=Estimate.factor(1.1, spread),
        swr_min=Estimate(value=1.1, low=1.0, high=1.2),
        bandwidth_half_power=Estimate.factor(frequency / q, spread),
        resistance_total=Estimate.factor(0.1, spread),
        efficiency_pct=Estimate.factor(20.0, 0.2),
        flags=(Flag(code="few_points", text="4 points lie in the dip, 5 or more tell better"),),
    )


def add(
    records: Records,
    content: bytes = b"# Hz S RI R 50\n",
    *,
    days: float = 0.0,
    name: str = "sweep.s1p",
    q: float = 600.0,
    frequency: float = 7.1e6,
    spread: float = 0.02,
    band: str | None = "40m",
    build: str | None = None,
    temperature: float | None = None,
    design: str = DESIGN,
) -> Added:
    """Record a sweep that might have been."""
    return records.add_sweep(
        content,
        name=name,
        measured_at=START + timedelta(days=days),
        design=design,
        result=result(q=q, frequency=frequency, spread=spread),
        band=band,
        build=build,
        temperature=temperature,
    )


def point(position: int = 9_000, frequency: float = 7.1e6) -> Point:
    """A pair of a tuning table that might have been measured."""
    return Point(position=position, frequency=frequency, at=START, temperature=18.5)


def tuning(*, days: float = 0.0, frequency: float = 7.1e6, outcome: Outcome = Outcome.TUNED) -> Tuning:
    """A tuning that might have been."""
    trace = tuple(
        TraceReading(after=0.1 * k, position=8_990 + 2 * k, reflection=0.1 * abs(k - 5), forward=4.0)
        for k in range(10)
    )
    return Tuning(
        at=START + timedelta(days=days),
        table="octagon",
        band="40m",
        frequency=frequency,
        outcome=outcome,
        found=Found(expected=8_996.5, position=9_000, swr=1.1, carrier=1.2, temperature=18.5, trace=trace),
    )


def rows_of(workspace: Path) -> dict[str, list[tuple[object, ...]]]:
    """Every row of every table, read by SQLite without our code."""
    link = sqlite3.connect(workspace / "records.sqlite")
    try:
        names = {name for (name,) in link.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        assert names == set(TABLES)
        return {
            table: link.execute(f"SELECT * FROM {table} ORDER BY {key}").fetchall()
            for table, key in TABLES.items()
        }
    finally:
        link.close()


def integrity(workspace: Path) -> str:
    """SQLite's own verdict on the file, foreign keys included."""
    link = sqlite3.connect(workspace / "records.sqlite")
    try:
        assert link.execute("PRAGMA foreign_key_check").fetchall() == []
        return str(link.execute("PRAGMA integrity_check").fetchone()[0])
    finally:
        link.close()
