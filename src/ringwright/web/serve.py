# SPDX-License-Identifier: BSD-3-Clause
"""Serve a workspace's pages until told to stop."""

import os
import signal
import socket
import ssl
import sys
import tempfile
import threading
import webbrowser
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import segno
import uvicorn
from fastapi import FastAPI

from ringwright.antenna.scenario import RUCKSACK_BRAID, TERRACE_OCTAGON, shipped_text
from ringwright.desk.design_folder import DESIGNS
from ringwright.desk.desk import Desk
from ringwright.errors import ServerError
from ringwright.tuner.links.address import Access
from ringwright.web.address import address_of, admission_for, listen
from ringwright.web.app import create_app

LARGEST_MESSAGE = 3_200_000
"""Bytes of one socket message: a design file's greatest text, written in JSON."""
MOST_CONNECTIONS = 200
LAST_WORDS = 3
"""Seconds that open requests get when the server stops."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Certificate:
    """For https: the certificate's and its key's file."""

    cert: Path
    key: Path


def serve(
    folder: Path,
    *,
    host: str = "127.0.0.1",
    port: int = 0,
    certificate: Certificate | None = None,
    opens_browser: bool = True,
    access: Access | None = None,
) -> None:
    """Serve the pages of `folder` at `host` until SIGINT or SIGTERM; `port` 0 takes any that is free.

    `access`: where the real drive is, which the page Tune then offers to connect. One line, the address, goes to
    standard output when the server is ready, and a browser opens where there is a display. Whoever may come from
    another machine needs the token in that address; a terminal then shows it as a QR code, too.

    Raises
    ------
    WorkspaceError
        If the folder is none.
    ServerError
        If address, port or certificate cannot be used.
    """
    desk = Desk(folder)
    desk.drive.access = access
    if certificate is not None:
        _check(certificate)
    listener = listen(host, port)
    with listener:
        port = listener.getsockname()[1]
        admission = admission_for(host, port)
        config = _config(create_app(desk, admission), certificate)
        address = address_of(host, port, admission, is_secure=certificate is not None)

        def ready() -> None:
            sys.stdout.write(f"{address}\n")
            sys.stdout.flush()
            if admission.token is not None:
                _show_code(address)
            if opens_browser and has_display():
                threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()

        with _signals_end_quietly():
            _Server(config, ready).run(sockets=[listener])


def serve_demo(*, port: int = 0) -> None:
    """Serve the two rings of the scenario from a folder that is gone afterwards."""
    with tempfile.TemporaryDirectory(prefix="ringwright-demo-", ignore_cleanup_errors=True) as scratch:
        designs = Path(scratch) / DESIGNS
        designs.mkdir()
        for name in (RUCKSACK_BRAID, TERRACE_OCTAGON):  # the page opens with the last
            (designs / name).write_text(shipped_text(name), encoding="utf-8", newline="\n")
        serve(Path(scratch), port=port)


def has_display() -> bool:
    """Whether a browser opened here would be seen by the person who typed the command."""
    if "SSH_CONNECTION" in os.environ:
        return False
    if sys.platform in {"win32", "darwin"}:
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


class _Server(uvicorn.Server):
    """Says when it is ready."""

    def __init__(self, config: uvicorn.Config, ready: Callable[[], None]) -> None:
        super().__init__(config)
        self._ready = ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if self.started:
            self._ready()


def _config(app: FastAPI, certificate: Certificate | None) -> uvicorn.Config:
    return uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,  # it would write the token down
        proxy_headers=False,  # anyone on this machine could pose as the proxy
        server_header=False,
        ws_max_size=LARGEST_MESSAGE,
        ws_per_message_deflate=False,  # costs more time than the bytes it saves, on a machine's own network
        limit_concurrency=MOST_CONNECTIONS,
        timeout_graceful_shutdown=LAST_WORDS,
        ssl_certfile=certificate.cert if certificate else None,
        ssl_keyfile=certificate.key if certificate else None,
    )


def _check(certificate: Certificate) -> None:
    try:
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(certificate.cert, certificate.key)
    except OSError as exc:  # ssl.SSLError is one
        raise ServerError(
            f"{certificate.cert} and {certificate.key} are no certificate and its key ({exc.strerror or exc}); "
            "docs/how-to/phone.md says how to make them"
        ) from exc


def _show_code(address: str) -> None:
    """The address as a QR code for a phone, where there is a terminal to show it."""
    if sys.stderr.isatty():
        has_half_blocks = (sys.stderr.encoding or "").lower().replace("-", "") == "utf8"
        segno.make_qr(address, error="l").terminal(out=sys.stderr, compact=has_half_blocks)


@contextmanager
def _signals_end_quietly() -> Iterator[None]:
    """Once the server has stopped, it sends itself the signal that stopped it; that has been answered then."""
    numbers = (signal.SIGINT, signal.SIGTERM)
    before = {number: signal.signal(number, lambda *_: None) for number in numbers}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
