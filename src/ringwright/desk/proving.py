# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps set against a draft, as a job that can be watched and stopped: each sweep first, then all of them together."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from ringwright.antenna.design import Design
from ringwright.antenna.prediction import Prediction
from ringwright.antenna.solution import SolutionMemory
from ringwright.desk.jobs import Job, Progress
from ringwright.desk.sweep_columns import headings_of
from ringwright.desk.sweep_files import SweepFiles
from ringwright.errors import NameRefusedError, SweepFileError, SweepFitError
from ringwright.proof.columns import Columns
from ringwright.proof.comparison import Comparison, prove_sweep
from ringwright.proof.diagnosis import diagnose
from ringwright.proof.measured import Measured
from ringwright.proof.next_measurement import next_measurements
from ringwright.proof.proving import Proof
from ringwright.proof.readings import parse_readings
from ringwright.proof.sweep import Sweep

BEFORE_TOUCHING: Final = (
    "Before you touch the ring, a joint or the capacitor: transmitter off and cable apart, so that nobody can key it. "
    "The capacitor carries kilovolts at a few watts, and they burn."
)
ANALYSER: Final = (
    "Never a transmitter into an analyser: connect one or the other, and look twice which. A transmitter nearby, too, "
    "can destroy the analyser's input."
)
WEATHER: Final = (
    "No measuring with a thunderstorm about. Lead static charge off before the cable goes to the analyser: touch its "
    "conductors together."
)
AUTHORITY: Final = (
    "Ladders, roofs, solder fumes and earthing have their own rules: your local codes decide, and licensed practice "
    "goes before this page."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivered:
    """What a person hands over: a file's name and bytes, typed readings, or (`content` None) a file of the folder.

    `measured_at` None: not known, or the moment at which the folder's file was last written. `columns` name those of a
    table, as in "swr=3"; the workspace remembers them.
    """

    name: str
    content: bytes | None
    is_readings: bool = False
    measured_at: datetime | None = None
    columns: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """One of them: the sweep against its band and the bytes it was read from, or one sentence why it could not be.

    `headings`: those of a table, whose columns a person may name.
    """

    name: str
    content: bytes = b""
    sweep: Sweep | None = None
    comparison: Comparison | None = None
    problem: str | None = None
    headings: tuple[str, ...] = ()


def proving(
    design: Design,
    delivered: Sequence[Delivered],
    *,
    folder: SweepFiles,
    known: Callable[[Design], Prediction],
) -> Job[Proof | None]:
    """The work, not started. Its one finding is the tuple of `Judged`, which comes long before the diagnosis.

    Its result is None where no sweep could be read.
    """

    def work(job: Job[Proof | None]) -> Proof | None:
        prediction = known(design)
        judged = judge(delivered, folder, design=design, prediction=prediction)
        job.report(Progress(doing="weighing the suspects"), judged)
        good = [(each.sweep, each.comparison) for each in judged if each.sweep and each.comparison]
        return _proof(job, good, design=design, prediction=prediction) if good else None

    return Job(work)


def judged_by(job: Job[Proof | None]) -> tuple[Judged, ...] | None:
    """What a job found of each sweep; None as long as it has not come to it."""
    found = job.findings
    return found[0] if found and isinstance(found[0], tuple) else None


def judge(
    delivered: Sequence[Delivered], folder: SweepFiles, *, design: Design, prediction: Prediction
) -> tuple[Judged, ...]:
    """Each sweep by itself against a design and its prediction."""
    return tuple(_judged(each, folder, design=design, prediction=prediction) for each in delivered)


def _judged(delivered: Delivered, folder: SweepFiles, *, design: Design, prediction: Prediction) -> Judged:
    name, head = delivered.name, list[str]()
    try:
        content = folder.read(name) if delivered.content is None else delivered.content
        if delivered.is_readings:
            sweep = parse_readings(content.decode(), source=name, reference=design.feedline.impedance)
        else:
            head = headings_of(content, source=name)
            named = Columns.of(delivered.columns, source=name) if delivered.columns else None
            sweep = folder.columns.read(content, source=name, named=named)
        sweep = sweep.referred_to(design.feedline.impedance)
        comparison = prove_sweep(design, prediction, sweep)
    except (SweepFileError, SweepFitError, NameRefusedError) as exc:
        return Judged(name=name, headings=tuple(head), problem=str(exc))
    return Judged(name=name, headings=tuple(head), content=content, sweep=sweep, comparison=comparison)


def _proof(
    job: Job[Proof | None],
    good: Sequence[tuple[Sweep, Comparison]],
    *,
    design: Design,
    prediction: Prediction,
) -> Proof:
    def told(done: int, total: int, doing: str) -> None:
        job.report(Progress(done, total, doing))

    memory = SolutionMemory()
    diagnosis = diagnose(design, [Measured.of(each) for _, each in good], memory, told=told)
    return Proof(
        design=design,
        prediction=prediction,
        sweeps=tuple(sweep for sweep, _ in good),
        comparisons=tuple(comparison for _, comparison in good),
        diagnosis=diagnosis,
        next_measurements=next_measurements(diagnosis, memory, told=told),
    )
