# SPDX-License-Identifier: BSD-3-Clause
"""The tuner's own socket, apart from that of the bench: no prediction ever stands before a STOP.

What the session tells comes from its thread and waits in an outbox: of pictures of how things stand only the newest, of
words all. STOP goes straight from the message to the session.
"""

import asyncio
import logging
import secrets
from collections import deque
from collections.abc import AsyncGenerator, AsyncIterator
from contextlib import aclosing
from typing import Any

from fastapi import APIRouter
from pydantic import ValidationError
from starlette.responses import JSONResponse, StreamingResponse
from starlette.websockets import WebSocket, WebSocketDisconnect

from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.desk.tuning import begin_document
from ringwright.errors import RingwrightError, TunerBusyError
from ringwright.tuner.commission import StepName
from ringwright.tuner.session import Session
from ringwright.web.encode import own_fault, problem_of, to_text
from ringwright.web.encode_tune import cautions_body, drive_body, wanted_of
from ringwright.web.messages.base import Problem
from ringwright.web.messages.tune import (
    TuneAsked,
    TuneCommission,
    TuneConnect,
    TuneDo,
    TuneGo,
    TuneHello,
    TuneLetGo,
    TuneNudge,
    TunePull,
    TuneRise,
    TuneSign,
    TuneStop,
    TuneStopped,
    TuneTable,
    TuneTake,
)

MOST_SOCKETS = 12
LONGEST_MESSAGE = 2_100_000
MOST_WAITING = 1000
_PICTURES = {"state", "search", "control", "commission"}

_log = logging.getLogger(__name__)


class TunerDoor:
    """All pages that look at the drive of a desk."""

    def __init__(self, desk: Desk) -> None:
        self.desk, self._sockets = desk, 0
        self.viewers: dict[str, tuple[Session, int]] = {}

    def router(self) -> APIRouter:
        """What needs no socket: STOP, and the stream of what happens."""
        router = APIRouter(prefix="/api/v1/tune")
        router.add_api_route("/stop", self.post_stop, methods=["POST"], response_model=TuneStopped)
        router.add_api_route(
            "/events",
            self.get_events,
            methods=["GET"],
            response_class=StreamingResponse,
            responses={200: {"description": "One JSON object a line, until the drive is let go."}},
        )
        return router

    async def post_stop(self) -> TuneStopped:
        """STOP, from whoever may speak to this server at all."""
        return TuneStopped(was_connected=self.desk.drive.stop())

    async def get_events(self) -> StreamingResponse:
        """What happens, as it happens."""
        return StreamingResponse(self._lines(), media_type="application/x-ndjson")

    async def _lines(self) -> AsyncIterator[str]:
        async with aclosing(self._documents()) as documents:
            async for document in documents:
                yield to_text(document) + "\n"

    async def _documents(self) -> AsyncGenerator[dict[str, Any]]:
        outbox = Outbox()
        session = self.desk.drive.session
        if session is None:
            return
        end = session.listen(outbox.put)
        try:
            line = None if session.parts.twin is not None else self.address()
            yield begin_document(self.desk.drive.name, line=line)
            for document in session.beginning():
                yield document
            while self.desk.drive.session is session:
                newer = await outbox.take(patience=1.0)
                if newer is not None:
                    yield newer
        finally:
            end()

    def address(self) -> str | None:
        """Where the real drive is; None where the server knows of none."""
        access = self.desk.drive.access
        return None if access is None else str(access.address)

    async def serve(self, socket: WebSocket) -> None:
        """One socket, from its opening to its end."""
        if self._sockets >= MOST_SOCKETS:
            text = f"{MOST_SOCKETS} pages look at the drive already; close one."
            body = {"code": "refused", "key": None, "text": text}
            await socket.send_denial_response(JSONResponse(body, status_code=503))
            return
        self._sockets += 1
        try:
            await socket.accept()
            await _Viewer(self, socket).run()
        finally:
            self._sockets -= 1


class Outbox:
    """Documents from another thread for one reader, who may be slow."""

    def __init__(self) -> None:
        self._loop = asyncio.get_running_loop()
        self._words: deque[dict[str, Any]] = deque(maxlen=MOST_WAITING)
        self._pictures: dict[str, dict[str, Any]] = {}
        self._is_there = asyncio.Event()

    def put(self, document: dict[str, Any]) -> None:
        """From any thread."""
        if not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self._put, document)

    def _put(self, document: dict[str, Any]) -> None:
        if document["type"] in _PICTURES:
            self._pictures[document["type"]] = document
        else:
            self._words.append(document)
        self._is_there.set()

    async def take(self, *, patience: float | None = None) -> dict[str, Any] | None:
        """The next document, words first; None where none came in time."""
        try:
            await asyncio.wait_for(self._is_there.wait(), patience)
        except TimeoutError:
            return None
        document = self._words.popleft() if self._words else self._pictures.pop(next(iter(self._pictures)))
        if not self._words and not self._pictures:
            self._is_there.clear()
        return document


class _Viewer:
    """One page."""

    def __init__(self, door: TunerDoor, socket: WebSocket) -> None:
        self._door, self._desk, self._socket, self._outbox = door, door.desk, socket, Outbox()
        self._key = ""
        self._wishes: asyncio.Queue[object] = asyncio.Queue()
        self._name = "a page"
        self._session: Session | None = None
        self._number = 0

    async def run(self) -> None:
        end = self._desk.drive.listen(self._outbox.put)
        tasks = [asyncio.create_task(part()) for part in (self._read, self._work, self._write)]
        try:
            await asyncio.wait(tasks, return_when=asyncio.FIRST_COMPLETED)
        finally:
            end()
            if self._session is not None:
                self._session.leave(self._number)
            for task in tasks:
                task.cancel()
            ends = await asyncio.gather(*tasks, return_exceptions=True)
        for each in ends:
            if isinstance(each, Exception) and not isinstance(each, WebSocketDisconnect):
                raise each

    async def _write(self) -> None:
        while True:
            document = await self._outbox.take()
            assert document is not None
            if document["type"] == "begun":
                self._show_bring_up()
            if document["type"] in {"begun", "let_go", "table"}:
                document = self._standing()
            await self._socket.send_text(to_text(document))

    async def _read(self) -> None:
        while True:
            message = await self._socket.receive()
            if message["type"] == "websocket.disconnect":
                return
            text = message.get("text") or ""
            try:
                asked = TuneAsked.model_validate_json(text[:LONGEST_MESSAGE]).root
            except ValidationError as exc:
                first = exc.errors(include_url=False, include_context=False, include_input=False)[0]
                where = ".".join(map(str, first["loc"])) or "message"
                self._problem(Problem(code="refused", key=None, text=f"{where}: {first['msg'][:200]}"))
                continue
            if isinstance(asked, TuneStop):
                self._desk.drive.stop()
            else:
                self._wishes.put_nowait(asked)

    async def _work(self) -> None:
        """Do what was asked, one after the other; STOP does not wait here."""
        while True:
            asked = await self._wishes.get()
            try:
                await self._do(asked)
            except RingwrightError as exc:
                self._problem(problem_of(exc))
            except Exception:  # noqa: BLE001 -- logged; a closed line would be opened again with the same wish
                _log.exception("the tuner could not do what was asked")
                self._problem(own_fault())

    async def _do(self, asked: object) -> None:
        drive = self._desk.drive
        match asked:
            case TuneHello():
                self._name = asked.name
                self._resume(asked.key)
                self._greet()
            case TuneConnect():
                draft = _draft_of(asked)
                await asyncio.to_thread(self._desk.connect, draft, is_real=asked.is_real)
            case TuneLetGo():
                self._expect_control()
                await asyncio.to_thread(drive.end)
            case TunePull(is_pulled=is_pulled):
                self._pull(is_pulled=is_pulled)
            case TuneCommission():
                self._bring_up(asked)
            case TuneTable():
                self._expect_control()
                await asyncio.to_thread(self._edit, asked)
            case TuneSign() | TuneTake() | TuneGo() | TuneNudge() | TuneRise() | TuneDo():
                self._ask(asked)

    def _ask(self, asked: TuneSign | TuneTake | TuneGo | TuneNudge | TuneRise | TuneDo) -> None:
        if isinstance(asked, TuneSign) and self._desk.drive.session is None:
            return  # it was let go while the sign was on its way
        session = self._joined()
        match asked:
            case TuneSign():
                session.sign(self._number)
            case TuneTake():
                session.take(self._number)
            case _:
                session.ask(wanted_of(asked), viewer=self._number)

    def _edit(self, asked: TuneTable) -> None:
        if asked.remove is not None:
            number = asked.remove
            self._desk.drive.edit(lambda table: table.without(number))
        if asked.site is not None:
            site = asked.site
            self._desk.drive.edit(lambda table: table.moved_to(site))

    def _bring_up(self, asked: TuneCommission) -> None:
        session = self._joined()
        self._expect_control()
        session.take(self._number)  # a page that is gone while the drive moves is STOP, here as elsewhere
        assistant = self._desk.drive.assistant
        if assistant is None:
            raise TunerBusyError("no drive is connected; connect one first")
        match asked.what:
            case "begin" | "again":
                assistant.begin(None if asked.step is None else StepName(asked.step))
            case "answer":
                assistant.answer(asked.answer or "")
            case "leave":
                assistant.leave()

    def _pull(self, *, is_pulled: bool) -> None:
        twin = self._joined().parts.twin
        if twin is None:
            raise TunerBusyError("only a simulated cable can be pulled from here")
        twin.pull(is_pulled=is_pulled)
        self._desk.drive.tell_again()

    def _expect_control(self) -> None:
        """What ends or alters everything is for the page in control, or for any where none is."""
        control = self._joined().control
        if control.holder not in {None, self._number}:
            raise TunerBusyError(f"{control.holder_name} holds control; take it over first")

    def _joined(self) -> Session:
        session = self._desk.drive.session
        if session is None:
            raise TunerBusyError("no drive is connected; connect one first")
        if session is not self._session:
            self._session, self._number = session, session.join(self._name)
            self._key = secrets.token_hex(16)
            of_this_session = {key: held for key, held in self._door.viewers.items() if held[0] is session}
            self._door.viewers = of_this_session | {self._key: (session, self._number)}
        return session

    def _resume(self, key: str | None) -> None:
        """The same viewer again, if its line was cut just now."""
        held = self._door.viewers.get(key or "")
        if held is not None and held[0] is self._desk.drive.session and held[0].is_known(held[1]):
            self._session, self._number = held
            self._key = key or ""
            self._session.sign(self._number)

    def _greet(self) -> None:
        self._outbox.put({"type": "table"})
        session = self._desk.drive.session
        if session is not None:
            self._joined()
            for document in [*session.teller.told][-20:] + session.beginning():
                self._outbox.put(document)
            self._show_bring_up()

    def _show_bring_up(self) -> None:
        assistant = self._desk.drive.assistant
        if assistant is not None:
            self._outbox.put(assistant.document())

    def _standing(self) -> dict[str, Any]:
        """The drive that is connected, or that none is."""
        if self._desk.drive.session is None:
            self._session = None
            return {"type": "no_drive", "line": self._door.address(), "cautions": cautions_body()}
        session = self._joined()
        return drive_body(
            session, name=self._desk.drive.name, viewer=self._number, key=self._key, line=self._door.address()
        )

    def _problem(self, problem: Problem) -> None:
        self._outbox.put({"type": "tune_problem"} | problem.model_dump())


def _draft_of(asked: TuneConnect) -> Draft:
    if asked.is_example:
        return Draft(base=Base(text=shipped_text(TERRACE_OCTAGON)), edits=asked.edits)
    return Draft(base=Base(**asked.base.model_dump()), edits=asked.edits)
