# SPDX-License-Identifier: BSD-3-Clause
"""The record of an antenna that was measured for years: 2,000 sweeps of 8 kB, 200 of them on one band."""

import tempfile
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

from ringwright.proof.estimate import Estimate
from ringwright.records.records import Records
from ringwright.records.result import Result

SWEEPS, ON_THE_BAND = 2000, 200
_START = datetime(2016, 5, 1, tzinfo=UTC)


def _add(records: Records, number: int) -> None:
    q = 600.0 * (1.0 - 1e-5 * number) * (1.0 + 0.01 * (number % 7))
    spread = 0.02
    records.add_sweep(
        b"%8d" % number * 1000,
        name="sweep.s1p",
        measured_at=_START + timedelta(days=number),
        design="format = 1\n",
        result=Result(
            frequency=Estimate.additive(7.1e6, 30.0),
            q_unloaded=Estimate.factor(q, spread),
            q_loaded=Estimate.factor(q / 2.0, spread),
            coupling=Estimate.factor(1.0, spread),
            swr_min=None,
            bandwidth_half_power=Estimate.factor(7.1e6 / q, spread),
            resistance_total=Estimate.factor(0.1, spread),
            efficiency_pct=Estimate.factor(20.0, spread),
        ),
        band="40m" if number % (SWEEPS // ON_THE_BAND) == 0 else "20m",
        temperature=10.0 + number % 20,
    )


_KEPT: list[tuple[tempfile.TemporaryDirectory[str], Path]] = []


def _workspace() -> Path:
    """Made once; gone with the process."""
    if not _KEPT:
        folder = tempfile.TemporaryDirectory()
        workspace = Path(folder.name)
        (workspace / "designs").mkdir()
        with Records.open(workspace) as records, records.writing():
            for number in range(SWEEPS):
                _add(records, number)
        _KEPT.append((folder, workspace))
    return _KEPT[0][1]


def bench_opening() -> Callable[[], object]:
    """Open a record of 2,000 sweeps, checked for damage."""
    workspace = _workspace()
    return lambda: Records.open(workspace).close()


def bench_listing() -> Callable[[], object]:
    """List 2,000 recorded sweeps."""
    records = Records.open(_workspace())
    return records.sweeps


def bench_adding() -> Callable[[], object]:
    """Record one sweep beside 2,000 others, forced to the disk."""
    records = Records.open(_workspace())
    numbers = count(10 * SWEEPS + 1)
    return lambda: _add(records, next(numbers))


def bench_trend() -> Callable[[], object]:
    """The trend of 200 recorded sweeps of a band."""
    records = Records.open(_workspace())
    return lambda: records.trend("40m")
