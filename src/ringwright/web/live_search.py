# SPDX-License-Identifier: BSD-3-Clause
"""The search for rings on the live socket: in a thread of its own, told of as it goes, ended by whatever is newer."""

import asyncio
import logging
import time
from collections.abc import Awaitable, Callable
from typing import Any

from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.document import candidate_document, search_document
from ringwright.choose.rings.finding import Advance
from ringwright.choose.rings.found import Found
from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.desk.jobs import Job, JobCancelledError
from ringwright.desk.latest import LatestWins
from ringwright.errors import RingwrightError
from ringwright.web.encode import own_fault, problem_of, to_text
from ringwright.web.messages.search import SearchRequest

LOOK_EVERY = 0.2
"""Seconds between two words of a search."""

_log = logging.getLogger(__name__)


class SearchLine:
    """The searches of one socket, one at a time."""

    def __init__(self, desk: Desk, send: Callable[[str], Awaitable[None]]) -> None:
        self._desk, self._send = desk, send
        self.requests: LatestWins[SearchRequest] = LatestWins()
        self._is_stopped = False

    def ask(self, request: SearchRequest) -> None:
        """Begin a search, in place of the one that runs."""
        self._is_stopped = False
        self.requests.put(request)

    def stop(self) -> None:
        """End the search that runs, if one does; the best so far is answered."""
        self._is_stopped = True

    async def run(self) -> None:
        """Answer until cancelled."""
        while True:
            request = await self.requests.take()
            began = time.perf_counter()
            try:
                brief, job = await asyncio.to_thread(self._started, request)
                found = await self._outcome(request, brief, job)
            except RingwrightError as exc:
                await self._say(request, "search_problem", problem_of(exc).model_dump())
            except Exception:  # noqa: BLE001 -- logged; a closed line would be opened again with the same brief
                _log.exception("rings could not be sought")
                await self._say(request, "search_problem", own_fault().model_dump())
            else:
                if found is not None:
                    elapsed = round((time.perf_counter() - began) * 1e3, 1)
                    answer = {"search": search_body(found), "elapsed_ms": elapsed}
                    await self._say(request, "search_found", answer)
                elif not self.requests.is_waiting:
                    await self._say(request, "search_stopped", {"best": _best(brief, job)})

    def _started(self, request: SearchRequest) -> tuple[Brief, Job[Found]]:
        draft = Draft(base=Base(**request.base.model_dump()), edits=request.edits)
        asked = request.brief.model_dump(exclude_none=True)
        brief, job = self._desk.search(draft, asked)
        return brief, job.start()

    async def _outcome(self, request: SearchRequest, brief: Brief, job: Job[Found]) -> Found | None:
        """What was found; None where the search was ended."""
        try:
            await self._follow(request, brief, job)
        finally:
            job.cancel()
        try:
            return await asyncio.to_thread(job.result)
        except JobCancelledError:
            return None

    async def _follow(self, request: SearchRequest, brief: Brief, job: Job[Found]) -> None:
        """Tell how far it is, until it ends, is stopped, or a newer request waits."""
        told = ""
        while not job.is_done and not self._is_stopped:
            if await self.requests.arrives_within(LOOK_EVERY):
                return
            progress = job.progress
            if progress.doing != told:
                told = progress.doing
                word = {"done": progress.done, "total": progress.total or 1, "text": told}
                await self._say(request, "search_progress", word | {"best": _best(brief, job)})

    async def _say(self, request: SearchRequest, kind: str, body: dict[str, Any]) -> None:
        await self._send(to_text({"type": kind, "seq": request.seq} | body))


def search_body(found: Found) -> dict[str, Any]:
    """The document, each ring with its shape in a word of its own."""
    document = search_document(found)
    shapes = [found.brief.shapes[each.place[0]] for each in found.front]
    document["front"] = [
        ring | {"shape": shape} for ring, shape in zip(document["front"], shapes, strict=True)
    ]
    return document


def _best(brief: Brief, job: Job[Found]) -> list[dict[str, Any]]:
    """The best so far, the last finding that has any."""
    for found in reversed(job.findings):
        if isinstance(found, Advance) and found.best:
            return [
                candidate_document(brief, each) | {"shape": brief.shapes[each.place[0]]}
                for each in found.best
            ]
    return []
