# SPDX-License-Identifier: BSD-3-Clause
"""The web's readers: any request into the API, any text into the live socket, in this process and without a port.

Solving is left out: what is looked for is a request that is not read well, and a full-wave solution for each good one
would leave no time for the bad ones. So the desk's predictor refuses, as it does what cannot be solved.
"""

import asyncio
import json
import logging
import shutil
import tempfile
from collections.abc import Iterable
from pathlib import Path
from typing import Any, NoReturn
from urllib.parse import unquote

from pydantic import ValidationError
from starlette.types import ASGIApp, Message

from ringwright.antenna.design import Design
from ringwright.antenna.scenario import FIRST_RING, shipped_text
from ringwright.antenna.solution import SolutionMemory
from ringwright.desk.desk import Desk
from ringwright.errors import OutOfRangeError
from ringwright.records.records import MADE_BY_NEW
from ringwright.web.app import create_app
from ringwright.web.encode import to_text
from ringwright.web.gate import Admission
from ringwright.web.messages.live import ClientMessage
from ringwright.web.messages.tune import TuneAsked
from scripts.fuzz_readers.examples import Examples
from scripts.fuzz_readers.reader import LONGEST_SENTENCE, Form, FoundError, Reader, check

_ANEW_AFTER = 400
"""Inputs: then the workspace is a new one, or what they saved would slow the next ones down."""
_ADDRESSES = (
    "GET health", "GET start", "GET figures", "GET site", "GET match", "GET stock", "GET proof", "GET sweeps",
    "GET designs", "GET designs/a.toml", "GET build", "GET calibrations", "GET record", "GET record/table",
    "GET record/designs/00", "GET record/trend?band=40m", "GET record/archive", "GET tune/events", "GET openapi.json",
    "POST tune/stop", "POST air/keep?locator=JN58td", "DELETE air/reports?name=a.csv", "GET nothing", "OPTIONS designs",
)  # fmt: skip
_TEXTS = {
    "name": "a.toml", "kind": "file", "text": shipped_text(FIRST_RING), "at": "2026-05-01T12:00:00Z", "band": "40m",
}  # fmt: skip
_HOST = (b"host", b"localhost")


class _Listener(logging.Handler):
    """Puts what loggers call an error into a list."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__(logging.ERROR)
        self._faults = faults

    def emit(self, record: logging.LogRecord) -> None:
        self._faults.append(self.format(record))


class _Bench:
    """One application over a workspace of its own, and what its loggers say went wrong."""

    def __init__(self) -> None:
        self.loop = asyncio.new_event_loop()
        self.faults: list[str] = []
        self._workspace, self._used = Path(), _ANEW_AFTER
        self._app: ASGIApp | None = None
        logging.getLogger().addHandler(_Listener(self.faults))

    def app(self) -> ASGIApp:
        """The application, with a new workspace now and then."""
        self._used += 1
        if self._used > _ANEW_AFTER or self._app is None:
            if self._app is not None:
                shutil.rmtree(self._workspace, ignore_errors=True)
            self._workspace, self._used = Path(tempfile.mkdtemp(prefix="fuzz-web-")), 0
            (self._workspace / MADE_BY_NEW).mkdir()
            (self._workspace / MADE_BY_NEW / "a.toml").write_text(shipped_text(FIRST_RING), encoding="utf-8")
            self._app = create_app(Desk(self._workspace, _unsolved), Admission())
        return self._app


def _unsolved(_design: Design, _memory: SolutionMemory) -> NoReturn:
    raise OutOfRangeError("nothing is solved while readers are fuzzed")


_BENCH = _Bench()


def _request(data: bytes) -> tuple[dict[str, Any], bytes]:
    """The scope and body of an input written as a request: a line, headers, an empty line, the body."""
    head, _, body = data.partition(b"\n\n")
    first, *others = head.split(b"\n")
    method, _, target = first.partition(b" ")
    # What a server takes for a request: a word, and an address of printable ASCII.
    target = bytes(octet for octet in target if 0x21 <= octet <= 0x7E)
    path, _, query = (b"/" + target.lstrip(b"/")).partition(b"?")
    pairs = [line.partition(b":")[::2] for line in others if b":" in line]
    headers = [(name.strip().lower(), value.strip()) for name, value in pairs]
    if not any(name == b"host" for name, _ in headers):
        headers.append(_HOST)
    scope = {
        "type": "http", "asgi": {"version": "3.0"}, "http_version": "1.1", "scheme": "http", "root_path": "",
        "method": bytes(octet for octet in method[:16].upper() if 0x41 <= octet <= 0x5A).decode("ascii") or "GET",
        "path": unquote(path.decode("ascii")), "raw_path": path, "query_string": query, "headers": headers,
        "server": ("localhost", 80), "client": ("127.0.0.1", 1),
    }  # fmt: skip
    return scope, body


async def _exchange(
    app: ASGIApp, scope: dict[str, Any], waiting: list[Message], *, enough: int
) -> list[Message]:
    """Everything the application sends until it ends; after `waiting` and `enough` answers the client is gone."""
    sent: list[Message] = []

    async def receive() -> Message:
        if waiting:
            return waiting.pop(0)
        for _ in range(20):
            if len(sent) >= enough:
                break
            await asyncio.sleep(0.005)
        return (
            {"type": "http.disconnect"}
            if scope["type"] == "http"
            else {"type": "websocket.disconnect", "code": 1000}
        )

    async def send(message: Message) -> None:
        sent.append(message)

    await app(scope, receive, send)
    return sent


def _run(scope: dict[str, Any], waiting: list[Message], enough: int) -> list[Message]:
    _BENCH.faults.clear()
    sent = _BENCH.loop.run_until_complete(_exchange(_BENCH.app(), scope, waiting, enough=enough))
    if _BENCH.faults:
        raise FoundError(_BENCH.faults[0])
    return sent


def _read_request(data: bytes) -> None:
    scope, body = _request(data)
    sent = _run(scope, [{"type": "http.request", "body": body, "more_body": False}], 2)
    starts = [message for message in sent if message["type"] == "http.response.start"]
    check(len(starts) == 1, f"{len(starts)} answers to one request")
    status = starts[0]["status"]
    check(status < 500 or status == 507, f"status {status}")
    kind = dict(starts[0]["headers"]).get(b"content-type", b"")
    if kind.startswith(b"application/json") and scope["method"] != "HEAD":
        _check_answer(b"".join(message.get("body", b"") for message in sent), status)


def _check_answer(content: bytes, status: int) -> None:
    answer = json.loads(content, parse_constant=_no_constant)
    if status >= 400:
        check(set(answer) == {"code", "key", "text"}, f"a refusal of another form: {answer!r:.200}")
        _check_text(answer["text"])


def _check_text(text: str) -> None:
    """A refusal for a page, which may repeat any character that was sent, but shows it as text."""
    check(bool(text.strip()) and len(text) <= LONGEST_SENTENCE, f"no sentence for a page: {text[:900]!r}")


def _no_constant(name: str) -> NoReturn:
    raise FoundError(f"{name} stands in an answer")


def _read_socket(data: bytes) -> None:
    """Each line is a text of the client; one that the tuner's socket would take is only read: it moves motors."""
    lines = data.split(b"\n")[:6]
    texts = [line.decode("utf-8", errors="replace") for line in lines]
    for text in texts:
        try:
            check_again = TuneAsked.model_validate_json(text)
        except ValidationError:
            continue
        TuneAsked.model_validate_json(to_text(check_again.model_dump()))
    scope = {
        "type": "websocket", "asgi": {"version": "3.0"}, "scheme": "ws", "path": "/api/v1/live",
        "raw_path": b"/api/v1/live", "query_string": b"", "root_path": "", "subprotocols": [],
        "headers": [_HOST, (b"origin", b"http://localhost")],
        "server": ("localhost", 80), "client": ("127.0.0.1", 1),
    }  # fmt: skip
    waiting: list[Message] = [{"type": "websocket.connect"}]
    waiting += [{"type": "websocket.receive", "text": text} for text in texts]
    sent = _run(scope, waiting, 2 + len(texts))
    for message in sent:
        if message["type"] == "websocket.send":
            answer = json.loads(message["text"], parse_constant=_no_constant)
            if "problem" in answer["type"]:
                _check_text(answer["text"])


def _bodies() -> Iterable[bytes]:
    """A good request of every address that takes one, from the API's own description."""
    document = create_app(Desk(Path(tempfile.mkdtemp(prefix="fuzz-web-"))), Admission()).openapi()
    examples = Examples(document["components"]["schemas"], _TEXTS)
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            for kind, content in operation.get("requestBody", {}).get("content", {}).items():
                body = json.dumps(examples.of(content["schema"])) if "json" in kind else "time,band,rx\n"
                query = "?name=a.csv" if "octet" in kind else ""
                target = path.replace("{name}", "b.toml").replace("{sha256}", "00")
                yield f"{method.upper()} {target}{query}\ncontent-type: {kind}\n\n{body}".encode()


def _live_seeds() -> Iterable[bytes]:
    for model in (ClientMessage, TuneAsked):
        document = model.model_json_schema()
        examples = Examples(document["$defs"], _TEXTS)
        for each in document.get("oneOf") or document["anyOf"]:
            yield json.dumps(examples.of(each)).encode()


_PLAIN = tuple(
    f"{line.partition(' ')[0]} /api/v1/{line.partition(' ')[2]}\n\n".encode() for line in _ADDRESSES
)
_TOKENS = (
    b"%2e%2e", b"%00", b"%ff", b"?", b"&", b"name=", b"column=snr=3", b"trial=true", b"origin: http://localhost",
    b"host: elsewhere", b"if-none-match: *", b"content-type: application/json", b"cookie: ringwright=x; a=\xff",
    b"content-length: 9", b"accept-encoding: gzip", b"range: bytes=0-1", b'"kind":"text"', b"PATCH", b"HEAD",
)  # fmt: skip

READERS = (
    Reader(
        name="http", seeds=(*_PLAIN, *_bodies()), read=_read_request, form=Form.JSON_LINES, tokens=_TOKENS
    ),
    Reader(
        name="socket",
        seeds=tuple(_live_seeds()),
        read=_read_socket,
        form=Form.JSON_LINES,
        tokens=(b'"seq":', b'"type":'),
    ),
)
