# SPDX-License-Identifier: BSD-3-Clause
"""Hands for work that can be shared: this process, others on this machine, or those of a scheduler.

Others are started afresh, never copied, and none outlives the one that started it.
"""

import multiprocessing
import multiprocessing.connection
import os
import signal
import socket
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Executor, Future, ProcessPoolExecutor, wait
from contextlib import suppress
from types import TracebackType
from typing import Any, Self, TypeVar
from urllib.parse import urlsplit

from ringwright.errors import LinkError, MissingLibraryError
from ringwright.units import shown

T = TypeVar("T")
R = TypeVar("R")

WORTH_SHARING = 12
"""Pieces of work: fewer are done before others have started."""
AHEAD = 3
"""Pieces that wait for each pair of hands: none is idle, and little is begun in vain."""
PATIENCE = 10.0
"""Seconds in which a scheduler answers."""


def hands_here() -> int:
    """Processor cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))  # noqa: TID251 -- asked for in the line above
    return os.cpu_count() or 1


class Hands:
    """Runs work on items, and gives results back as they come. A context; leaving it ends all it started.

    `count` processes, 1 for this one alone; with a `scheduler` its workers instead.
    """

    def __init__(self, count: int | None = None, *, scheduler: str | None = None) -> None:
        self._count = count or hands_here()
        self._scheduler = scheduler
        self._executor: Executor | None = None
        self._client: Any = None

    def __enter__(self) -> Self:
        if self._scheduler is not None:
            self._client = _connected(self._scheduler)
            self._count = max(1, sum(self._client.nthreads().values()))
            self._executor = self._client.get_executor()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._client is not None:
            self._client.close()
        elif self._executor is not None:
            self._executor.shutdown(wait=kind is None, cancel_futures=True)

    def __call__(self, work: Callable[[T], R], items: Sequence[T]) -> Iterator[tuple[int, R]]:
        if self._executor is None and (self._count == 1 or len(items) < WORTH_SHARING):
            for number, item in enumerate(items):
                yield number, work(item)
            return
        yield from self._shared(work, items)

    def _shared(self, work: Callable[[T], R], items: Sequence[T]) -> Iterator[tuple[int, R]]:
        if self._executor is None:
            self._executor = _others(self._count)
        waiting: dict[Future[R], int] = {}
        left = iter(enumerate(items))
        try:
            while True:
                while len(waiting) < AHEAD * self._count and (item := next(left, None)) is not None:
                    waiting[self._executor.submit(work, item[1])] = item[0]
                if not waiting:
                    return
                done, _ = wait(waiting, return_when=FIRST_COMPLETED)
                for future in done:
                    yield waiting.pop(future), future.result()
        finally:
            for future in waiting:
                future.cancel()


def _others(count: int) -> Executor:
    # Small matrices: a second thread of the linear algebra only gets in the way of the next process.
    before = os.environ.get("OPENBLAS_NUM_THREADS")
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    try:
        executor = ProcessPoolExecutor(
            count, mp_context=multiprocessing.get_context("spawn"), initializer=_begin
        )
        # They start with the first work, and inherit what stands here then.
        list(executor.map(_nothing, range(count)))
    finally:
        if before is None:
            del os.environ["OPENBLAS_NUM_THREADS"]
        else:
            os.environ["OPENBLAS_NUM_THREADS"] = before
    return executor


def _nothing(_: int) -> None:
    """Be there."""


def _begin() -> None:
    """In a process of ours: leave Ctrl-C to the one that started it, and end with that one, however it ends."""
    with suppress(ValueError):
        signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is None:
        return

    def end_with_parent() -> None:
        multiprocessing.connection.wait([parent.sentinel])
        os._exit(1)

    threading.Thread(target=end_with_parent, daemon=True, name="ringwright watch").start()


def _connected(address: str) -> Any:
    try:
        from distributed import Client
    except ImportError as exc:
        raise MissingLibraryError(
            'a scheduler needs the library distributed; install it with pip install "ringwright[scheduler]", '
            "or leave --scheduler out"
        ) from exc
    connect: Any = Client
    try:
        _knock(address)
        return connect(address, timeout=PATIENCE, set_as_default=False)
    except (OSError, ValueError) as exc:
        raise LinkError(
            f"no scheduler answers at {shown(address)}; start one there, or write its address as in "
            '"tcp://192.0.2.7:8786"'
        ) from exc


def _knock(address: str) -> None:
    """Refuse at once what nobody listens at: a client that finds nobody holds on to what it began."""
    place = urlsplit(address)
    if not place.hostname or place.port is None:
        raise ValueError("no host and port")
    socket.create_connection((place.hostname, place.port), timeout=PATIENCE).close()
