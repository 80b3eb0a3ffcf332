# SPDX-License-Identifier: BSD-3-Clause
"""The proof on the live socket: each sweep at once, then the suspects, in a thread of their own."""

import asyncio
import logging
import time
from collections.abc import Awaitable, Callable
from typing import Any

from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.desk.jobs import Job, JobCancelledError, Progress
from ringwright.desk.latest import LatestWins
from ringwright.desk.proving import judged_by
from ringwright.errors import RingwrightError
from ringwright.proof.document import proof_document
from ringwright.proof.proving import Proof
from ringwright.web.encode import own_fault, problem_of, to_text
from ringwright.web.encode_proof import delivered, judged_bodies
from ringwright.web.messages.proof import ProveRequest

LOOK_EVERY = 0.1
"""Seconds between two words of the work."""

_log = logging.getLogger(__name__)


class ProveLine:
    """The proofs of one socket, one at a time."""

    def __init__(self, desk: Desk, send: Callable[[str], Awaitable[None]]) -> None:
        self._desk, self._send = desk, send
        self.requests: LatestWins[ProveRequest] = LatestWins()
        self._is_stopped = False

    def ask(self, request: ProveRequest) -> None:
        """Begin a proof, in place of the one that is under way."""
        self._is_stopped = False
        self.requests.put(request)

    def stop(self) -> None:
        """End the one that is under way, if one is."""
        self._is_stopped = True

    async def run(self) -> None:
        """Answer until cancelled."""
        while True:
            request = await self.requests.take()
            began = time.perf_counter()
            try:
                job = await asyncio.to_thread(self._started, request)
                kind, body = await self._outcome(request, job)
            except RingwrightError as exc:
                await self._say(request, "proof_problem", problem_of(exc).model_dump())
            except Exception:  # noqa: BLE001 -- logged; a closed line would be opened again with the same sweeps
                _log.exception("sweeps could not be set against a draft")
                await self._say(request, "proof_problem", own_fault().model_dump())
            else:
                if kind == "proof_found":
                    elapsed = round((time.perf_counter() - began) * 1e3, 1)
                    await self._say(request, kind, body | {"elapsed_ms": elapsed})
                elif not self.requests.is_waiting:
                    await self._say(request, kind, body)

    def _started(self, request: ProveRequest) -> Job[Proof | None]:
        draft = Draft(base=Base(**request.base.model_dump()), edits=request.edits)
        return self._desk.prove(draft, [delivered(sent) for sent in request.sweeps]).start()

    async def _outcome(self, request: ProveRequest, job: Job[Proof | None]) -> tuple[str, dict[str, Any]]:
        """The message that ends it: what was found, or that it was ended."""
        try:
            await self._follow(request, job)
        finally:
            job.cancel()
        try:
            proof = await asyncio.to_thread(job.result)
        except JobCancelledError:
            return "proof_stopped", {}
        return "proof_found", {"proof": None if proof is None else proof_document(proof)}

    async def _follow(self, request: ProveRequest, job: Job[Proof | None]) -> None:
        """Tell what is found and how far it is, until it ends, is stopped, or a newer request waits."""
        has_judged, told = False, Progress()
        while not self._is_stopped:
            is_last = job.is_done
            judged, progress = judged_by(job), job.progress
            if judged is not None and not has_judged:
                has_judged = True
                bodies = await asyncio.to_thread(judged_bodies, request.sweeps, judged)
                await self._say(request, "proof_sweeps", {"sweeps": bodies})
            if progress != told and not is_last:
                told = progress
                word = {"done": progress.done, "total": progress.total, "text": progress.doing}
                await self._say(request, "proof_progress", word)
            if is_last or await self.requests.arrives_within(LOOK_EVERY):
                return

    async def _say(self, request: ProveRequest, kind: str, body: dict[str, Any]) -> None:
        await self._send(to_text({"type": kind, "seq": request.seq} | body))
