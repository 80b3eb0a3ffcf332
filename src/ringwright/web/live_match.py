# SPDX-License-Identifier: BSD-3-Clause
"""The match on the live socket: a search in a thread of its own, told of as it goes, ended by whatever is newer."""

import asyncio
import logging
import time
from collections.abc import Awaitable, Callable
from typing import Any

from ringwright.choose.match import CouplingMatch
from ringwright.choose.match_document import match_document, trial_document
from ringwright.choose.trials import Trial
from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.desk.jobs import Job, JobCancelledError
from ringwright.desk.latest import LatestWins
from ringwright.desk.matching import match_edits
from ringwright.errors import RingwrightError
from ringwright.web.encode import own_fault, problem_of, to_text
from ringwright.web.messages.match import MatchRequest

LOOK_EVERY = 0.1
"""Seconds between two words of a search."""

_log = logging.getLogger(__name__)


class MatchLine:
    """The searches of one socket, one at a time."""

    def __init__(self, desk: Desk, send: Callable[[str], Awaitable[None]]) -> None:
        self._desk, self._send = desk, send
        self.requests: LatestWins[MatchRequest] = LatestWins()
        self._is_stopped = False

    def ask(self, request: MatchRequest) -> None:
        """Begin a search, in place of the one that runs."""
        self._is_stopped = False
        self.requests.put(request)

    def stop(self) -> None:
        """End the search that runs, if one does; what it found so far is answered."""
        self._is_stopped = True

    async def run(self) -> None:
        """Answer until cancelled."""
        while True:
            request = await self.requests.take()
            began = time.perf_counter()
            try:
                job = await asyncio.to_thread(self._started, request)
                found = await self._outcome(request, job)
            except RingwrightError as exc:
                await self._say(request, "match_problem", problem_of(exc).model_dump())
            except Exception:  # noqa: BLE001 -- logged; a closed line would be opened again with the same draft
                _log.exception("a coupling could not be sought")
                await self._say(request, "match_problem", own_fault().model_dump())
            else:
                if isinstance(found, CouplingMatch):
                    answer = {"match": match_document(found), "edits": match_edits(found)}
                    elapsed = round((time.perf_counter() - began) * 1e3, 1)
                    await self._say(request, "match_found", answer | {"elapsed_ms": elapsed})
                elif not self.requests.is_waiting:
                    best = None if found is None else trial_document(found)
                    await self._say(request, "match_stopped", {"best": best})

    def _started(self, request: MatchRequest) -> Job[CouplingMatch]:
        draft = Draft(base=Base(**request.base.model_dump()), edits=request.edits)
        return self._desk.match(draft, request.vary).start()

    async def _outcome(self, request: MatchRequest, job: Job[CouplingMatch]) -> CouplingMatch | Trial | None:
        """What was found, or the best coupling so far where the search was ended."""
        try:
            await self._follow(request, job)
        finally:
            job.cancel()
        try:
            return await asyncio.to_thread(job.result)
        except JobCancelledError:
            return _best_of(job)

    async def _follow(self, request: MatchRequest, job: Job[CouplingMatch]) -> None:
        """Tell how far it is, until it ends, is stopped, or a newer request waits."""
        told = 0
        while not job.is_done and not self._is_stopped:
            if await self.requests.arrives_within(LOOK_EVERY):
                return
            progress, best = job.progress, _best_of(job)
            if best is not None and progress.done > told:
                told = progress.done
                word = {"tried": told, "text": progress.doing, "best": trial_document(best)}
                await self._say(request, "match_progress", word)

    async def _say(self, request: MatchRequest, kind: str, body: dict[str, Any]) -> None:
        await self._send(to_text({"type": kind, "seq": request.seq} | body))


def _best_of(job: Job[CouplingMatch]) -> Trial | None:
    """The best coupling so far, the last finding of the search."""
    found = job.findings
    return found[-1] if found and isinstance(found[-1], Trial) else None
