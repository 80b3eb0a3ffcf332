# SPDX-License-Identifier: BSD-3-Clause
"""A whole trial: many twins over several processes, with the same result whatever their number."""

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from time import process_time

from ringwright.errors import OutOfRangeError
from ringwright.tuner.brain.step import step
from ringwright.tuner.trial.faults import Fault
from ringwright.tuner.trial.outcome import Outcome
from ringwright.tuner.trial.plain import Method, PlainOutcome, run_plain
from ringwright.tuner.trial.run import run_twin

MOST_TWINS = 1_000_000
_AT_ONCE = 10
"""Twins handed to a process at a time."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """Outcomes in the order of the twins' numbers. `busy` [s]: processor time that the brain's runs took."""

    seed: int
    with_faults: bool
    outcomes: tuple[Outcome, ...]
    plain: tuple[PlainOutcome, ...]
    busy: float


@dataclass(frozen=True, slots=True)
class _Part:
    outcomes: list[Outcome]
    plain: list[PlainOutcome]
    busy: float


def run_trial(
    twins: int,
    *,
    seed: int,
    with_faults: bool,
    processes: int | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> Trial:
    """Set the brain, and without faults the plain methods, before `twins` random twins.

    `progress` hears how many twins are done and how many acts were unsafe. An interruption ends all processes.

    Raises
    ------
    OutOfRangeError
        If there is no twin to run, or more than anyone would wait for.
    """
    if not 1 <= twins <= MOST_TWINS:
        raise OutOfRangeError(f"twins must be from 1 to {MOST_TWINS}, got {twins}")
    parts = [range(begin, min(begin + _AT_ONCE, twins)) for begin in range(0, twins, _AT_ONCE)]
    count = min(processes or os.cpu_count() or 1, len(parts))
    done: list[_Part | None] = [None] * len(parts)
    finished = unsafe = 0
    for number, part in _run_parts(parts, seed, with_faults=with_faults, processes=count):
        done[number] = part
        finished += len(part.outcomes)
        unsafe += sum(sum(outcome.unsafe.values()) for outcome in part.outcomes)
        if progress is not None:
            progress(finished, unsafe)
    whole = [part for part in done if part is not None]
    return Trial(
        seed=seed,
        with_faults=with_faults,
        outcomes=tuple(outcome for part in whole for outcome in part.outcomes),
        plain=tuple(outcome for part in whole for outcome in part.plain),
        busy=sum(part.busy for part in whole),
    )


def _run_parts(
    parts: Sequence[range], seed: int, *, with_faults: bool, processes: int
) -> Iterator[tuple[int, _Part]]:
    """Parts as they are done, with their numbers; what is left ends with the caller."""
    work = [(number, part, seed, with_faults) for number, part in enumerate(parts)]
    if processes == 1:
        yield from map(_run_numbered, work)
        return
    # Spawned, not forked: the program may have threads by now, and Windows knows nothing else.
    with multiprocessing.get_context("spawn").Pool(processes, initializer=_begin_process) as pool:
        yield from pool.imap_unordered(_run_numbered, work)


def _begin_process() -> None:
    """Ctrl-C is the parent's to answer, and where that is gone, however it ended, nobody waits for the rest."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()

    def watch() -> None:
        if parent is not None:
            parent.join()
        os._exit(1)

    threading.Thread(target=watch, daemon=True).start()


def _run_numbered(work: tuple[int, range, int, bool]) -> tuple[int, _Part]:
    number, numbers, seed, with_faults = work
    return number, _run_part(numbers, seed, with_faults)


def _run_part(numbers: range, seed: int, with_faults: bool) -> _Part:
    started = process_time()
    faults = list(Fault)
    outcomes = [
        run_twin(number, seed, step=step, fault=faults[number % len(faults)] if with_faults else None)
        for number in numbers
    ]
    busy = process_time() - started
    plain = (
        [] if with_faults else [run_plain(number, seed, method) for number in numbers for method in Method]
    )
    return _Part(outcomes, plain, busy)
