# SPDX-License-Identifier: BSD-3-Clause
"""Work that takes longer than a breath: run in a thread, watched, stopped on request, what it found kept."""

import threading
from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import dataclass
from typing import Generic, TypeVar

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a job is: `done` of `total` steps, and what it does in words."""

    done: int = 0
    total: int | None = None
    doing: str = ""


class JobCancelledError(Exception):
    """Raised inside a job that was asked to stop, at its next report. Never reaches a person."""


class Job(Generic[T]):
    """One piece of work; `work` reports through the job it is given and may put findings into it as it goes.

    A job that was cancelled before it ended has no result, but its findings stay.
    """

    def __init__(self, work: Callable[["Job[T]"], T]) -> None:
        self._work = work
        self._stop = threading.Event()
        self._result: Future[T] = Future()
        self._lock = threading.Lock()
        self._progress, self._findings = Progress(), list[object]()
        self._thread = threading.Thread(target=self._run, daemon=True, name="ringwright job")

    def start(self) -> "Job[T]":
        """Begin in a thread of its own."""
        self._thread.start()
        return self

    def report(self, progress: Progress, *found: object) -> None:
        """Called by the work between steps: says how far it is, hands over what it found, and ends it if asked to.

        Raises
        ------
        JobCancelledError
            If the job was cancelled; the work lets it pass.
        """
        with self._lock:
            self._progress = progress
            self._findings.extend(found)
        if self._stop.is_set():
            raise JobCancelledError

    def cancel(self) -> None:
        """Ask the work to end at its next report."""
        self._stop.set()

    @property
    def progress(self) -> Progress:
        with self._lock:
            return self._progress

    @property
    def findings(self) -> tuple[object, ...]:
        """What was found so far."""
        with self._lock:
            return tuple(self._findings)

    @property
    def is_done(self) -> bool:
        """Ended, by itself, by an error or by being cancelled."""
        return self._result.done()

    def result(self, timeout: float | None = None) -> T:
        """What the work returned, waiting up to `timeout` seconds; raises what it raised."""
        return self._result.result(timeout)

    def _run(self) -> None:
        try:
            self._result.set_result(self._work(self))
        except BaseException as exc:  # noqa: BLE001 -- handed to whoever asks for the result
            self._result.set_exception(exc)
