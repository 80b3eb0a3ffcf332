# SPDX-License-Identifier: BSD-3-Clause
"""A long piece of work on the live socket: in a thread of its own, told of as it goes, ended by whatever is newer."""

import asyncio
import logging
import time
from abc import ABC, abstractmethod
from collections.abc import Awaitable, Callable, Iterator
from typing import Any, Generic, Protocol, TypeVar

from ringwright.desk.jobs import Job, JobCancelledError
from ringwright.desk.latest import LatestWins
from ringwright.errors import RingwrightError
from ringwright.web.encode import own_fault, problem_of, to_text

LOOK_EVERY = 0.1
"""Seconds between two looks at the work."""

Body = dict[str, Any]

_log = logging.getLogger(__name__)


class Asked(Protocol):
    """A request; its answers have its number."""

    seq: int


T = TypeVar("T")
Request = TypeVar("Request", bound=Asked)


class Followed(ABC, Generic[T]):
    """A job that runs, and what is said of it. Asked from one thread at a time."""

    job: Job[T]

    @abstractmethod
    def news(self, *, is_last: bool) -> Iterator[tuple[str, Body]]:
        """What was not told yet, each with the end of its message's type; `is_last`: the job has ended."""

    @abstractmethod
    def found(self, result: T) -> Body:
        """The answer."""

    @abstractmethod
    def stopped(self) -> Body:
        """What there is to say where it was ended."""


class JobLine(Generic[Request]):
    """The work of one kind on one socket, one at a time. `kind` begins the types of all its messages."""

    def __init__(
        self, kind: str, begin: Callable[[Request], Followed[Any]], send: Callable[[str], Awaitable[None]]
    ) -> None:
        self._kind, self._begin, self._send = kind, begin, send
        self._requests: LatestWins[Request] = LatestWins()
        self._is_stopped = False

    def ask(self, request: Request) -> None:
        """Begin, in place of what is under way."""
        self._is_stopped = False
        self._requests.put(request)

    def stop(self) -> None:
        """End what is under way, if something is; what is there so far is answered."""
        self._is_stopped = True

    async def run(self) -> None:
        """Answer until cancelled."""
        while True:
            request = await self._requests.take()
            try:
                await self._answer(request)
            except RingwrightError as exc:
                await self._say(request, "problem", problem_of(exc).model_dump())
            except Exception:  # noqa: BLE001 -- logged; a closed line would be opened again with the same request
                _log.exception("%s failed", self._kind)
                await self._say(request, "problem", own_fault().model_dump())

    async def _answer(self, request: Request) -> None:
        began = time.perf_counter()
        work = await asyncio.to_thread(self._begin, request)
        try:
            await self._follow(request, work)
        finally:
            work.job.cancel()
        try:
            result = await asyncio.to_thread(work.job.result)
        except JobCancelledError:
            if not self._requests.is_waiting:
                await self._say(request, "stopped", work.stopped())
            return
        elapsed = round((time.perf_counter() - began) * 1e3, 1)
        await self._say(request, "found", work.found(result) | {"elapsed_ms": elapsed})

    async def _follow(self, request: Request, work: Followed[Any]) -> None:
        """Tell how far it is, until it ends, is stopped, or a newer request waits."""
        while not self._is_stopped:
            is_last = work.job.is_done
            for end, body in await asyncio.to_thread(lambda: list(work.news(is_last=is_last))):  # noqa: B023 -- awaited
                await self._say(request, end, body)
            if is_last or await self._requests.arrives_within(LOOK_EVERY):
                return

    async def _say(self, request: Request, end: str, body: Body) -> None:
        await self._send(to_text({"type": f"{self._kind}_{end}", "seq": request.seq} | body))
