# SPDX-License-Identifier: BSD-3-Clause
"""Latest wins: of the requests that wait only the newest is worked on, so that a dragged slider builds no queue."""

import asyncio
from contextlib import suppress
from typing import Generic, TypeVar

T = TypeVar("T")


class LatestWins(Generic[T]):
    """A place for one waiting request; a newer one takes it over. One event loop, one taker."""

    def __init__(self) -> None:
        self._waiting: list[T] = []
        self._arrived = asyncio.Event()
        self.dropped = 0

    def put(self, request: T) -> None:
        """Leave a request; one that still waits is dropped."""
        self.dropped += len(self._waiting)
        self._waiting = [request]
        self._arrived.set()

    @property
    def is_waiting(self) -> bool:
        """Whether a request waits to be taken."""
        return bool(self._waiting)

    async def arrives_within(self, seconds: float) -> bool:
        """Whether a request waits by then; it is not taken."""
        with suppress(TimeoutError):
            async with asyncio.timeout(seconds):
                await self._arrived.wait()
        return self.is_waiting

    async def take(self) -> T:
        """The newest request, as soon as there is one."""
        await self._arrived.wait()
        self._arrived.clear()
        return self._waiting.pop()
