# SPDX-License-Identifier: BSD-3-Clause
"""A real server on a real port, in a thread of the tests' own process, and clients that talk to it as browsers do."""

import json
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import httpx
import uvicorn
from websockets.sync.client import ClientConnection, connect
from websockets.typing import Origin

from ringwright.desk.desk import Desk
from ringwright.web.address import listen
from ringwright.web.app import create_app
from ringwright.web.gate import Admission
from ringwright.web.serve import LARGEST_MESSAGE

SOON = 60.0
"""Seconds: a bound against hanging on a busy machine, not a wait."""


@dataclass(frozen=True, kw_only=True)
class Running:
    """One server."""

    desk: Desk
    port: int

    @property
    def address(self) -> str:
        return f"http://localhost:{self.port}"

    def client(self, **headers: str) -> httpx.Client:
        return httpx.Client(base_url=self.address, headers=headers, timeout=SOON)

    def socket(self, *, origin: str | None = "own", **headers: str) -> ClientConnection:
        """A live socket; its own origin unless another, or none, is asked for."""
        return connect(
            f"ws://localhost:{self.port}/api/v1/live",
            origin=None if origin is None else Origin(self.address if origin == "own" else origin),
            additional_headers=headers,
            open_timeout=SOON,
            close_timeout=SOON,
            compression=None,
            max_size=None,
            proxy=None,
        )


@contextmanager
def running_server(desk: Desk, admission: Admission | None = None) -> Iterator[Running]:
    """Serve a desk until the block ends."""
    with listen("127.0.0.1", 0) as listener:
        config = uvicorn.Config(
            create_app(desk, admission or Admission()), log_level="error", ws_max_size=LARGEST_MESSAGE
        )
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]})
        thread.start()
        try:
            until(lambda: server.started)
            yield Running(desk=desk, port=listener.getsockname()[1])
        finally:
            server.should_exit = True
            thread.join(SOON)
            assert not thread.is_alive()


def until(is_so: Callable[[], bool]) -> None:
    """Wait for something that other threads bring about."""
    end = time.monotonic() + SOON
    while not is_so():
        assert time.monotonic() < end, "it did not happen"
        time.sleep(0.005)


def put(path: Path, text: str) -> None:
    """Write a file at one stroke, as editors do: nobody who looks meanwhile sees half of it."""
    fresh = path.with_suffix(".fresh")
    fresh.write_text(text, encoding="utf-8")
    fresh.replace(path)


def catch_up(socket: ClientConnection) -> None:
    """Until the server has read all that was sent before: it reads in order, and refuses this at once."""
    socket.send("no message")
    assert hear(socket, "problem")["code"] == "refused"


def ask(socket: ClientConnection, seq: int, /, **fields: object) -> None:
    socket.send(json.dumps({"type": "predict", "seq": seq, **fields}))


def hear(socket: ClientConnection, kind: str) -> dict[str, object]:
    """The next message of a kind; others are passed over."""
    while True:
        message = json.loads(socket.recv(timeout=SOON))
        if message["type"] == kind:
            return dict(message)
