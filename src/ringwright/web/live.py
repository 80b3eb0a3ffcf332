# SPDX-License-Identifier: BSD-3-Clause
"""The live socket: a draft comes in, its prediction goes out, and files that change are told of."""

import asyncio
import json
import logging
import time
from contextlib import suppress
from functools import partial

from pydantic import ValidationError
from starlette.responses import JSONResponse
from starlette.websockets import WebSocket, WebSocketDisconnect

from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.desk.latest import LatestWins
from ringwright.desk.watch import (
    DesignWatch,
    FileChange,
    RecordChange,
    RecordWatch,
    SweepChange,
    SweepWatch,
)
from ringwright.errors import RingwrightError
from ringwright.web.encode import own_fault, prediction_body, problem_of, to_text
from ringwright.web.live_job import JobLine
from ringwright.web.live_match import FollowedMatch
from ringwright.web.live_prove import FollowedProof
from ringwright.web.live_search import FollowedSearch
from ringwright.web.live_site import SiteLine
from ringwright.web.messages.base import Message, Problem
from ringwright.web.messages.live import ClientMessage, FileChanged, Hello, PredictBody, PredictRequest
from ringwright.web.messages.match import MatchRequest, MatchStop
from ringwright.web.messages.proof import ProveRequest, ProveStop, SweepChanged
from ringwright.web.messages.record import RecordChanged
from ringwright.web.messages.search import SearchRequest, SearchStop
from ringwright.web.messages.site import SiteRequest

MOST_SOCKETS = 24
LOOK_EVERY = 0.5
"""Seconds between two looks at the files."""

Change = FileChange | SweepChange | RecordChange

_log = logging.getLogger(__name__)
_PROBLEMS = {
    "site": "site_problem",
    "match": "match_problem",
    "prove": "proof_problem",
    "search": "search_problem",
}


class LiveBench:
    """All open sockets of one server, and the watch that tells them of changed files."""

    def __init__(self, desk: Desk, hello: Hello) -> None:
        self.desk, self.hello = desk, hello
        self._changes: set[asyncio.Queue[Change]] = set()

    async def watch_files(self, has_begun: asyncio.Event) -> None:
        """Look for changed designs and sweeps until cancelled; what is there at the beginning is no change."""
        try:
            designs = await asyncio.to_thread(DesignWatch, self.desk.folder)
            sweeps = await asyncio.to_thread(SweepWatch, self.desk.sweeps, self.desk.record)
            record = await asyncio.to_thread(RecordWatch, self.desk.record)
        finally:
            has_begun.set()
        while True:
            await asyncio.sleep(LOOK_EVERY)
            try:
                changes: list[Change] = [*await asyncio.to_thread(designs.look)]
                changes += await asyncio.to_thread(sweeps.look)
                changes += await asyncio.to_thread(record.look)
            except RingwrightError:  # a folder that cannot be listed now may be again in a while
                continue
            for change in changes:
                for queue in self._changes:
                    queue.put_nowait(change)

    async def serve(self, socket: WebSocket) -> None:
        """One socket, from its opening to its end."""
        if len(self._changes) >= MOST_SOCKETS:
            text = f"{MOST_SOCKETS} pages are open already; close one."
            body = {"code": "refused", "key": None, "text": text}
            await socket.send_denial_response(JSONResponse(body, status_code=503))
            return
        changes: asyncio.Queue[Change] = asyncio.Queue()
        self._changes.add(changes)
        try:
            await socket.accept()
            await _Line(self, socket, changes).run()
        finally:
            self._changes.discard(changes)


class _Line:
    """One socket: reads, answers and tells at the same time, until one of them ends."""

    def __init__(self, bench: LiveBench, socket: WebSocket, changes: asyncio.Queue[Change]) -> None:
        self._bench, self._socket, self._changes = bench, socket, changes
        self._requests: LatestWins[PredictRequest] = LatestWins()
        self._sending, self._at_rest = asyncio.Lock(), asyncio.Event()
        self._at_rest.set()
        self._site = SiteLine(bench.desk, self._send, self._at_rest)
        self._match = JobLine[MatchRequest]("match", partial(FollowedMatch, bench.desk), self._send)
        self._prove = JobLine[ProveRequest]("proof", partial(FollowedProof, bench.desk), self._send)
        self._search = JobLine[SearchRequest]("search", partial(FollowedSearch, bench.desk), self._send)

    async def run(self) -> None:
        await self._send(self._bench.hello.model_dump_json())
        lines = (self._site, self._match, self._prove, self._search)
        parts = (self._read, self._answer, *(each.run for each in lines), self._tell)
        tasks = [asyncio.create_task(part()) for part in parts]
        try:
            await asyncio.wait(tasks, return_when=asyncio.FIRST_COMPLETED)
        finally:
            for task in tasks:
                task.cancel()
            ends = await asyncio.gather(*tasks, return_exceptions=True)
        for end in ends:
            if isinstance(end, Exception) and not isinstance(end, WebSocketDisconnect):
                raise end

    async def _read(self) -> None:
        while True:
            message = await self._socket.receive()
            if message["type"] == "websocket.disconnect":
                return
            text = message.get("text")
            try:
                request = ClientMessage.model_validate_json(text or "").root
            except ValidationError as exc:
                await self._send(_unreadable(text or "", exc))
                continue
            match request:
                case SiteRequest():
                    self._site.requests.put(request)
                case MatchRequest():
                    self._match.ask(request)
                case MatchStop():
                    self._match.stop()
                case ProveRequest():
                    self._prove.ask(request)
                case ProveStop():
                    self._prove.stop()
                case SearchRequest():
                    self._search.ask(request)
                case SearchStop():
                    self._search.stop()
                case PredictRequest():
                    self._at_rest.clear()
                    self._requests.put(request)

    async def _answer(self) -> None:
        while True:
            request = await self._requests.take()
            await self._send(await asyncio.to_thread(answer, self._bench.desk, request))
            if not self._requests.is_waiting:
                self._at_rest.set()

    async def _tell(self) -> None:
        while True:
            change = await self._changes.get()
            await self._send(told_of(change).model_dump_json())

    async def _send(self, text: str) -> None:
        async with self._sending:
            await self._socket.send_text(text)


def told_of(change: Change) -> Message:
    """The word for what changed on the disk."""
    match change:
        case FileChange():
            return FileChanged(type="file_changed", name=change.name, etag=change.etag)
        case SweepChange():
            return SweepChanged(
                type="sweep_changed",
                name=change.name,
                is_there=change.is_there,
                sha256=change.sha256,
                is_recorded=change.is_recorded,
            )
        case RecordChange():
            return RecordChanged(type="record_changed")


def draft_of(body: PredictBody) -> Draft:
    """The desk's draft of a message's fields."""
    return Draft(base=Base(**body.base.model_dump()), edits=body.edits)


def answer(desk: Desk, request: PredictRequest) -> str:
    """The message that answers a request: a prediction, or why there is none."""
    began = time.perf_counter()
    try:
        found = desk.predict(draft_of(request), request.detail_band)
        body = prediction_body(found, elapsed=time.perf_counter() - began)
        return to_text({"type": "prediction", "seq": request.seq} | body)
    except RingwrightError as exc:
        problem = problem_of(exc)
    except Exception:  # noqa: BLE001 -- logged; a closed line would be opened again with the same draft
        _log.exception("a draft could not be predicted")
        problem = own_fault()
    return to_text({"type": "problem", "seq": request.seq} | problem.model_dump())


def _unreadable(text: str, error: ValidationError) -> str:
    """Why a message could not be read; with its number and key, where these can be made out."""
    first = error.errors(include_url=False, include_context=False, include_input=False)[0]
    kind, number = _kind_and_number_of(text)
    place = first["loc"][1:] if first["loc"][:1] == (kind,) else first["loc"]
    if place[:1] == ("edits",) and len(place) > 1:
        key = str(place[1])
        sentence = f"{key}: this is no value of a design file; send text with a unit, a number, true, false or a list"
    else:
        key = None
        sentence = f"{'.'.join(map(str, place)) or 'message'}: {first['msg'][:200]}"
    problem = Problem(code="refused", key=key, text=sentence)
    answered = _PROBLEMS.get(kind or "", "problem")
    return to_text({"type": answered, "seq": number} | problem.model_dump())


def _kind_and_number_of(text: str) -> tuple[str | None, int | None]:
    """What can be made out of a message that is wrong elsewhere."""
    with suppress(ValueError, RecursionError):
        match json.loads(text):
            case {"type": str(kind), "seq": int(number)}:
                return kind, number
            case {"type": str(kind)}:
                return kind, None
            case {"seq": int(number)}:
                return None, number
    return None, None
